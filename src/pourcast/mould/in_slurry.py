"""In the slurry: does it move the original, and does the piece stay on its button?

Four cases act on the piece, each with the net buoyancy of every part:

    rise   the surface rises past it at the speed v: drag upwards
    side   the slurry flows round it from one side at the same speed: drag along
           x or y, either way
    froth  in the vacuum chamber the froth passes it twice, up and down, at its own
           speed, with its lower density and at its later age
    still  it stands: buoyancy alone

A member leans by what its tip moves over its base, over its length; its worst
case counts.  The slurry flows only above its yield stress, so a part that was
bent while it flowed is mostly still bent when it sets.

The joint on the button bears all that the piece pulls: with the upward force F
and the moment M about the gate, over the diameter d,

    stress = 4 F/(π d²) + 32 M/(π d³)                                        (1)

Left out: the jet of the pour, which is the caster's to keep off the piece; a
side flow that is faster than the surface rises, as in the first finger of slurry
at the button; that the cases overlap; knocks.

Sources: `pourcast.mould.drag` and `pourcast.mould.sway`; (1) beam theory.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.materials.draws import ArrayInSI
from pourcast.mould import patterns as loads
from pourcast.mould.drag import held_bubble
from pourcast.mould.fresh import froth_speed, grown
from pourcast.mould.gaps import neighbour_gaps, wall_gaps
from pourcast.mould.limbs import limbs
from pourcast.mould.model import (
    Flask,
    Joint,
    Limbs,
    Moved,
    SlurryCase,
    SlurryResult,
    Twists,
    Wrenches,
)
from pourcast.mould.parts_in_slurry import LIES_OVER, part_results
from pourcast.mould.sway import compliance, sway
from pourcast.mould.traps import air_traps
from pourcast.piece.model import Network, Piece

_NUMBERS_AT_A_TIME = 3_000_000
"""In one array of members, rows, cases and draws; more are done in turns."""

_FULL, _UP, _X, _Y, _LIGHT, _FROTH = range(6)
"""Cases of loads: buoyancy in slurry, drag up, along x, along y; buoyancy in froth, its drag."""

_SUMS = (
    ((_FULL, _UP, 1.0),),
    ((_FULL, _X, 1.0), (_FULL, _X, -1.0), (_FULL, _Y, 1.0), (_FULL, _Y, -1.0)),
    ((_LIGHT, _FROTH, 1.0), (_LIGHT, _FROTH, -1.0)),
    ((_FULL, _FULL, 0.0),),
)
"""For each of the four cases what is added up, and how: the largest counts."""


def on_the_piece(network: Network, piece: Piece, flask: Flask, case: SlurryCase) -> SlurryResult:
    """Return what the slurry does to the original while the flask is filled.

    Parameters
    ----------
    network : Network
        Of ``piece``.
    piece : Piece
        For the shapes, the coats and the button.
    flask : Flask
    case : SlurryCase

    Returns
    -------
    SlurryResult

    Raises
    ------
    InputError
        If a value is outside its limits, or the shapes do not go together.
    """
    draws = _draws(network, piece, case)
    found = limbs(network)
    coats = np.array([part.coat for part in piece.parts])
    lump = np.array([part.shape == "lump" for part in piece.parts])
    unit = loads.patterns(network, found, coats=coats, lump=lump, room=flask.inside_diameter)
    give = compliance(network, found, case, coats=coats, lump=lump)
    numbers = _numbers(network, flask, case)
    members = found.first.size
    lean = np.empty((members, len(_SUMS), draws))
    shift = np.empty_like(lean)
    by_buoyancy = np.empty((members, draws))
    pull = np.empty((2, draws))
    joint = _joint_diameter(network, piece, found)
    at_a_time = max(1, _NUMBERS_AT_A_TIME // (36 * members))
    for start in range(0, draws, at_a_time):
        some = slice(start, start + at_a_time)
        acting = [(which, factor[:, :, some]) for which, factor in numbers]
        own, whole, wrench = sway(found, unit, give[:, some], acting)
        bent, gone = _shift(own, found.tip), _shift(whole, found.tip)
        for i, sums in enumerate(_SUMS):
            lean[:, i, some] = _largest(bent, sums)
            shift[:, i, some] = _largest(gone, sums)
        by_buoyancy[:, some] = _size(bent[:, _FULL])
        pull[:, some] = _pull(wrench[found.station < 0].sum(axis=0), joint)
    lean /= found.length[:, None, None]
    moved = Moved(lean=lean, shift=shift, by_buoyancy=by_buoyancy / found.length[:, None])
    gaps, neighbours, narrow = neighbour_gaps(network, found)
    stress = grown(case.yield_stress, case.poured_age, case.growth_from, case.growth_time)
    worst = lean.max(axis=1)
    return SlurryResult(
        parts=part_results(
            network,
            found,
            piece,
            case,
            moved,
            unit=unit,
            speeds=(case.rise_speed, _froth(flask, case)),
            wall_gap=wall_gaps(network, found, flask.inside_diameter),
            gap=gaps,
            neighbour=neighbours,
        ),
        joint=_joint(pull, case.joint_strength),
        traps=air_traps(network, float(np.median(held_bubble(case.density, stress)))),
        gaps=narrow,
        lean=np.median(worst, axis=1),
        lies_over=(worst > LIES_OVER).mean(axis=1),
    )


def _numbers(
    network: Network, flask: Flask, case: SlurryCase
) -> list[tuple[tuple[int, ...], ArrayInSI]]:
    """Return for each case of loads the patterns that act and what they are multiplied by."""
    scale = case.section_scale.T
    part = network.member_part

    def buoyancy(density: si.KilogramsPerCubicMetre) -> si.Floats:
        step = density[None, :] - case.part_density.T[part], density - case.coat_density
        return np.stack([step[0] * scale**2, step[1] * scale**2], axis=1)

    def flow(age: si.Seconds, speed: si.MetresPerSecond) -> si.Floats:
        firm = grown(case.yield_stress, age, case.growth_from, case.growth_time)
        thick = grown(case.plastic_viscosity, age, case.growth_from, case.growth_time)
        flowing = np.broadcast_to(thick * speed, scale.shape)
        return np.stack([firm * scale, flowing, np.sqrt(firm * flowing * scale)], axis=1)

    lifts = (loads.LIFT_CORE, loads.LIFT_COAT)
    ways = tuple(zip(loads.YIELD, loads.VISCOUS, loads.BOTH, strict=True))
    rising = flow(case.poured_age, case.rise_speed)
    return [
        (lifts, buoyancy(case.density)),
        *((way, rising) for way in ways),
        (lifts, buoyancy(case.density / case.froth_rise)),
        (ways[0], flow(case.froth_age, _froth(flask, case))),
    ]


def _froth(flask: Flask, case: SlurryCase) -> si.MetresPerSecond:
    return froth_speed(flask.height, case.froth_rise, case.froth_time)


def _shift(twist: Twists, tip: si.Metres) -> si.Metres:
    """Return how far each tip moves, shape (members, cases, 3, draws)."""
    x, y, z = (tip[:, i, None, None] for i in range(3))
    u, turn = twist[:, :, :3], twist[:, :, 3:]
    shift = np.empty(u.shape)
    shift[:, :, 0] = u[:, :, 0] + turn[:, :, 1] * z - turn[:, :, 2] * y
    shift[:, :, 1] = u[:, :, 1] + turn[:, :, 2] * x - turn[:, :, 0] * z
    shift[:, :, 2] = u[:, :, 2] + turn[:, :, 0] * y - turn[:, :, 1] * x
    return shift


def _size(vector: si.Floats) -> si.Floats:
    """Return the size of vectors whose parts stand along the second axis."""
    return np.asarray(np.sqrt(np.einsum("ijk,ijk->ik", vector, vector)))


def _largest(shift: si.Metres, sums: tuple[tuple[int, int, float], ...]) -> si.Metres:
    """Return the largest of the sums of two cases, shape (members, draws)."""
    largest = np.zeros((shift.shape[0], shift.shape[-1]))
    for a, b, sign in sums:
        np.maximum(largest, _size(shift[:, a] + sign * shift[:, b]), out=largest)
    return largest


def _pull(wrench: Wrenches, diameter: si.Metre) -> si.Floats:
    """Return the largest upward force [N] and stress [Pa] on the joint, (1); shape (2, draws)."""
    force, stress = [], []
    for sums in _SUMS:
        for a, b, sign in sums:
            load = wrench[a] + sign * wrench[b]
            up = np.maximum(-load[2], 0.0)  # the z axis points down while it is filled
            bend = np.hypot(load[3], load[4])
            force.append(up)
            stress.append(4.0 * up / diameter**2 + 32.0 * bend / diameter**3)
    return np.stack([np.max(force, axis=0), np.max(stress, axis=0) / math.pi])


def _joint(pull: si.Floats, strength: si.Pascals) -> Joint:
    return Joint(
        force=float(np.median(pull[0])),
        stress=float(np.median(pull[1])),
        strength=float(np.median(strength)),
        tears=float((pull[1] > strength).mean()),
    )


def _joint_diameter(network: Network, piece: Piece, found: Limbs) -> si.Metre:
    """Return the gate, or what grows on it as one round joint where that is thinner."""
    roots = found.first[found.station < 0]
    grown_on = float(np.sqrt((network.width[roots, 0] * network.thickness[roots, 0]).sum()))
    return min(piece.button.gate_diameter, grown_on)


def _draws(network: Network, piece: Piece, case: SlurryCase) -> int:
    """Return how many draws there are; refuse what does not go together."""
    if tuple(part.name for part in piece.parts) != network.part_names:
        raise InputError("piece", "another", "", "the piece that the network was built from")
    draws = len(case.density)
    parts, members = len(network.part_names), network.member_part.size
    alone = {
        "density": "kg/m³",
        "yield_stress": "Pa",
        "plastic_viscosity": "Pa·s",
        "growth_from": "s",
        "growth_time": "s",
        "poured_age": "s",
        "froth_age": "s",
        "rise_speed": "m/s",
        "froth_rise": "",
        "froth_time": "s",
        "coat_density": "kg/m³",
        "coat_youngs": "Pa",
        "joint_strength": "Pa",
    }
    wanted: dict[str, tuple[int, ...]] = dict.fromkeys(alone, (draws,))
    wanted |= {"part_density": (draws, parts), "part_youngs": (draws, parts)}
    wanted["section_scale"] = (draws, members)
    for name, shape in wanted.items():
        value = getattr(case, name)
        if np.shape(value) != shape:
            raise InputError(name, np.shape(value), "", f"of shape {shape}")
        require_positive(name, value, alone.get(name, ""))
    return draws
