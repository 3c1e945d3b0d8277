"""Picture of a sweep over one key: the chance with its band, and limits as upright lines."""

from collections.abc import Callable, Sequence

from pourcast.page.svg_sweep_parts import LEFT, PLACES, TOP, WIDE, ticks_across
from pourcast.sweep.limits import Limit
from pourcast.sweep.model import Row, Sweep

_HIGH = 300.0


def line_picture(sweep: Sweep, rows: Sequence[Row], limits: Sequence[Limit]) -> tuple[str, PLACES]:
    """Return the drawing, and where the words under it begin [-].

    Parameters
    ----------
    sweep : Sweep
        Over one key.
    rows : sequence of Row
    limits : sequence of Limit

    Returns
    -------
    str
    float [-]
    """
    axis = sweep.axes[0]
    wide, foot = WIDE / axis.count, TOP + _HIGH

    def x(cell: int) -> float:
        return LEFT + (cell + 0.5) * wide

    def y(chance: float) -> float:
        return foot - _HIGH * chance

    made = [
        f'<path class="gr" d="M{LEFT},{y(share):.1f}H{LEFT + WIDE}"/>'
        f'<text x="{LEFT - 8}" y="{y(share) + 5:.1f}" text-anchor="end">{100 * share:.0f}</text>'
        for share in (0.0, 0.25, 0.5, 0.75, 1.0)
    ]
    made.append(f'<text class="soft" x="24" y="{TOP - 18:.0f}">whole in 100 pours</text>')
    known = [row for row in rows if row.chance is not None]
    if known:
        upper = "L".join(f"{x(row.cell):.1f},{y(row.high or 0.0):.1f}" for row in known)
        lower = "L".join(f"{x(row.cell):.1f},{y(row.low or 0.0):.1f}" for row in known[::-1])
        line = "L".join(f"{x(row.cell):.1f},{y(row.chance or 0.0):.1f}" for row in known)
        made.append(f'<path class="band" d="M{upper}L{lower}Z"/>')
        if axis.is_number:
            made.append(f'<path class="line" d="M{line}"/>')
        made += [
            f'<circle class="dot" r="3.2" cx="{x(row.cell):.1f}" cy="{y(row.chance or 0.0):.1f}"/>'
            for row in known
        ]
    made += [_limit(limit, axis.count, x, wide, k) for k, limit in enumerate(limits, 1)]
    made.append(f'<path class="ax" d="M{LEFT},{foot}H{LEFT + WIDE}"/>')
    made.append(ticks_across(axis, wide, foot))
    return "".join(made), foot + 62.0


def _limit(limit: Limit, count: int, x: Callable[[int], float], wide: PLACES, number: int) -> str:
    edges = [cell for cell in range(1, count) if (cell in limit.cells) != (cell - 1 in limit.cells)]
    way = "".join(f"M{x(cell) - 0.5 * wide:.1f},{TOP}V{TOP + _HIGH}" for cell in edges)
    first = min(limit.cells)
    at = x(first) - 0.5 * wide + 11.0 + 22.0 * (number - 1)
    return (
        f'<path class="stop" d="{way}"/><circle class="mark" cx="{at:.1f}" cy="{TOP - 12}" r="9"/>'
        f'<text class="mark-n" x="{at:.1f}" y="{TOP - 7.5}" text-anchor="middle">{number}</text>'
    )
