"""Limits: where on a sweep does something begin that must stop the caster?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from pourcast.sweep.model import Axis, Row, Swept


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One thing that stops the caster, and where.

    Parameters
    ----------
    key : str
        What it is about.
    text : str
        As the first cell that has it says it.
    cells : frozenset of int
        That have it.
    axis : Axis or None
        Whose value alone decides it; None: no single one does, or it is everywhere.
    side : str or None
        "from": from ``value`` up; "to": up to ``value``; "at": at that value.
    value : float, int or str or None [unit of the key]
    """

    key: str
    text: str
    cells: frozenset[int]
    axis: Axis | None
    side: Literal["from", "to", "at"] | None
    value: Swept | None


def limits_of(axes: tuple[Axis, ...], rows: Sequence[Row]) -> tuple[Limit, ...]:
    """Return what stops the caster, the most frequent first.

    Parameters
    ----------
    axes : tuple of Axis
    rows : sequence of Row
    """
    texts: dict[str, str] = {}
    cells: dict[str, set[int]] = {}
    known = [row for row in rows if row.chance is not None]
    for row in known:
        for key, text in row.stops:
            texts.setdefault(key, text)
            cells.setdefault(key, set()).add(row.cell)
    found = []
    for key in sorted(cells, key=lambda key: (-len(cells[key]), key)):
        axis, side, value = _edge(axes, known, cells[key])
        found.append(
            Limit(
                key=key,
                text=texts[key],
                cells=frozenset(cells[key]),
                axis=axis,
                side=side,
                value=value,
            )
        )
    return tuple(found)


def _edge(
    axes: tuple[Axis, ...], rows: Iterable[Row], cells: set[int]
) -> tuple[Axis | None, Literal["from", "to", "at"] | None, Swept | None]:
    """Return the value at which a thing begins, where one axis alone decides it."""
    listed = list(rows)
    for place, axis in enumerate(axes):
        inside = {row.values[place] for row in listed if row.cell in cells}
        outside = {row.values[place] for row in listed if row.cell not in cells}
        if not outside or inside & outside:
            continue
        if not axis.is_number:
            if len(inside) == 1:
                return axis, "at", next(iter(inside))
            continue
        ins, outs = [float(each) for each in inside], [float(each) for each in outside]
        if min(ins) > max(outs):
            return axis, "from", min(ins)
        if max(ins) < min(outs):
            return axis, "to", max(ins)
    return None, None, None
