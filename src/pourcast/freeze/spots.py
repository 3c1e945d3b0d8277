"""Spots: over all draws, which parts have a hot spot, how often, how much it lacks.

The place that closes last in a pool moves from draw to draw to the next segment
or the next like member, so hot spots are told by part.
"""

from collections import Counter

import numpy as np

from pourcast import units as si
from pourcast.freeze.bodies import sizes
from pourcast.freeze.model import BUTTON, FreezeCase, FreezeResult, HotSpot
from pourcast.materials.middle import first_of_the_nearest
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult

LEAST_LACK = 0.2e-9  # m³, a hole 0.7 mm wide; smaller ones are not told (estimate)


def hot_spots(
    network: Network,
    case: FreezeCase,
    result: PourResult,
    freezing: FreezeResult,
    *,
    least: si.CubicMetre = LEAST_LACK,
) -> tuple[HotSpot, ...]:
    """Return the hot spots of the piece, one for each part that has any, the worst first.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
    freezing : FreezeResult
        Of the same network and draws.
    least : float [m³]
        A place that lacks less is not told.

    Returns
    -------
    tuple of HotSpot
        By falling chance times lack.
    """
    part_of = network.member_part[network.member]
    volume, face = sizes(network)
    found = []
    for part, name in enumerate(network.part_names):
        mine = np.flatnonzero(part_of == part)
        lack = np.where(freezing.lack[:, mine] >= least, freezing.lack[:, mine], 0.0)
        hit = np.flatnonzero(lack.any(axis=1))
        if hit.size == 0:
            continue
        largest = lack[hit].max(axis=1)
        middle = float(np.median(largest))
        worst = mine[lack[hit].argmax(axis=1)]
        segment = int(Counter(worst.tolist()).most_common(1)[0][0])
        same = hit[worst == segment]
        draw = int(same[first_of_the_nearest(np.abs(largest[worst == segment] - middle))])
        necks = Counter(freezing.neck[hit, worst].tolist())
        pooled = freezing.pool[draw] == segment
        scale = case.pour.section_scale[draw][network.member] * pooled
        filled = result.filled[draw]
        metal = float((volume * scale * scale * filled).sum())
        found.append(
            HotSpot(
                part=name,
                segment=segment,
                chance=hit.size / lack.shape[0],
                count=int(np.median((lack[hit] > 0.0).sum(axis=1))),
                lack=middle,
                total=float(np.median(lack[hit].sum(axis=1))),
                cut_time=float(np.median(freezing.cut_time[hit, worst])),
                close_time=_middle(freezing.feed_stop_time[hit, worst]),
                neck=_name_of(necks.most_common(1)[0][0], network, part_of),
                draw=draw,
                modulus=metal / float((face * scale * filled).sum()),
            )
        )
    return tuple(sorted(found, key=lambda spot: -spot.chance * spot.lack))


def _name_of(neck: int, network: Network, part_of: si.Integers) -> str:
    if neck == BUTTON:
        return "button"
    return network.part_names[part_of[neck]] if neck >= 0 else ""


def _middle(times: si.Seconds) -> si.Second:
    """Return the middle of the times that are known [s]; not a number where none is."""
    known = times[np.isfinite(times)]
    return float(np.median(known)) if known.size else float("nan")
