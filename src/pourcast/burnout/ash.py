"""Ash: how much stays, how much room does it take, and where does it lie?

Model.  Ash of a member is a share of its dry mass and lies loose, at its bulk density.
The flask stands in the kiln gate down, so the piece that hangs at the pour stands up
there, and what was high is low.  In each segment ash

- stays where the passage leans less from the level than `REPOSE`, or is narrower
  than `BRIDGES`: loose ash bridges over narrow ways;
- else slides to its low end and on into the passage that falls most from there;
- falls out where it comes to the gate;
- stays in a low place that no passage leads down from: a pocket.

Blown air reaches a segment if all the way from the gate is at least `AIR_WAY` wide
and turns by no more than `CORNER` in all.  Both rules and all four numbers are
estimates; ash of some plants keeps the shape of the plant and does not slide at all,
ash rich in potassium can stick.  So this says where to look, not what to count on.

Sources: ash shares, records of plants; bulk density, plants.general.ash_bulk_density.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import Matter
from pourcast.errors import InputError, require_not_negative, require_positive
from pourcast.piece.model import RECTANGLE, Network

REPOSE = math.radians(40.0)
"""rad from the level, under which loose ash lies still; estimate."""
BRIDGES = 2e-3
"""m, width under which loose ash holds itself; estimate."""
AIR_WAY = 2e-3
"""m, width through which short puffs still move ash; estimate."""
CORNER = math.radians(90.0)
"""rad, turn in all round which a puff no longer carries; estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AshPlaces:
    """Where ash lies while the flask stands in the kiln, gate down.

    Parameters
    ----------
    ash : array [kg], shape (draws, segments)
    fill : array [-], shape (draws, segments)
        Loose volume of the ash over that of the segment; above 1 it lies heaped.
    fallen : array [kg], shape (draws,)
        Out of the gate.
    pocket : array of bool, shape (segments,)
        True where the segment ends in a low place that is not the gate.
    blown : array of bool, shape (segments,)
        True where blown air reaches it from the gate.
    """

    ash: si.Kilograms
    fill: si.Ratios
    fallen: si.Kilograms
    pocket: si.Booleans
    blown: si.Booleans


def ash_mass(matter: Matter) -> si.Kilograms:
    """Return the ash of each member.

    Parameters
    ----------
    matter : Matter

    Returns
    -------
    array [kg], shape (draws, members)
    """
    return np.asarray(matter.dry_mass * matter.ash_fraction)


def ash_volume(mass: si.Kilograms, bulk_density: si.KilogramsPerCubicMetre) -> si.CubicMetres:
    """Return the room that loose ash takes.

    Parameters
    ----------
    mass : array [kg], any shape
    bulk_density : array [kg/m³]
        > 0; of a shape that goes with ``mass``.

    Returns
    -------
    array [m³]

    Raises
    ------
    InputError
        If a mass is below 0 or a density not above it.
    """
    require_not_negative("mass of ash", mass, "kg")
    require_positive("ash_bulk_density", bulk_density, "kg/m³")
    return np.asarray(mass / bulk_density)


def ash_places(
    network: Network, ash: si.Kilograms, bulk_density: si.KilogramsPerCubicMetre
) -> AshPlaces:
    """Return where the ash lies.

    Parameters
    ----------
    network : Network
        As it hangs at the pour.
    ash : array [kg], shape (draws, members)
        `Fate.ash`.
    bulk_density : array [kg/m³], shape (draws,)

    Returns
    -------
    AshPlaces

    Raises
    ------
    InputError
        If the ash is not of the members of the network, or a value outside its limits.
    """
    members = network.member_part.size
    if ash.ndim != 2 or ash.shape[1] != members:
        raise InputError("shape of the ash", ash.shape, "", f"draws and {members} members")
    volume = _volume(network)
    of_member = np.bincount(network.member, weights=volume, minlength=members)
    lying = ash[:, network.member] * (volume / of_member[network.member])
    low, onward = _ways_down(network)
    slides = _slides(network)
    fallen = np.zeros(ash.shape[0])
    # From the top downwards: what a passage gets from above is there before it slides.
    for segment in np.argsort(-low, kind="stable").tolist():
        to = int(onward[segment])
        if not slides[segment] or to == _NOWHERE:
            continue
        if to == _OUT:
            fallen += lying[:, segment]
        elif _narrowest(network)[to] >= BRIDGES:
            lying[:, to] += lying[:, segment]
        else:
            continue
        lying[:, segment] = 0.0
    return AshPlaces(
        ash=lying,
        fill=ash_volume(lying, bulk_density[:, None]) / volume,
        fallen=fallen,
        pocket=np.asarray(onward == _NOWHERE),
        blown=_blown(network),
    )


_NOWHERE, _OUT = -1, -2
"""In place of the next segment: a pocket, or out of the gate."""


def _volume(network: Network) -> si.CubicMetres:
    round_share = np.where(network.section == RECTANGLE, 1.0, 0.25 * math.pi)
    across = network.width.mean(axis=1) * network.thickness.mean(axis=1)
    return np.asarray(network.length * across * round_share)


def _narrowest(network: Network) -> si.Metres:
    """Return the least way across each segment [m]."""
    return np.asarray(np.minimum(network.width, network.thickness).min(axis=1))


def _node_heights(network: Network) -> si.Metres:
    """Return how high each node lies in the kiln, where the piece stands on its gate [m]."""
    nodes = np.concatenate([network.start, network.end])
    high = -np.concatenate([network.start_position[:, 2], network.end_position[:, 2]])
    return np.asarray(np.bincount(nodes, weights=high) / np.bincount(nodes))


def _slides(network: Network) -> si.Booleans:
    """Return where ash slides: steep and wide enough."""
    way = network.end_position - network.start_position
    chord = np.maximum(np.linalg.norm(way, axis=1), 1e-12)
    steep = np.abs(way[:, 2]) >= math.sin(REPOSE) * chord
    return np.asarray(steep & (_narrowest(network) >= BRIDGES))


def _ways_down(network: Network) -> tuple[si.Metres, si.Integers]:
    """Return how high the low end of each segment lies, and the segment that leads on down."""
    height = _node_heights(network)
    turned = height[network.start] < height[network.end]
    bottom = np.where(turned, network.start, network.end)
    top = np.where(turned, network.end, network.start)
    fall = (height[top] - height[bottom]) / np.maximum(network.length, 1e-12)
    steepest = np.full(height.size, _NOWHERE, dtype=np.int64)
    for segment in np.argsort(fall, kind="stable").tolist():
        if fall[segment] > 0.0:
            steepest[top[segment]] = segment
    steepest[0] = _OUT
    return height[bottom], steepest[bottom]


def _blown(network: Network) -> si.Booleans:
    """Return which segments a puff from the gate reaches."""
    segments = network.length.size
    wide = _narrowest(network) >= AIR_WAY
    way = network.end_position - network.start_position
    way = way / np.maximum(np.linalg.norm(way, axis=1), 1e-12)[:, None]
    touching: list[list[int]] = [
        [] for _ in range(int(max(network.start.max(), network.end.max())) + 1)
    ]
    for segment in range(segments):
        touching[network.start[segment]].append(segment)
        touching[network.end[segment]].append(segment)
    reached = np.zeros(segments, dtype=bool)
    # Nodes to go on from, with the direction and the turn that the air has come by.
    front: list[tuple[int, si.Ratios | None, float]] = [(0, None, 0.0)]
    while front:
        node, before, turned = front.pop(0)
        for segment in touching[node]:
            if reached[segment] or not wide[segment]:
                continue
            outward = network.start[segment] == node
            here = way[segment] if outward else -way[segment]
            turn = turned
            if before is not None:
                turn += math.acos(float(np.clip(before @ here, -1.0, 1.0)))
            if turn <= CORNER:
                reached[segment] = True
                other = network.end[segment] if outward else network.start[segment]
                front.append((int(other), here, turn))
    return reached
