"""What can be changed, what it would buy, and how sure that is.

A *lever* is one change of the plan by a step that the caster can make; a *change* is
one lever or up to three together, poured with the same draws as the plan as it stands.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from pourcast import units as si
from pourcast.change.family import BY_LUCK
from pourcast.pour.model import Cause
from pourcast.sheet.edit import Edit
from pourcast.sheet.model import Plan

LeverKind = Literal[
    "flask temperature", "pour temperature", "vacuum", "pump", "seal", "head", "gate", "metal",
    "alloy", "mix", "coat", "vent", "feeder", "join", "flask", "assist", "tilt",
    "burnout", "cover", "hold", "ramp", "top", "curve", "air", "two", "split", "specimen",
]  # fmt: skip
"""What is moved; two levers of one kind on one part do not go together."""

Counted = Literal["one", "any", "both"]
"""Of a lever with two plans: only the first; one of the two must come out whole; both must."""


NO_WORK = "no more work"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a change asks of the caster.

    Parameters
    ----------
    time : float [s]
        Of work at the bench, at the kiln or at the pump; waiting is told in ``words``.
    metal : float [kg]
        More to melt; negative: less.
    words : str
        The cost as the end of a sentence: "nine wax wires and their stubs to clean".
    risk : str
        What may go wrong by it; "" where nothing is known.
    detail : str
        What of the surface is lost; "" where nothing is.
    """

    time: si.Second = 0.0
    metal: si.Kilogram = 0.0
    words: str = ""
    risk: str = ""
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One change of the plan by a step that the caster can make.

    Parameters
    ----------
    kind : str
    moved : str
        What is moved, in the caster's words: "flask at the pour".
    act : str
        What to do, as the start of a sentence: "Flask 50 °C hotter".
    before, after : str
        Numbers or words as the caster writes them.
    unit : str
        Of both; "" where there is none.
    edits : tuple of Edit
        That make it in the piece file; empty where it needs another file.
    plan : Plan
        After the change.
    cost : Cost
    part : str or None
        That it is made on.
    second : Plan or None
        Poured beside ``plan``: a second specimen, or what is cast apart.
    counted : {"one", "any", "both"}
    plainly : bool
        What it moves stands out of what is usual by more than a step, and it brings it back.
    """

    kind: LeverKind
    moved: str
    act: str
    before: str
    after: str
    unit: str
    edits: tuple[Edit, ...]
    plan: Plan
    cost: Cost
    part: str | None = None
    second: Plan | None = None
    counted: Counted = "one"
    plainly: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMove:
    """How the chance of one part moves.

    Parameters
    ----------
    name : str
    before, after : float [-]
        That every member fills.
    standard_error : float [-]
        Of the difference, from the same draws.
    """

    name: str
    before: si.Ratio
    after: si.Ratio
    standard_error: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What one lever, or up to three together, would buy.

    Parameters
    ----------
    levers : tuple of Lever
    chance_before, chance_after : float [-]
        Of the whole piece: of the plan as it stands over all draws, and that moved by the gain.
    gain : float [-]
        Over the same ``draws`` of both.
    standard_error : float [-]
        Of the gain, from the draws taken in pairs.
    draws : int
        Over which it is worked out; fewer than those of the ranking while it grows.
    parts : tuple of PartMove
        Those that move, the most first.
    causes : dict of str to float [-]
        Share of the pours in which a member is short for each cause, after the change.
    mends : tuple of str
        What stood as STOP in the plan and does not any more.
    reveals : tuple of str
        STOP of freezing or finishing that could not be seen before, because the piece as it
        stands mostly does not fill.
    eases : tuple of str
        What stood as WATCH of the burnout and does not any more.
    rights : tuple of str
        What of mould or melt was plainly out of the usual and is not any more.
    by_luck : float or None [-]
        Chance that luck alone makes so great a difference on any row of the table
        (`pourcast.change.family`); None: it stands alone.
    place : int or None
        In the table, from 1; rows that cannot be told apart share it.  None: it has none.
    """

    levers: tuple[Lever, ...]
    chance_before: si.Ratio
    chance_after: si.Ratio
    gain: si.Ratio
    standard_error: si.Ratio
    draws: int
    parts: tuple[PartMove, ...] = ()
    causes: Mapping[Cause, si.Ratio] = field(default_factory=dict)
    mends: tuple[str, ...] = ()
    reveals: tuple[str, ...] = ()
    eases: tuple[str, ...] = ()
    rights: tuple[str, ...] = ()
    by_luck: si.Ratio | None = None
    place: int | None = None

    @property
    def beyond_noise(self) -> bool:
        """Whether the gain, or the loss, is beyond what luck makes on any row of its table.

        By itself: whether it is more than twice its standard error.
        """
        if self.by_luck is None:
            return abs(self.gain) > NOISE * self.standard_error
        return self.by_luck <= BY_LUCK

    @property
    def harms(self) -> bool:
        """Whether it takes chance away beyond the noise."""
        return self.beyond_noise and self.gain < 0.0

    @property
    def cures(self) -> bool:
        """Whether it takes a STOP away, and no chance with it unless the plan is plainly wrong."""
        return bool(self.mends) and (self.plainly or not self.harms)

    @property
    def plainly(self) -> bool:
        """Whether it brings back something that stands plainly out of what is usual."""
        return any(lever.plainly for lever in self.levers)

    @property
    def puts_right(self) -> bool:
        """Whether it brings back what a finding tells as plainly out of the usual."""
        return bool(self.rights)

    @property
    def cost(self) -> Cost:
        """What all its levers ask together."""
        costs = [lever.cost for lever in self.levers]
        words = [said for cost in costs for said in cost.words.split("; ") if said]
        if len(costs) > 1:
            words = [said for said in words if said != NO_WORK] or words[:1]
        return Cost(
            time=sum(cost.time for cost in costs),
            metal=sum(cost.metal for cost in costs),
            words="; ".join(words),
            risk=" ".join(cost.risk for cost in costs if cost.risk),
            detail=" ".join(cost.detail for cost in costs if cost.detail),
        )


NOISE = 2.0
"""Standard errors from which on one difference by itself counts: about 1 in 20 by luck alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A lever that is not offered.

    Parameters
    ----------
    lever : Lever
    reason : str
        The finding that it would make, or why it cannot be poured.
    """

    lever: Lever
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialPour:
    """What a trial pour of a lesser specimen would teach.

    Parameters
    ----------
    specimen : str
    chance_trial : float [-]
        That the trial itself comes out whole.
    without : float [-]
        Chance of the whole piece with the best change of all, without a trial.
    with_trial : float [-]
        The same if the change is chosen after the trial has been broken out.
    standard_error : float [-]
        Of the difference of the two.
    spread_taken : float [-]
        Share of the spread of the outcome that the trial takes away; 0: it teaches nothing.
    draws : int
    """

    specimen: str
    chance_trial: si.Ratio
    without: si.Ratio
    with_trial: si.Ratio
    standard_error: si.Ratio
    spread_taken: si.Ratio
    draws: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranking:
    """Changes of one plan, the best first.

    Parameters
    ----------
    plan : Plan
    chance : float [-]
        Of the plan as it stands.
    changes : tuple of Change
        One lever each.
    combinations : tuple of Change
        The best of two and the best of three levers, where they buy more than the best
        of fewer, beyond the noise.
    refused : tuple of Refused
    draws, seed : int
    complete : bool
        False while draws are still being poured.
    looked_at : int
        Combinations that were poured.
    trials : tuple of TrialPour
        One for each specimen at hand, that which is worth most first.
    stops : tuple of str
        What stops the plan as it stands.
    """

    plan: Plan
    chance: si.Ratio
    changes: tuple[Change, ...]
    combinations: tuple[Change, ...] = ()
    refused: tuple[Refused, ...] = ()
    draws: int
    seed: int
    complete: bool = False
    looked_at: int = 0
    trials: tuple[TrialPour, ...] = ()
    stops: tuple[str, ...] = ()
