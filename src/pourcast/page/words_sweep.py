"""A sweep in words: the answer in one line, what stops one where, and the table's heads.

Terminal, picture and table share these.  A chance is told in 100 pours.
"""

import math
from collections.abc import Sequence

from pourcast import units as si
from pourcast.change.keys import PART, SECTIONS, STEP, VENT
from pourcast.findings import in_100_draws
from pourcast.page.figures import clean, number
from pourcast.page.names import CAUSES
from pourcast.sweep.limits import Limit
from pourcast.sweep.model import Axis, Ending, Row, Sweep, Swept

ENDINGS: dict[Ending, str] = {
    "whole": "whole",
    "short_tips": "short tips",
    "short_parts": "parts short",
    "lost": "lost",
}

NO_VACUUM = "no vacuum"

HELPLESS = 0.05
"""Chance up to which nothing has helped."""

_SIDES = {"from": "from", "to": "up to", "at": "at"}
_NOISE = 2.0  # standard errors of a difference that may be luck


def axis_words(axis: Axis) -> str:
    """Return what a swept key is called."""
    head, last = axis.path[0], str(axis.path[-1])
    if head == "part":
        key = PART.get(last)
        words = key.words if key else last.rpartition("_")[0].replace("_", " ")
        return f"“{clean(str(axis.path[1]))}”: {words}"
    if head == "vent":
        return f"vent {int(axis.path[1]) + 1}: {VENT[last].words}"
    if len(axis.path) == 4:
        return f"step {int(axis.path[2]) + 1}: {STEP[last].words}"
    return SECTIONS[str(head)][last].words


def value_words(axis: Axis, value: Swept) -> str:
    """Return a value with its unit: "650 °C"."""
    if isinstance(value, str):
        return clean(value)
    if axis.path == ("assist", "vacuum_kPa") and value == 0:
        return NO_VACUUM
    joint = "" if axis.unit in ("", "°") else " "
    return f"{number(float(value), 6)}{joint}{axis.unit}"


def place_words(axes: Sequence[Axis], values: Sequence[Swept]) -> str:
    """Return where a cell lies: "vacuum 85 kPa, flask at the pour 650 °C"."""
    return ", ".join(_side(axis, "", value) for axis, value in zip(axes, values, strict=True))


def count(chance: si.Ratio | None) -> str:
    """Return a chance in 100; some hundred pours make no certainty."""
    return "–" if chance is None else in_100_draws(chance)


def best_of(rows: Sequence[Row]) -> Row | None:
    """Return the cell with the greatest chance, of those that nothing stops if there are any."""
    known = [row for row in rows if row.chance is not None]
    free = [row for row in known if not row.stops] or known
    return max(free, key=lambda row: (row.chance or 0.0, -row.cell), default=None)


def answer(sweep: Sweep, rows: Sequence[Row]) -> str:
    """Return the answer in one line.

    "Best: vacuum 85 kPa, flask at the pour 650 °C: 78 of 100 come out whole; vacuum up to
    30 kPa: nothing helps."
    """
    best = best_of(rows)
    if best is None or best.chance is None:
        return "None of these can be worked with; each row says why."
    if best.chance <= HELPLESS:
        return f"Nothing helps: nowhere more than {count(best.chance)} of 100 come out whole."
    said = [
        f"Best: {place_words(sweep.axes, best.values)}: {count(best.chance)} of 100 come out whole"
    ]
    if best.stops:
        said.append("but something stops you there too")
    said += _alike(sweep, rows, best)
    helpless = _helpless(sweep.axes, rows)
    said += helpless or _worst(sweep.axes, rows, best)
    return "; ".join(said) + "."


def _alike(sweep: Sweep, rows: Sequence[Row], best: Row) -> list[str]:
    top = best.chance or 0.0
    error = _NOISE * math.sqrt(2.0 * max(top * (1.0 - top), 1.0 / sweep.draws) / sweep.draws)
    near = sum(
        row.chance is not None and row.chance >= top - error and not row.stops for row in rows
    ) - (not best.stops)
    if near <= 0:
        return []
    return [f"{near} other{'' if near == 1 else 's'} within the noise of it"]


def _helpless(axes: Sequence[Axis], rows: Sequence[Row]) -> list[str]:
    """Return up to or from which value nothing helps, whatever the other keys say."""
    said = []
    for place, axis in enumerate(axes):
        if not axis.is_number or axis.count < 2:
            continue
        most: dict[float, float] = {}
        for row in rows:
            value = float(row.values[place])
            most[value] = max(most.get(value, 0.0), row.chance or 0.0)
        values = sorted(most)
        for ordered, word in ((values, "up to"), (values[::-1], "from")):
            end = None
            for value in ordered:
                if most[value] > HELPLESS:
                    break
                end = value
            if end is not None and end != ordered[-1]:
                said.append(f"{_side(axis, word, end)}: nothing helps")
    return said


def _side(axis: Axis, word: str, value: Swept) -> str:
    shown = value_words(axis, value)
    if shown == NO_VACUUM:
        return shown
    return " ".join(filter(None, (axis_words(axis), word, shown)))


def _worst(axes: Sequence[Axis], rows: Sequence[Row], best: Row) -> list[str]:
    known = [row for row in rows if row.chance is not None]
    worst = min(known, key=lambda row: (row.chance or 0.0, row.cell))
    if worst.chance == best.chance:
        return ["no cell differs"] if len(known) > 1 else []
    return [f"worst: {place_words(axes, worst.values)}: {count(worst.chance)}"]


def limit_words(limit: Limit, cells: int) -> str:
    """Return where something stops one: "flask at the pour from 700 °C: the flask is as hot …"."""
    text = clean(limit.text)
    if len(limit.cells) == cells:
        return f"Everywhere: {text}"
    if limit.axis is None or limit.value is None:
        return f"In {len(limit.cells)} of {cells} cells: {text}"
    where = _side(limit.axis, _SIDES[limit.side or "at"], limit.value)
    return f"{where[:1].upper()}{where[1:]}: {text}"


def ending_words(row: Row) -> str:
    """Return the commonest end of a pour, and what fails first: "whole; spine: trapped gas"."""
    if row.ending is None:
        return clean(row.fault)
    said = ENDINGS[row.ending]
    if not row.part:
        return said
    why = f": {CAUSES[row.cause]}" if row.cause else ""
    return f"{said}; {clean(row.part)}{why}"


def not_worked_out(rows: Sequence[Row]) -> str:
    """Return how many cells cannot be worked with, and why the first cannot; "": all can."""
    faulty = [row for row in rows if row.chance is None]
    if not faulty:
        return ""
    return f"{len(faulty)} of {len(rows)} cannot be worked with, such as: {clean(faulty[0].fault)}"


def rests_on(sweep: Sweep) -> str:
    """Return what the numbers of a sweep rest on, and what they do not say."""
    return (
        f"{sweep.draws} pours for each, with the same draws, seed {sweep.seed}. A difference of a "
        "few in 100 may be luck. Whole means full: hollows, cracks and what breaks in cleaning "
        "are not in the chance, and no number here says that an act is without danger."
    )
