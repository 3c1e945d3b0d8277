"""The book on a terminal: lists, one piece, one outcome, the stock, costs and scores.

Names and notes come from people and files; they are cleaned of signs that would
steer the terminal before they stand here.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from pourcast.book.history import History, trials_of
from pourcast.book.holdings import FlaskOnShelf, Lot, Settings
from pourcast.book.model import KeptPlan, Note, Outcome, Photograph, PieceLine, Pour
from pourcast.book.outcomes import came
from pourcast.book.scores import Scores, brier, logarithmic
from pourcast.book.stock import grams
from pourcast.book.tell import in_words
from pourcast.book.who import worth_saying
from pourcast.findings import Finding, in_100_draws
from pourcast.page.figures import clean, in_100

SHORT_ID = 6
"""Signs of an id that are shown; as many are enough to type."""

_CAME = {
    None: "",
    "whole": "whole",
    "short": "short",
    "missing": "a part missing",
    "not seen": "not all seen",
}


def as_json(tree: Any) -> str:
    """Return records as JSON; money and times are texts."""
    return json.dumps(tree, default=_plain, ensure_ascii=True, indent=1, allow_nan=False) + "\n"


def piece_lines(pieces: Sequence[PieceLine], *, page: int, pages: int) -> list[str]:
    """Return one page of the list of pieces."""
    if not pieces:
        return ["There is no piece in the book yet. Keep a plan with: pourcast book keep FILE"]
    rows = [("id", "kept", "chance", "poured", "came out", "name")]
    rows += [
        (
            piece.id[:SHORT_ID],
            piece.kept.date().isoformat(),
            chance(piece.chance_whole),
            _poured(piece),
            _CAME[piece.came],
            clean(piece.name),
        )
        for piece in pieces
    ]
    said = columns(rows)
    said.append(f"Chance: whole in 100 pours. Page {page} of {pages}.")
    return said


def _poured(piece: PieceLine) -> str:
    """Return the day of the pour, and that of a kiln day that has none yet."""
    said = [piece.poured.isoformat()] if piece.poured else []
    return ", ".join([*said, *([f"in kiln {piece.begun.isoformat()}"] if piece.begun else [])])


def plan_lines(plan: KeptPlan) -> list[str]:
    """Return what a kept plan said."""
    rows = [("part", "members", "full in 100 pours")]
    rows += [(clean(part.name), str(part.count), chance(part.chance_full)) for part in plan.parts]
    kept = f"kept {_when(plan.created)}{_by(plan.who)}"
    return [
        f"{clean(plan.piece_name)}, plan {plan.id[:SHORT_ID]}, {kept}",
        f"In 100 pours {chance(plan.chance_whole)} come out whole "
        f"({plan.draws} pours followed, seed {plan.seed}, pourcast {clean(plan.version)}).",
        *columns(rows),
    ]


def outcome_lines(plan: KeptPlan, revisions: Sequence[Outcome]) -> list[str]:
    """Return what the forecast said beside what came, and the scores of this pour."""
    latest = revisions[-1]
    chances = {part.name: part for part in plan.parts}
    rows = [("part", "forecast", "came out")]
    for told in latest.parts:
        part = chances[told.part]
        rows.append((clean(told.part), chance(part.chance_full), clean(in_words(told, part.count))))
    said = [*columns(rows), f"Forecast: full in 100 pours. Whole piece: {_whole(plan, latest)}"]
    if latest.button:
        said.append(f"Button: {latest.button}.")
    if latest.note:
        said.append(f"Note: {clean(latest.note)}")
    if worth_saying(latest.who):
        said.append(f"Entered{_by(latest.who)}.")
    if latest.revision > 1:
        said.append(f"Entered {latest.revision} times; the earlier entries are kept.")
    trials = trials_of(plan, revisions)
    if trials:
        said.append(
            f"Brier score of this pour {brier(trials):.3f}, logarithmic {logarithmic(trials):.3f} "
            f"over {len(trials)} parts; 0 is best, saying 50 in 100 each time gets 0.250 and 0.693."
        )
    elif plan.created >= revisions[0].created:
        said.append("The plan was kept after the outcome was entered, so it is not scored.")
    else:
        said.append("Not scored: no part was seen, or the plan was kept after the break-out.")
    return said


def pour_lines(pour: Pour) -> list[str]:
    """Return the heading of a pour: its day, and that of its kiln where it is another."""
    named = f"pour {pour.id[:SHORT_ID]}{_by(pour.who)}"
    if pour.stage == "in kiln":
        return [f"In the kiln since {pour.lit}, no pour told, {named}"]
    if pour.stage == "by mistake":
        return [f"Kiln day of {pour.lit}, begun by mistake: it counts for nothing, {named}"]
    lit = f", kiln lit {pour.lit}" if pour.lit not in (None, pour.day) else ""
    said = [f"Poured {pour.day}{lit}, {named}"]
    if pour.days_entered > 1:
        said.append(f"Its day was entered {pour.days_entered} times; the earlier ones are kept.")
    return said


def note_lines(notes: Iterable[Note], photographs: Iterable[Photograph]) -> list[str]:
    """Return the notes and photographs of a piece."""
    said = [f"Note of {_when(note.created)}{_by(note.who)}: {clean(note.text)}" for note in notes]
    said += [
        f"Photograph of {_when(kept.created)}: {clean(kept.original_name)}, "
        f"{kept.kind}, {kept.size_bytes / 1e6:.1f} MB"
        for kept in photographs
    ]
    return said


def _by(who: str) -> str:
    """Return whose hand an entry is from, where several may write."""
    return f" by {clean(who)}" if worth_saying(who) else ""


def stock_lines(
    lots: Sequence[Lot],
    flasks: Sequence[FlaskOnShelf],
    settings: Settings,
    found: Sequence[Finding],
) -> list[str]:
    """Return what is left of each lot, the flasks, and what to watch."""
    said = []
    if lots:
        rows = [("lot", "kind", "left g", "bought g", f"price {settings.currency}", "name")]
        rows += [
            (
                lot.id[:SHORT_ID],
                lot.kind,
                grams(lot.balance_mg),
                grams(lot.bought_mg),
                f"{lot.price:f}",
                clean(lot.name) + (f", melted {lot.remelts} times before" if lot.remelts else ""),
            )
            for lot in lots
        ]
        said += columns(rows)
    else:
        said.append("There is no lot in the book yet. Enter one with: pourcast book buy")
    if flasks:
        said += columns(
            [
                ("flask", "inside mm", "high mm", "wall", "count"),
                *(
                    (
                        clean(flask.name),
                        f"{flask.inside_diameter_mm:g}",
                        f"{flask.height_mm:g}",
                        flask.wall,
                        str(flask.count),
                    )
                    for flask in flasks
                ),
            ]
        )
    return said + [f"{finding.level}: {clean(finding.text)}" for finding in found]


def score_lines(kept: History, parts: Scores | None, wholes: Scores | None) -> list[str]:
    """Return how well past chances matched what happened."""
    if parts is None:
        return ["No forecast can be held against an outcome yet. Enter one with: pourcast outcome"]
    said = [
        f"{parts.forecasts} parts, forecast before the outcome was known.",
        f"Brier score {parts.brier:.3f}, logarithmic {parts.logarithmic:.3f}; 0 is best, saying "
        "50 in 100 each time gets 0.250 and 0.693.",
        _skill(parts),
    ]
    rows = [("forecast in 100", "parts", "mean", "came full", "80 % of the time between")]
    rows += [
        (
            f"{100 * each.low:g} to {100 * each.high:g}",
            str(each.forecasts),
            in_100_draws(each.mean_chance),
            in_100(each.share_came),
            f"{in_100(each.share_low)} and {in_100(each.share_high)}",
        )
        for each in parts.classes
    ]
    said += columns(rows)
    if wholes is not None:
        said.append(
            f"Whole pieces: {wholes.forecasts} pour{'s' * (wholes.forecasts != 1)}, "
            f"Brier score {wholes.brier:.3f}, {in_100(wholes.base_rate)} of 100 came out whole."
        )
    if kept.too_late:
        said.append(
            f"{kept.too_late} more were kept after the outcome was known; they do not count."
        )
    said.append(
        "Parts of one pour share its metal and its flask, so the spread is wider than it says."
    )
    return said


def chance(share: float) -> str:
    """Return a forecast chance in 100; some hundred pours without a miss are no certainty.

    Examples
    --------
    >>> chance(1.0), chance(0.0), chance(0.62)
    ('over 99', 'under 1', '62')
    """
    if share in (0.0, 1.0):
        return "over 99" if share else "under 1"
    return in_100(share)


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Return rows with their columns under each other; the last column runs on."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _whole(plan: KeptPlan, outcome: Outcome) -> str:
    ends = {
        "whole": "it came out whole",
        "short": "it came out short",
        "missing": "a part is missing",
        "not seen": "not all of it was seen",
    }
    return f"{chance(plan.chance_whole)} in 100 pours; {ends[came(outcome.parts)]}."


def _skill(scores: Scores) -> str:
    base = in_100(scores.base_rate)
    if scores.skill is None:
        return f"{base} of 100 came full, so there is nothing to tell apart yet."
    return (
        f"{base} of 100 came full. Skill against saying so each time: {scores.skill:.2f} "
        "(1 is best, below 0 the forecast is worse than that)."
    )


def _when(moment: datetime) -> str:
    return moment.astimezone().strftime("%Y-%m-%d %H:%M")


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, date | datetime):
        return value.isoformat()
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(type(value).__name__)
