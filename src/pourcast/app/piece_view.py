"""Piece view: what the page of a piece shows, with what it was before the knobs were turned."""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar

from markupsafe import Markup

from pourcast import __version__
from pourcast.app.clocks import Hand, hands, run_sheet
from pourcast.app.forecasts import Pair
from pourcast.app.knob import Knob
from pourcast.app.knob_ruler import ruler
from pourcast.app.knobs import knobs
from pourcast.app.look import Look
from pourcast.app.moved import was_figure, with_was
from pourcast.app.moved_knobs import what_moved
from pourcast.app.trials import Trial
from pourcast.app.words import say
from pourcast.errors import PourcastError
from pourcast.findings import in_100_draws
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import DRAWS
from pourcast.page import cautions, findings, svg_pictures, words
from pourcast.page.figures import clean, hundred, millimetres, seconds, with_unit
from pourcast.page.names import LEVELS, STAGES
from pourcast.page.render import LONGEST_WORD, MOST_UNKNOWNS, basis
from pourcast.page.rows import Row, day_rows
from pourcast.page.svg_plate import legend, plate
from pourcast.page.svg_tally import tally
from pourcast.page.words_rests import rests_on

Made = TypeVar("Made")

_MOST_DRAWN = 24  # forecasts whose pictures are kept in memory
_MOST_WATCHED = 2  # findings of a row in sight, stops apart; the others stand under a line
_MINUTE = 60.0


class Drawn:
    """Pictures and rows of forecasts, drawn once."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[int, str], tuple[Forecast, object]] = OrderedDict()

    def of(self, forecast: Forecast, what: str, draw: Callable[[Forecast], Made]) -> Made:
        """Return what is drawn of a forecast, from memory where it was drawn before."""
        key = (id(forecast), what)
        kept = self._kept.get(key)
        if kept is None or kept[0] is not forecast:
            kept = (forecast, draw(forecast))
            self._kept[key] = kept
            while len(self._kept) > 2 * _MOST_DRAWN:
                self._kept.popitem(last=False)
        return kept[1]  # type: ignore[return-value]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One knob of the page, with its value in the kept plan.

    Parameters
    ----------
    knob : Knob
    was : Knob or None
        None: the same, or the kept plan has no such knob.
    ruler : Markup
    fault : str
        Why what was typed was not taken, or "".
    typed : str or None
        What was typed and not taken.
    """

    knob: Knob
    was: Knob | None
    ruler: Markup
    fault: str = ""
    typed: str | None = None

    @property
    def field(self) -> str:
        """Name of the field in the page."""
        return "k-" + self.knob.id.replace(".", "-")

    @property
    def was_said(self) -> Markup:
        """What it was, to stand behind the label."""
        if self.was is None:
            return Markup("")
        shown = self.was.shown
        return was_figure(" ", say(f"piece.word.{shown}") if self.knob.choices else shown or "–")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One row of the day.

    Parameters
    ----------
    row : Row
    answer : Markup
    notes : tuple of Markup
    hand : Hand or None
    knobs, folded : tuple of Shown
        In sight, and under a line to be opened.
    in_sight, out_of_sight : tuple of Alike
        What to stop or to watch for, the same.
    """

    row: Row
    answer: Markup
    notes: tuple[Markup, ...]
    hand: Hand | None
    knobs: tuple[Shown, ...]
    folded: tuple[Shown, ...]
    in_sight: tuple[findings.Alike, ...]
    out_of_sight: tuple[findings.Alike, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A knob that was turned to something that cannot be."""

    knob: str
    typed: str
    said: str


def piece_view(
    pair: Pair,
    drawn: Drawn,
    *,
    look: Look,
    start: datetime,
    trial: Trial | None,
    fault: Fault | None = None,
) -> dict[str, Any]:
    """Return the values of the page of a piece."""
    now, was = pair.now, pair.was
    shown = _knobs(now, was, look, fault)
    known = rests_on(now)
    return {
        "forecast": now,
        "was": was,
        "refined": pair.refined,
        "all_draws": DRAWS,
        "piece_name": clean(now.plan.piece.name) or say("piece.unnamed"),
        "headline": words.headline(now),
        "said": with_was(_said(now), _said(was)),
        "counts": _counts(now, was),
        "tally": tally(hundred(now.outcomes)),
        "before": tally(hundred(was.outcomes)) if trial else "",
        "before_said": _before(was),
        "moved": what_moved(now, was, look, trial),
        "parts": _parts(now, was),
        "plate": drawn.of(now, "plate", plate),
        "legend": legend(),
        "stages": _stages(pair, drawn, start, shown),
        "words": words,
        "findings": findings,
        "basis": basis,
        "levels": LEVELS,
        "stage_names": STAGES,
        "rests": known[:MOST_UNKNOWNS],
        "known": known,
        "bar": svg_pictures.strength,
        "last_word": cautions.LAST_WORD,
        "quiet": cautions.named("quiet_rule"),
        "alloy": words.alloy_name(now),
        "version": __version__,
        "start": start.strftime("%Y-%m-%dT%H:%M"),
    }


def _said(forecast: Forecast) -> str:
    told = (words.spread(forecast), words.what_stops_it(forecast), words.unproved(forecast))
    return " ".join(sentence for sentence in told if sentence)


def _counts(now: Forecast, was: Forecast) -> list[tuple[str, str, Markup]]:
    pairs = zip(words.outcome_counts(now), words.outcome_counts(was), strict=True)
    return [(count, word, was_figure(count, old)) for (count, word), (old, _) in pairs]


def _before(was: Forecast) -> str:
    counts = ", ".join(f"{count} {word}" for count, word in words.outcome_counts(was))
    return say("piece.before", counts=counts)


def _parts(now: Forecast, was: Forecast) -> list[dict[str, Any]]:
    old = {part.name: part for part in was.parts}
    solid, old_solid = _solid(now), _solid(was)
    made = []
    for part in now.parts:
        before = old.get(part.name, part)
        weakest, weakest_was = (in_100_draws(each.chance_weakest) for each in (part, before))
        every, every_was = (in_100_draws(each.chance_full) for each in (part, before))
        stops, stopped = words.what_stops(now, part), words.what_stops(was, before)
        late = solid.get(part.name, "–")
        thin = millimetres(part.thinnest).removesuffix("\u00a0mm")
        was_thin = millimetres(before.thinnest).removesuffix("\u00a0mm")
        made.append(
            {
                "name": clean(part.name),
                "long": any(len(word) > LONGEST_WORD for word in part.name.split()),
                "count": part.count,
                "thin": thin,
                "thin_was": was_figure(thin, was_thin),
                "weakest": weakest,
                "weakest_was": was_figure(weakest, weakest_was),
                "every": every,
                "every_was": was_figure(every, every_was),
                "solid": late,
                "solid_was": was_figure(late, old_solid.get(part.name, late)),
                "stops": stops,
                "stops_was": was_figure(stops, stopped),
                "is_short": bool(part.cause) or words.is_watched(now, part),
            }
        )
    return made


def _solid(forecast: Forecast) -> dict[str, str]:
    if forecast.freeze is None:
        return {}
    return {
        part.name: "–" if part.solid is None else _short_time(part.solid.p50)
        for part in forecast.freeze.parts
    }


def _short_time(time: float) -> str:
    return seconds(time) if time < _MINUTE else with_unit(time / _MINUTE, "min", 2)


def _knobs(now: Forecast, was: Forecast, look: Look, fault: Fault | None) -> list[Shown]:
    old = {knob.id: knob for knob in (knobs(was, look) if was is not now else ())}
    made = []
    for knob in knobs(now, look):
        before = old.get(knob.id)
        moved = before if before is not None and before.shown != knob.shown else None
        wrong = fault if fault is not None and fault.knob == knob.id else None
        made.append(
            Shown(
                knob=knob,
                was=moved,
                ruler=ruler(knob, moved),
                fault=wrong.said if wrong else "",
                typed=wrong.typed if wrong else None,
            )
        )
    return made


def _stages(pair: Pair, drawn: Drawn, start: datetime, shown: list[Shown]) -> list[Stage]:
    rows = drawn.of(pair.now, "rows", day_rows)
    before = {row.key: row for row in drawn.of(pair.was, "rows", day_rows)}
    try:
        placed = hands(run_sheet(pair.now, start), [row.key for row in rows])
    except PourcastError:
        # A plan without a curve, or one that cannot be put on a clock, still has its rows.
        placed = {}
    made = []
    for row in rows:
        old = before.get(row.key, row)
        own = [each for each in shown if each.knob.row == row.key]
        stops = [each for each in row.warnings if each.finding.level == "STOP"]
        others = [each for each in row.warnings if each.finding.level != "STOP"]
        room = max(_MOST_WATCHED - len(stops), 0)
        notes = [note for note in row.notes if note]
        old_notes = [note for note in old.notes if note]
        if len(old_notes) != len(notes):
            old_notes = notes
        made.append(
            Stage(
                row=row,
                answer=with_was(row.answer, old.answer),
                notes=tuple(with_was(n, o) for n, o in zip(notes, old_notes, strict=True)),
                hand=placed.get(row.key),
                knobs=tuple(each for each in own if not each.knob.folded),
                folded=tuple(each for each in own if each.knob.folded),
                in_sight=(*stops, *others[:room]),
                out_of_sight=tuple(others[room:]),
            )
        )
    return made
