"""Sway: how far does each member move, draw by draw, under all that pushes on the piece?

Loads of a case are the patterns of `pourcast.mould.patterns` times numbers that
differ from draw to draw.  From the tips inwards wrenches add up at the stations;
from the button outwards twists add up,

    twist at a station = twist at the base
                       + g Σ (stretch · wrench beyond) + g · own pattern     (1)

with g the compliance of the member in this draw.  Its shape is that of part and
coat at equal moduli, its size is such that the tip gives as it should to an even load,

    g = ∫ x³/(E_part I_part + E_coat I_coat) dx / ∫ x³/(I_part + I_coat) dx / f⁴   (2)

x from the tip and f the true thickness over the measured one.  (2) is exact for
bare parts and for even ones; a coated needle from 1 mm to 0.2 mm comes out within
3 % under its own drag and within 12 % under a push on its tip.

Left out: all that is not small: see `pourcast.mould.slurry_checks` for where
the answer ends.

Source: statics of a chain of beams.
"""

from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.materials.draws import ArrayInSI
from pourcast.mould.model import Limbs, Patterns, PerPascals, SlurryCase, Twists, Wrenches
from pourcast.mould.places import section_moments, step_weights, to_tip
from pourcast.mould.stiffness import stiffness
from pourcast.piece.model import Network


def compliance(
    network: Network,
    found: Limbs,
    case: SlurryCase,
    *,
    coats: si.Metres,
    lump: si.Booleans,
) -> PerPascals:
    """Return g of each member, equation (2).

    Parameters
    ----------
    network : Network
    found : Limbs
    case : SlurryCase
    coats : array [m], shape (parts,)
    lump : array of bool, shape (parts,)

    Returns
    -------
    array [1/Pa], shape (members, draws)
    """
    require_positive("section_scale", case.section_scale, "")
    inner, outer = section_moments(network, found, coats, lump)
    weight = to_tip(network, found) ** 3 * step_weights(network)
    scale = np.ascontiguousarray(case.section_scale.T) ** -4.0
    soft = np.empty_like(scale)
    for part in range(len(network.part_names)):
        members = np.flatnonzero(network.member_part == part)
        # All members of a part are cut alike and have the same sizes.
        rows = slice(found.first[members[0]], found.last[members[0]] + 1)
        core, coat = inner[rows, :, 0].ravel(), outer[rows, :, 0].ravel()
        heavy = weight[rows].ravel()
        youngs = case.part_youngs[:, part]
        if coats[part] > 0.0:
            bends = stiffness(core[:, None], coat[:, None], youngs, case.coat_youngs)
            give = heavy @ (1.0 / bends)
        else:
            give = (heavy / core).sum() / youngs
        soft[members] = give / (heavy / (core + coat)).sum()
    return np.asarray(soft * scale)


def sway(
    found: Limbs,
    unit: Patterns,
    give: PerPascals,
    numbers: Sequence[tuple[tuple[int, ...], ArrayInSI]],
) -> tuple[Twists, Twists, Wrenches]:
    """Return how each member moves under each case of loads, equation (1).

    Parameters
    ----------
    found : Limbs
    unit : Patterns
    give : array [1/Pa], shape (members, draws)
    numbers : sequence of pairs of tuple and array [SI]
        For each case the patterns that act, and what they are multiplied by,
        shape (members, patterns that act, draws).

    Returns
    -------
    own : array [m and rad], shape (members, cases, 6, draws)
        Twist of the tip over that of the base.
    whole : array [m and rad], of the same shape
        Twist of the tip.
    wrench : array [N and N·m], of the same shape
        Of the member and all that grows on it.

    Raises
    ------
    InputError
        If the shapes do not go together.
    """
    members, draws = give.shape
    stations = found.station_segment.size
    wrench = np.empty((members, len(numbers), 6, draws))
    own = np.empty_like(wrench)
    at = np.empty((stations, len(numbers), 6, draws))
    for i, (acting, factor) in enumerate(numbers):
        if factor.shape != (members, len(acting), draws):
            raise InputError("numbers", factor.shape, "", f"{(members, len(acting), draws)}")
        chosen = list(acting)
        np.matmul(unit.wrench[:, :, chosen], factor, out=wrench[:, i])
        np.matmul(unit.tip[:, :, chosen], factor, out=own[:, i])
        np.matmul(unit.station[:, :, chosen], factor[found.station_member], out=at[:, i])
    order = _inwards(found)
    children = [np.flatnonzero(found.station == station) for station in range(stations)]
    beyond = np.empty_like(at)
    for station in order:
        member = found.station_member[station]
        beyond[station] = wrench[children[station]].sum(axis=0)
        wrench[member] += beyond[station]
        if _goes_on(found, station):
            beyond[station] += beyond[station + 1]
    whole = np.zeros_like(wrench)
    for station in reversed(order):
        member = found.station_member[station]
        bent = unit.stretch[station] @ beyond[station]
        if station > 0 and _goes_on(found, station - 1):
            bent += beyond[station - 1]
        beyond[station] = bent  # what lay beyond is used up: from here on the bend
        whole[children[station]] = whole[member] + give[member] * (at[station] + bent)
        if not _goes_on(found, station):
            own[member] += bent
    own *= give[:, None, None, :]
    whole += own
    return own, whole, wrench


def _inwards(found: Limbs) -> list[int]:
    """Return the stations, those on the outermost members first and from tip to base."""
    stations = np.arange(found.station_member.size)
    level = found.level[found.station_member]
    order: list[int] = np.lexsort((-stations, -level)).tolist()
    return order


def _goes_on(found: Limbs, station: int) -> bool:
    """Return whether the next station stands on the same member."""
    member = found.station_member
    return bool(station + 1 < member.size and member[station + 1] == member[station])
