"""Picture of a sweep: the chance over two keys, with contours, and limits drawn in.

Each cell has its shade and, where there is room, its number.  A contour runs where the
chance passes through 25, 50, 75 or 90 in 100, by straight lines between the middles of
the cells.  An ember line runs round the cells in which something must stop the caster;
its number stands in the list below the picture.  Of more than two keys the picture shows
the first two, with the others as they are at the best cell.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import escape

from pourcast.page import words_sweep as said
from pourcast.page.svg_sweep_line import line_picture
from pourcast.page.svg_sweep_parts import (
    LEFT,
    PLACES,
    TOP,
    WIDE,
    document,
    labels_along,
    shades,
)
from pourcast.sweep.limits import Limit, limits_of
from pourcast.sweep.model import Axis, Row, Sweep

_LEVELS = (0.25, 0.5, 0.75, 0.9)
_LEAST_WIDE, _LEAST_HIGH = 36.0, 18.0  # of a cell that has its number
_DARK = 0.45  # chance over which a shade wants pale figures
_APART = 15.0  # of two numbers of contours
_MOST_LIMITS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The cells of a picture by column and row.

    Parameters
    ----------
    across, up : Axis
    cells : dict of pair of int to Row
    wide, high : float [-]
        Of a cell on the sheet.
    """

    across: Axis
    up: Axis
    cells: dict[tuple[int, int], Row]
    wide: PLACES
    high: PLACES

    def middle(self, column: PLACES, row: PLACES) -> tuple[PLACES, PLACES]:
        """Return the place of the middle of a cell on the sheet [-].

        Parameters
        ----------
        column, row : float [-]
            From 0; the first row is the lowest.
        """
        return (
            LEFT + (column + 0.5) * self.wide,
            TOP + (self.up.count - row - 0.5) * self.high,
        )


def sweep_picture(sweep: Sweep, rows: Sequence[Row]) -> str:
    """Return a sweep as a picture, a whole file.

    Parameters
    ----------
    sweep : Sweep
    rows : sequence of Row
        Of all cells.
    """
    limits = limits_of(sweep.axes, rows)
    told = [f"{k}. {said.limit_words(each, len(rows))}" for k, each in enumerate(limits, 1)]
    hidden = len(told) - _MOST_LIMITS
    told = told[:_MOST_LIMITS] + ([f"and {hidden} more in the table."] if hidden > 0 else [])
    if len(sweep.axes) == 1:
        drawn, foot = line_picture(sweep, rows, limits[:_MOST_LIMITS])
        return document(said.answer(sweep, rows), drawn, told, foot)
    panel, beside = _panel(sweep, rows)
    drawn = _cells(panel) + _contours(panel) + _numbers(panel)
    for place, limit in enumerate(limits[:_MOST_LIMITS], 1):
        drawn += _limit(panel, limit, place)
    foot = TOP + panel.up.count * panel.high
    drawn += labels_along(panel.across, panel.up, panel.wide, panel.high, foot)
    notes = [beside] if beside else []
    return document(
        said.answer(sweep, rows), drawn + shades(foot + 56.0), [*notes, *told], foot + 108.0
    )


def _panel(sweep: Sweep, rows: Sequence[Row]) -> tuple[Panel, str]:
    across, up, *others = sweep.axes
    best = said.best_of(rows) or rows[0]
    kept = best.values[2:]
    each = math.prod(axis.count for axis in others)
    cells = {divmod(row.cell // each, up.count): row for row in rows if row.values[2:] == kept}
    beside = f"At {said.place_words(others, kept)}, where the best lies." if others else ""
    high = min(max(320.0 / up.count, 9.0), 64.0)
    return (
        Panel(across=across, up=up, cells=cells, wide=WIDE / across.count, high=high),
        beside,
    )


def _cells(panel: Panel) -> str:
    made = []
    for (column, row), each in sorted(panel.cells.items()):
        x, y = panel.middle(column, row)
        made.append(_box(_shade(each), x, y, panel.wide, panel.high))
    return "".join(made)


def _shade(row: Row) -> str:
    return "no" if row.chance is None else f"h{min(9, int(10.0 * (1.0 - row.chance)))}"


def _box(shade: str, x: PLACES, y: PLACES, wide: PLACES, high: PLACES) -> str:
    return (
        f'<rect class="{shade}" x="{x - 0.5 * wide:.1f}" y="{y - 0.5 * high:.1f}" '
        f'width="{wide:.1f}" height="{high:.1f}"/>'
    )


def _numbers(panel: Panel) -> str:
    """Return the number of each cell, over the contours, where there is room for it."""
    if panel.wide < _LEAST_WIDE or panel.high < _LEAST_HIGH:
        return ""
    made = []
    for (column, row), each in sorted(panel.cells.items()):
        x, y = panel.middle(column, row)
        tone = "on" if each.chance is not None and each.chance > _DARK else "off"
        shown = said.count(each.chance).replace("over ", ">").replace("under ", "<")
        if each.chance is not None:
            made.append(_box(_shade(each), x, y, 11.0 * len(shown), 16.0))
        made.append(
            f'<text class="{tone}" x="{x:.1f}" y="{y + 4.5:.1f}" text-anchor="middle">'
            f"{escape(shown)}</text>"
        )
    return "".join(made)


def _contours(panel: Panel) -> str:
    """Return the contours, square by square between the middles of four cells."""
    made = []
    labels: list[tuple[PLACES, PLACES]] = []
    for level in _LEVELS:
        lines = []
        for column in range(panel.across.count - 1):
            for row in range(panel.up.count - 1):
                lines += _crossings(panel, column, row, level)
        if not lines:
            continue
        way = "".join(f"M{a[0]:.1f},{a[1]:.1f}L{b[0]:.1f},{b[1]:.1f}" for a, b in lines)
        made.append(f'<path class="halo2" d="{way}"/><path class="contour" d="{way}"/>')
        x, y = max(max(pair) for pair in lines)
        if all(abs(x - a) > _APART or abs(y - b) > _APART for a, b in labels):
            labels.append((x, y))
            made.append(
                f'<text class="level" x="{x + 4:.1f}" y="{y + 4:.1f}">{100 * level:.0f}</text>'
            )
    return "".join(made)


def _crossings(
    panel: Panel, column: int, row: int, level: PLACES
) -> list[tuple[tuple[PLACES, PLACES], tuple[PLACES, PLACES]]]:
    corners = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)]
    chances = []
    for corner in corners:
        cell = panel.cells.get(corner)
        if cell is None or cell.chance is None:
            return []
        chances.append(cell.chance)
    points = []
    for one in range(4):
        other = (one + 1) % 4
        first, second = chances[one], chances[other]
        if (first >= level) == (second >= level):
            continue
        way = (level - first) / (second - first)
        (xa, ya), (xb, yb) = (panel.middle(*corners[k]) for k in (one, other))
        points.append((xa + way * (xb - xa), ya + way * (yb - ya)))
    # A saddle has four crossings; which two belong together the corners do not say.
    return [(points[k], points[k + 1]) for k in range(0, len(points) - 1, 2)]


def _limit(panel: Panel, limit: Limit, number: int) -> str:
    """Return the line round the cells that have a limit, with its number at its end."""
    way, mark = "", None
    for (column, row), each in sorted(panel.cells.items()):
        if each.cell not in limit.cells:
            continue
        x, y = panel.middle(column, row)
        a, b = 0.5 * panel.wide, 0.5 * panel.high
        for beside, line in (
            ((column - 1, row), f"M{x - a:.1f},{y - b:.1f}V{y + b:.1f}"),
            ((column + 1, row), f"M{x + a:.1f},{y - b:.1f}V{y + b:.1f}"),
            ((column, row - 1), f"M{x - a:.1f},{y + b:.1f}H{x + a:.1f}"),
            ((column, row + 1), f"M{x - a:.1f},{y - b:.1f}H{x + a:.1f}"),
        ):
            other = panel.cells.get(beside)
            if other is not None and other.cell not in limit.cells:
                way += line
                mark = mark or _on(line, x, y)
    if mark is None:
        return ""
    return (
        f'<path class="stop" d="{way}"/><circle class="mark" cx="{mark[0]:.1f}" '
        f'cy="{mark[1]:.1f}" r="9"/><text class="mark-n" x="{mark[0]:.1f}" y="{mark[1] + 4.5:.1f}" '
        f'text-anchor="middle">{number}</text>'
    )


def _on(line: str, x: PLACES, y: PLACES) -> tuple[PLACES, PLACES]:
    """Return the middle of an edge of a cell, by the line that draws it."""
    along = "V" if "V" in line else "H"
    left, _, top = line.removeprefix("M").partition(along)[0].partition(",")
    return (float(left), y) if along == "V" else (x, float(top))
