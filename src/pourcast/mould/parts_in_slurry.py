"""Parts in the slurry: what do the movements of its members come to for a part?

The worst member of a part counts, draw by draw.  Beyond a lean of 0.3 a beam of
small deflections says nothing: such a part lies over, and no figure is given.

What a further coat on the part would do is worked out at the medians: its
compliance with the coat over that without, times the breadth with the coat over
that without, for the drag on it.  The cavity gets thicker by the coat on each side.

Left out of that: that loads from what grows on the part do not grow with its
coat, which errs to the careful side; coats on the other parts.

Source: `pourcast.mould.stiffness`.
"""

from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.mould.drag import stays_put
from pourcast.mould.fresh import grown
from pourcast.mould.model import (
    CoatStep,
    Limbs,
    Moved,
    PartSlurry,
    Patterns,
    Pusher,
    SlurryCase,
    When,
)
from pourcast.mould.patterns import LIFT_COAT, LIFT_CORE, VISCOUS, YIELD
from pourcast.mould.places import section_moments, step_weights, to_tip
from pourcast.mould.stiffness import stiffness
from pourcast.piece.model import Network, Piece

LEANS = 0.1
"""Lean that the eye sees on the casting; estimate."""

LIES_OVER = 0.3
"""Lean over which the theory of small deflections says nothing; common practice."""

COATS = (0.02e-3, 0.05e-3, 0.1e-3, 0.2e-3)
"""Further coats that are looked at [m]."""

_WHEN: tuple[When, ...] = ("rise", "side", "froth", "still")


def part_results(
    network: Network,
    found: Limbs,
    piece: Piece,
    case: SlurryCase,
    moved: Moved,
    *,
    unit: Patterns,
    speeds: tuple[si.MetresPerSecond, si.MetresPerSecond],
    wall_gap: si.Metres,
    gap: si.Metres,
    neighbour: si.Integers,
) -> tuple[PartSlurry, ...]:
    """Return what the slurry does to each part.

    Parameters
    ----------
    network : Network
    found : Limbs
    piece : Piece
    case : SlurryCase
    moved : Moved
    unit : Patterns
    speeds : pair of array [m/s], shape (draws,)
        Of the slurry and of the froth past the piece.
    wall_gap, gap : array [m], shape (members,)
        To the flask and to the nearest other member; infinite where none is near.
    neighbour : array of int, shape (members,)
        That other member; -1: none.

    Returns
    -------
    tuple of PartSlurry
        In the order of ``network.part_names``.
    """
    worst = moved.lean.max(axis=1)
    usual = np.median(worst, axis=1)
    straight = _all_straight(found, usual <= LIES_OVER)
    furthest = moved.shift.max(axis=1)
    coated = _coat_factors(network, found, piece, case)
    results = []
    for index, part in enumerate(piece.parts):
        members = np.flatnonzero(network.member_part == index)
        lean = worst[members].max(axis=0)
        middle = float(np.median(lean))
        chosen = int(members[usual[members].argmax()])
        when = int(np.median(moved.lean[chosen], axis=1).argmax())
        room = np.minimum(wall_gap[members], gap[members])
        nearest = int(members[gap[members].argmin()])
        lift = _lift(unit, case, members, index)
        results.append(
            PartSlurry(
                name=part.name,
                members=int(members.size),
                lean=_figure(middle),
                leans=float((lean > LEANS).mean()),
                lies_over=float((lean > LIES_OVER).mean()),
                moves=float(np.median(furthest[chosen])) if straight[chosen] else None,
                when=_WHEN[when],
                pushed_by=_pusher(unit, case, moved, chosen, when, speeds),
                lift=float(np.median(lift)),
                floats=float((lift > 0.0).mean()),
                held=float(_held(network, case, members, index, part.shape == "lump").mean()),
                wall_gap=float(wall_gap[members].min()),
                neighbour_gap=float(gap[nearest]) if neighbour[nearest] >= 0 else None,
                neighbour=(
                    network.part_names[network.member_part[neighbour[nearest]]]
                    if neighbour[nearest] >= 0
                    else None
                ),
                touches=float((furthest[members] > room[:, None]).any(axis=0).mean()),
                coats=tuple(
                    CoatStep(
                        coat=coat,
                        lean=_figure(middle * float(factor[index])),
                        leans=float((lean * factor[index] > LEANS).mean()),
                        lies_over=float((lean * factor[index] > LIES_OVER).mean()),
                    )
                    for coat, factor in zip(COATS, coated, strict=True)
                ),
            )
        )
    return tuple(results)


def _figure(lean: si.Ratio) -> si.Ratio | None:
    return lean if lean <= LIES_OVER else None


def _all_straight(found: Limbs, stands: si.Booleans) -> si.Booleans:
    """Return whether a member and all that it grows on stand."""
    straight = stands.copy()
    for level in range(1, 1 + int(found.level.max())):
        now = np.flatnonzero(found.level == level)
        straight[now] &= straight[found.station_member[found.station[now]]]
    return straight


def _lift(unit: Patterns, case: SlurryCase, members: si.Integers, part: int) -> si.Newtons:
    """Return the net buoyancy of all members together, draw by draw."""
    # Up is against the z axis of the network while the flask is filled.
    core, coat = (-unit.wrench[members, 2, pattern] for pattern in (LIFT_CORE, LIFT_COAT))
    scale = case.section_scale[:, members] ** 2
    step = case.density - case.part_density[:, part]
    return np.asarray(step * (scale @ core) + (case.density - case.coat_density) * (scale @ coat))


def _held(
    network: Network, case: SlurryCase, members: si.Integers, part: int, lump: bool
) -> si.Booleans:
    """Return whether the yield stress holds a loose member, draw by draw."""
    own = np.isin(network.member, members)
    thin = np.minimum(network.width, network.thickness)[own]
    across = float(thin.max() if lump else thin.mean())
    stress = grown(case.yield_stress, case.poured_age, case.growth_from, case.growth_time)
    step = case.density - case.part_density[:, part]
    scale = case.section_scale[:, members].mean(axis=1)
    return stays_put(step, across * scale, stress, np.asarray(lump))


def _pusher(
    unit: Patterns,
    case: SlurryCase,
    moved: Moved,
    member: int,
    when: int,
    speeds: tuple[si.MetresPerSecond, si.MetresPerSecond],
) -> Pusher:
    """Return what bends a member most in its worst case."""
    lean = float(np.median(moved.lean[member, when]))
    if float(np.median(moved.by_buoyancy[member])) >= 0.5 * lean:
        return "buoyancy"
    froth = _WHEN[when] == "froth"
    age, speed = (case.froth_age, speeds[1]) if froth else (case.poured_age, speeds[0])
    flows = [0] if _WHEN[when] in ("rise", "froth") else [1, 2]
    stress, thick = (
        grown(value, age, case.growth_from, case.growth_time)
        for value in (case.yield_stress, case.plastic_viscosity)
    )
    sizes = [
        max(float(np.linalg.norm(unit.wrench[member, :3, kind[flow]])) for flow in flows)
        for kind in (YIELD, VISCOUS)
    ]
    firm, flowing = sizes[0] * np.median(stress), sizes[1] * np.median(thick * speed)
    return "yield stress" if firm >= flowing else "viscosity"


def _coat_factors(
    network: Network, found: Limbs, piece: Piece, case: SlurryCase
) -> list[si.Ratios]:
    """Return for each further coat the lean of each part with it over that without."""
    coats = np.array([part.coat for part in piece.parts])
    lump = np.array([part.shape == "lump" for part in piece.parts])
    weight = to_tip(network, found) ** 3 * step_weights(network)
    youngs = np.median(case.part_youngs, axis=0)[network.member_part[network.member]]
    of_coat = np.asarray(np.median(case.coat_youngs))
    first = np.searchsorted(network.member_part, np.arange(coats.size))

    def give_and_breadth(added: si.Metre) -> tuple[si.Floats, si.Metres]:
        thicker = replace(
            network,
            width=network.width + 2.0 * added,
            thickness=network.thickness + 2.0 * added,
        )
        core, coat = section_moments(thicker, found, coats + added, lump)
        bends = stiffness(core[..., 0], coat[..., 0], youngs[:, None], of_coat)
        give = np.add.reduceat((weight / bends).sum(axis=1), found.first)
        broad = np.maximum(thicker.width, thicker.thickness).mean(axis=1) * network.length
        return give[first], np.add.reduceat(broad, found.first)[first]

    give, broad = give_and_breadth(0.0)
    factors = []
    for added in COATS:
        less, broader = give_and_breadth(added)
        factors.append(less / give * broader / broad)
    return factors
