"""Where the numbers and the round glass of the plate stand, so that none covers another."""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.piece.model import Network

LINE = 6.5
"""Least distance from number to number, in units of the sheet."""

WORDS = 6.5
"""By how much the words under the round glass reach past it."""

CROSSING = 3.0
"""How much longer a line may be for each spot that it does not cross."""

BARE = 4.5
"""Round the focus nothing counts as crossed: there the line has not begun."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """A number of the table, the spot that it points to, and where it stands.

    Parameters
    ----------
    number : int
        Of the part in the table, from 1.
    spot, place : pair of float [-]
        On the sheet.
    """

    number: int
    spot: tuple[si.Ratio, si.Ratio]
    place: tuple[si.Ratio, si.Ratio]


def leaders(
    spots: dict[int, list[tuple[si.Ratio, si.Ratio]]], side: si.Ratio, low: si.Ratio, high: si.Ratio
) -> list[Leader]:
    """Return one leader for each part, spread over both sides.

    Parameters
    ----------
    spots : dict
        For each number its spots on the sheet that could be pointed to: the
        one farthest left and the one farthest right.
    side : float [-]
        Distance of the numbers from the middle of the sheet.
    low, high : float [-]
        Between which the numbers stand, if there is room.

    Returns
    -------
    list of Leader
        By number.
    """
    sides: dict[int, dict[int, tuple[si.Ratio, si.Ratio]]] = {-1: {}, 1: {}}
    # From the top down, to the side where the spot lies farther out, but evenly.
    for number in sorted(spots, key=lambda number: min(y for _, y in spots[number])):
        left, right = min(spots[number]), max(spots[number])
        more = len(sides[1]) - len(sides[-1])
        lean = 1 if right[0] >= -left[0] else -1
        chosen = lean if more == 0 else (-1 if more > 0 else 1)
        sides[chosen][number] = right if chosen > 0 else left
    found = [
        Leader(number=number, spot=spot, place=(sign * side, height))
        for sign, kept in sides.items()
        for number, spot, height in _spread(kept, low, high)
    ]
    return sorted(found, key=lambda leader: leader.number)


def _spread(
    spots: dict[int, tuple[si.Ratio, si.Ratio]], low: si.Ratio, high: si.Ratio
) -> list[tuple[int, tuple[si.Ratio, si.Ratio], si.Ratio]]:
    """Return number, spot and height, LINE apart and as near to the spots as that allows."""
    order = sorted(spots, key=lambda number: spots[number][1])
    heights: list[float] = []
    for number in order:
        wish = max(spots[number][1], low)
        heights.append(max(wish, heights[-1] + LINE) if heights else wish)
    limit = high
    for k in range(len(heights) - 1, -1, -1):
        heights[k] = min(heights[k], limit)
        limit = heights[k] - LINE
    return [(number, spots[number], heights[k]) for k, number in enumerate(order)]


def spots_of_parts(
    network: Network, flat: si.Ratios, away: si.Metres
) -> dict[int, list[tuple[si.Ratio, si.Ratio]]]:
    """Return for each part the spots that a leader can point to.

    Parameters
    ----------
    network : Network
    flat : array [-], shape (segments, 2)
        Middles of the segments on the sheet.
    away : array [m], shape (segments,)
        Their depth; of a part only the nearer half is pointed to.

    Returns
    -------
    dict
        Number of the part, from 1, to its spot farthest left and farthest right.
    """
    part = network.member_part[network.member]
    found: dict[int, list[tuple[float, float]]] = {}
    for index in range(len(network.part_names)):
        mine = np.flatnonzero(part == index)
        if not len(mine):
            continue
        near = mine[away[mine] <= np.median(away[mine])]
        points = sorted((float(flat[k, 0]), float(flat[k, 1])) for k in near)
        found[index + 1] = [points[0], points[-1]]
    return found


def empty_place(
    points: si.Ratios,
    radius: si.Ratio,
    half_width: si.Ratio,
    low: si.Ratio,
    high: si.Ratio,
    focus: tuple[si.Ratio, si.Ratio] = (0.0, 0.0),
) -> tuple[si.Ratio, si.Ratio] | None:
    """Return the middle of an empty round place inside the flask; None if none is free.

    A line of words under the place is kept free too.  Of the free places that one
    is taken whose line to the focus crosses least and is shortest.

    Parameters
    ----------
    points : array [-], shape (points, 2)
        On the sheet, what must not be covered.
    radius : float [-]
        Of the place.
    half_width, low, high : float [-]
        Inside of the flask on the sheet.
    focus : pair of float [-]
        What the place shows larger.
    """
    # The words are a little wider than the place, and may not run over the wall.
    room = half_width - radius - WORDS
    if room < 0.0 or high - low < 2 * radius + 2.0:
        return None
    across = np.linspace(-1.0, 1.0, 15) * room
    down = np.linspace(low + radius + 1.0, high - radius - 1.0, 25)
    spots = np.array([(x, y) for y in down for x in across])
    under = spots + np.array([0.0, radius + 3.5])
    clear = np.full(len(spots), math.inf)
    crossed = np.zeros(len(spots))
    way = spots - np.array(focus)
    far = np.maximum(np.linalg.norm(way, axis=1), 1e-9)
    for block in np.array_split(points, max(1, len(points) // 500)):
        if len(block):
            gaps = np.linalg.norm(spots[:, None, :] - block[None, :, :], axis=2)
            clear = np.minimum(clear, gaps.min(axis=1))
            beside = np.abs(under[:, None, :] - block[None, :, :])
            clear[np.any((beside[..., 0] < radius) & (beside[..., 1] < 3.0), axis=1)] = 0.0
            crossed += _near_line(block - np.array(focus), way, far)
    if clear.max() < radius + 1.0:
        return None
    cost = np.where(clear < radius + 1.0, math.inf, far + CROSSING * crossed)
    best = int(np.argmin(cost))
    return float(spots[best, 0]), float(spots[best, 1])


def _near_line(points: si.Ratios, way: si.Ratios, far: si.Ratios) -> si.Ratios:
    """Return how many points lie within a stroke of each line from the focus."""
    unit = way / far[:, None]
    along = points @ unit.T
    off = np.abs(points[:, :1] * unit[:, 1] - points[:, 1:] * unit[:, 0])
    near = (along > BARE) & (along < far) & (off < 1.0)
    return np.asarray(near.sum(axis=0), dtype=float)
