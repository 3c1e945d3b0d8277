"""First: what to change first, worked out behind a page for as long as it is shown."""

import importlib.util
import math
import threading
import time
from collections import OrderedDict
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from pourcast import units as si
from pourcast.app.behind import Behind, Quiet
from pourcast.app.hand import at_hand
from pourcast.app.knob import Knob
from pourcast.app.memory import plan_of
from pourcast.app.studio import Studio
from pourcast.app.words import say
from pourcast.change.at_hand import AtHand
from pourcast.errors import PourcastError
from pourcast.findings import half_up, in_100_draws
from pourcast.forecast.model import Calibration
from pourcast.page.figures import clean
from pourcast.page.words_change import as_told, beside, mended
from pourcast.sheet import read_plan
from pourcast.sheet.lines import Path
from pourcast.sheet.model import Plan

if TYPE_CHECKING:
    from pourcast.change.model import Change, Ranking
    from pourcast.gating.model import Proposal

MOST_LINES = 6
MOST_PROPOSALS = 6
_MOST_KEPT = 12
_LONGEST_WAIT = 20.0  # s that a ranking stands still for first answers; own choice
_SHOWN_FOR = 12.0  # s after its last look that a page counts as shown; own choice


class Worked(NamedTuple):
    """How far the ranking of a text is.

    Parameters
    ----------
    ranking : Ranking or None
        None: nothing is there yet.
    proposals : tuple of Proposal
    complete : bool
    """

    ranking: "Ranking | None"
    proposals: "tuple[Proposal, ...]"
    complete: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One change, as a line of the page.

    Parameters
    ----------
    gain : str
        Whole pieces more in 100.
    act, cost, after : str
    field : str
        Of the knob that makes it, or "".
    """

    gain: str
    act: str
    cost: str
    after: str
    field: str


def can_rank() -> bool:
    """Return whether the ranking of changes is part of this release."""
    return importlib.util.find_spec("pourcast.change.rank") is not None


def can_propose() -> bool:
    """Return whether changes of the wax can be proposed."""
    return importlib.util.find_spec("pourcast.gating.solve") is not None


_Ground: TypeAlias = tuple[Calibration | None, AtHand]
"""What the studio has learnt of a plan, and what it has at hand for it."""


class FirstChanges:
    """Works out what to change first, one text at a time.

    Parameters
    ----------
    studio : Studio
    quiet : Quiet
        While it is broken, no further change is poured.
    """

    def __init__(self, studio: Studio, quiet: Quiet | None = None) -> None:
        self._studio = studio
        self._quiet = quiet or Quiet()
        self._behind = Behind("first")
        self._lock = threading.Lock()
        self._known: OrderedDict[str, Worked] = OrderedDict()
        self._looked: dict[str, float] = {}
        self._with: dict[str, _Ground | None] = {}
        self._busy: set[str] = set()

    def look(self, text: str) -> Worked:
        """Return how far the ranking of a text is, and have it worked on."""
        ground = self._ground(text)
        with self._lock:
            now = time.monotonic()
            # A page that is shown no more counts as one that was never looked at.
            shown = {kept: at for kept, at in self._looked.items() if now - at < _SHOWN_FOR}
            self._looked = {**shown, text: now}
            if text not in self._busy and self._with.get(text, ground) != ground:
                # What was ranked before the studio learnt or bought something stands no more.
                self._known.pop(text, None)
            known = self._known.get(text, Worked(None, (), False))
            if not known.complete and text not in self._busy:
                self._busy.add(text)
                self._behind.do(lambda: self._work(text))
        return known

    def proposal(self, text: str, name: str) -> "Proposal | None":
        """Return a proposal for a text by its name."""
        known = self._known.get(text)
        return (
            next((each for each in known.proposals if each.name == name), None) if known else None
        )

    def _ground(self, text: str) -> "_Ground | None":
        """Return what a ranking rests on beside its text; None for a text that has faults."""
        try:
            plan = plan_of(text)
        except PourcastError:
            return None
        return self._studio.calibration(plan), at_hand(self._studio.book, plan)

    def _is_shown(self, text: str) -> bool:
        return time.monotonic() - self._looked.get(text, -math.inf) < _SHOWN_FOR

    def _work(self, text: str) -> None:
        try:
            self._quiet.wait(_LONGEST_WAIT)
            ground = self._ground(text)
            with self._lock:
                self._with[text] = ground
            self._note(text, None, self._proposals(text), complete=False)
            if can_rank():
                self._rank(text, ground)
            else:
                self._note(text, None, self._known[text].proposals, complete=True)
        except PourcastError:
            # What cannot be poured has no better neighbour either.
            self._note(text, None, (), complete=True)
        finally:
            with self._lock:
                self._busy.discard(text)

    def _rank(self, text: str, ground: "_Ground | None") -> None:
        from pourcast.change.rank import rankings

        plan = read_plan(text)
        calibration, hand = ground or (None, AtHand())
        proposed = self._known[text].proposals
        for ranking in rankings(plan, calibration, text=text, at_hand=hand, proposals=proposed):
            self._note(text, ranking, proposed, complete=ranking.complete)
            self._quiet.wait(_LONGEST_WAIT)
            # Nobody looks any more: begun again when somebody does.
            if not self._is_shown(text):
                return

    def _proposals(self, text: str) -> "tuple[Proposal, ...]":
        if not can_propose():
            return ()
        from pourcast.gating.solve import proposals

        return proposals(self._studio.forecast(text))

    def _note(
        self,
        text: str,
        ranking: "Ranking | None",
        proposed: "tuple[Proposal, ...]",
        *,
        complete: bool,
    ) -> None:
        with self._lock:
            self._known[text] = Worked(ranking, proposed, complete)
            self._known.move_to_end(text)
            while len(self._known) > _MOST_KEPT:
                gone, _ = self._known.popitem(last=False)
                self._with.pop(gone, None)


def lines(ranking: "Ranking", there: list[Knob]) -> list[Line]:
    """Return the first lines of a ranking as it orders them; what is of harm is left out.

    Parameters
    ----------
    ranking : Ranking
    there : list of Knob
        Of the page; a change that one of them makes leads to it.
    """
    from pourcast.change.places import order

    known = {knob.id for knob in there}
    ranking = as_told(ranking)
    helps = [
        *ranking.combinations,
        *(
            one
            for one in ranking.changes
            if one.gain > 0.0 or one.puts_right or one.cures or one.eases
        ),
    ]
    helps.sort(key=order)
    shown = helps[:MOST_LINES]
    return [
        _line(one, above, ranking.plan, known)
        for one, above in zip(shown, [None, *shown], strict=False)
    ]


def _line(change: "Change", above: "Change | None", plan: Plan, known: set[str]) -> Line:
    acts = "; ".join(lever.act for lever in change.levers)
    after = say(
        "piece.first.line" if change.beyond_noise else "piece.first.line.noise",
        # Some hundred pours without a miss do not make a certainty.
        after=in_100_draws(change.chance_after),
        error=_points(2.0 * change.standard_error) or "1",
    )
    alike = beside(change, above) if change.beyond_noise else ""
    after = "; ".join(filter(None, (after, alike)))
    told = mended(change)
    said = f"{after}. {told}" if change.puts_right and not change.cures else told or after
    # What takes a mere warning away is no "no stop".
    same = say("piece.first.same") if change.cures else ""
    same = say("piece.first.right") if change.puts_right and not same else same
    return Line(
        gain=f"+{_points(change.gain)}" if change.gain > 0.0 else same,
        act=clean(acts),
        cost=clean(change.cost.words),
        after=said,
        field=_field(change, plan, known),
    )


def _points(share: si.Ratio) -> str:
    rounded = half_up(100.0 * share)
    return str(rounded) if rounded else "under 1"


def _field(change: "Change", plan: Plan, known: set[str]) -> str:
    """Return the field of the knob that makes a change of one key; "" if none does."""
    edits = [edit for lever in change.levers for edit in lever.edits]
    if not edits:
        return ""
    name = knob_id(edits[0].path, plan)
    return "k-" + name.replace(".", "-") if name in known else ""


def knob_id(path: Path, plan: Plan) -> str:
    """Return the id of the knob at a path; parts by name or place are found.

    Parameters
    ----------
    path : tuple of str and int
    plan : Plan
    """
    steps = list(path)
    if len(steps) > 1 and steps[0] == "part" and isinstance(steps[1], str):
        names = [part.name for part in plan.piece.parts]
        steps[1] = names.index(steps[1]) if steps[1] in names else steps[1]
    return ".".join(str(step) for step in steps)
