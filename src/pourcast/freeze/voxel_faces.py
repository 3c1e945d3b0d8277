"""Faces: what passes between metal and mould, and out of the top of the button.

Over a face between a metal and a mould cell, per area,

    1/G = 1/(h n·e) + side/(2 k_mould) + side/(2 k_metal)                     (1)

The factor n·e makes up for the steps of the cells, which show more surface than the
part has; on the conduction it would be a false resistance.  Over one step the mould
keeps its temperature T_f for the metal, and the mould gets

    G (Σ b T - T_f Δt) side²                                                  (2)

which is what the metal lost, times the weight μ of the pass.  An open or covered top of the
button loses heat to the room at the rate h_r (T - T_room), where h_r holds the radiation at
the temperature at the start of the pass.
"""

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_mould import mould_conductivity
from pourcast.freeze.voxel_types import Indices, KelvinSeconds, KelvinsSingle, PerMetres
from pourcast.kernels import kernel, small_kernel
from pourcast.units import STEFAN_BOLTZMANN


@small_kernel
def mould_temperature(own: si.Kelvin, mould: si.Table) -> si.Kelvin:
    """Return the temperature of mould with a scaled heat content [K].

    Parameters
    ----------
    own : float [K]
    mould : array [by column], shape (15,)

    Returns
    -------
    float [K]
    """
    return float(
        mould[0]
        + own * (mould[5] + own * (mould[6] + own * (mould[7] + own * (mould[8] + own * mould[9]))))
    )


@kernel
def set_conductances(
    u: KelvinsSingle,
    mould: si.Table,
    metal: si.Table,
    face_skin: Indices,
    face_cell: Indices,
    facing: si.Ratios,
    skin_temperature: si.Kelvins,
    face: si.Table,
) -> None:
    """Set the conductances of all faces between metal and mould, equation 1.

    They change so little from step to step that this is done now and then.

    Parameters
    ----------
    u : array [K], shape (cells,), single precision
    mould : array [by column], shape (15,)
        Of `pourcast.freeze.voxel_mould.step_planes`.
    metal : array [by column], shape (5,)
        Solid and liquid conductivity in W/(m·K), solidus and liquidus in K, heat
        transfer to the mould in W/(m²·K).
    face_skin, face_cell : array of int
    facing : array [-], shape (faces,)
        Of `pourcast.freeze.voxel_lists.Lists`.
    skin_temperature : array [K], shape (skin,)
    face : array [by column], shape (faces, 2)
        Its first column is filled: G in W/(m²·K).
    """
    side = mould[2]
    solid, liquid, solidus, liquidus, transfer = metal[0], metal[1], metal[2], metal[3], metal[4]
    span = max(liquidus - solidus, 1e-9)
    for at in range(face_cell.size):
        molten = min(max((skin_temperature[face_skin[at]] - solidus) / span, 0.0), 1.0)
        face[at, 0] = 1.0 / (
            1.0 / (transfer * facing[at])
            + 0.5 * side / mould_conductivity(float(u[face_cell[at]]), mould)
            + 0.5 * side / (solid + (liquid - solid) * molten)
        )


@kernel
def set_faces(
    u: KelvinsSingle,
    mould: si.Table,
    face_skin: Indices,
    face_cell: Indices,
    top: si.Integers,
    top_kind: si.Table,
    skin_temperature: si.Kelvins,
    face: si.Table,
    skin_out: si.Table,
    top_rate: si.Table,
) -> None:
    """Set what the metal meets at its faces in one step.

    Parameters
    ----------
    u : array [K], shape (cells,), single precision
    mould : array [by column], shape (15,)
    face_skin, face_cell, top : array of int
        Of `pourcast.freeze.voxel_lists.Lists`.
    top_kind : array [by column], shape (2,)
        Convection or conduction of a cover in W/(m²·K), emissivity.
    skin_temperature : array [K], shape (skin,)
    face : array [by column], shape (faces, 2)
        Its second column is filled: mould temperature in K.
    skin_out : array [by column], shape (skin, 2)
        Filled: sum of G, sum of G times temperature.
    top_rate : array [by column], shape (top,)
        Filled: h_r in W/(m²·K).
    """
    room = mould[3]
    skin_out[:] = 0.0
    for at in range(np.uint64(face_cell.size)):
        q = face_skin[at]
        warm = mould_temperature(float(u[face_cell[at]]), mould)
        face[at, 1] = warm
        skin_out[q, 0] += face[at, 0]
        skin_out[q, 1] += face[at, 0] * warm
    for at in range(top.size):
        q = top[at]
        warm = skin_temperature[q]
        rate = top_kind[0] + top_kind[1] * STEFAN_BOLTZMANN * (warm * warm + room * room) * (
            warm + room
        )
        top_rate[at] = rate
        skin_out[q, 0] += rate
        skin_out[q, 1] += rate * room


@kernel
def give_heat(
    mu: si.Ratio,
    step: si.Second,
    v: KelvinsSingle,
    mould: si.Table,
    face_skin: Indices,
    face_cell: Indices,
    face: si.Table,
    top: si.Integers,
    top_rate: si.Table,
    skin_sum: KelvinSeconds,
) -> si.Joule:
    """Give the mould what the metal lost, equation 2; return what the top lost [J].

    Parameters
    ----------
    mu : float [-]
        Weight of the pass; what is returned is without it.
    step : float [s]
    v : array [K], shape (cells,), single precision
        Changed.
    mould : array [by column], shape (15,)
    face_skin, face_cell, top : array of int
    face : array [by column], shape (faces, 2)
    top_rate : array [by column], shape (top,)
    skin_sum : array [K·s], shape (skin,)

    Returns
    -------
    float [J]
    """
    side, room = mould[2], mould[3]
    scale = mu / (mould[1] * side)
    for at in range(face_cell.size):
        v[face_cell[at]] += scale * face[at, 0] * (skin_sum[face_skin[at]] - face[at, 1] * step)
    gone = 0.0
    for at in range(top.size):
        gone += top_rate[at] * (skin_sum[top[at]] - room * step) * side * side
    return gone


@kernel
def set_ways(
    u: KelvinsSingle,
    content: si.Table,
    mould: si.Table,
    cores: int,
    nodes: int,
    pair: si.Integers,
    fixed: si.Table,
    reach: PerMetres,
    outer_node: si.Integers,
    outer_cell: Indices,
    outer_reach: PerMetres,
    conductance: si.Table,
    outer_face: si.Table,
    outer: si.Table,
) -> None:
    """Set the conductances of the stacks for one step.

    Parameters
    ----------
    u : array [K], shape (cells,), single precision
    content : array [by column], shape (nodes,)
        Of shells: scaled heat content in K.
    mould : array [by column], shape (15,)
    cores, nodes : int
    pair, outer_node, outer_cell : array of int
    fixed : array [by column], shape (ways,)
        K/W.
    reach, outer_reach : array [1/m], shape (ways,) and (outer,)
        Of `pourcast.freeze.stacks_graph.Graph`.
    conductance : array [by column], shape (ways,)
        Filled, in W/K.
    outer_face : array [by column], shape (outer, 2)
        Filled: conductance in W/K, mould temperature in K.
    outer : array [by column], shape (nodes + ports, 2)
        Filled: sum of the conductances, sum of them times the temperature.
    """
    for way in range(fixed.size):
        one, other = pair[way, 0], pair[way, 1]
        carried = mould_conductivity(content[other], mould)
        if cores <= one < nodes:
            carried = 0.5 * (carried + mould_conductivity(content[one], mould))
        conductance[way] = 1.0 / (fixed[way] + reach[way] / carried)
    for node in range(outer.shape[0]):
        outer[node, 0] = 0.0
        outer[node, 1] = 0.0
    for at in range(outer_node.size):
        node = outer_node[at]
        own = float(u[outer_cell[at]])
        carried = 0.5 * (mould_conductivity(own, mould) + mould_conductivity(content[node], mould))
        flow = carried / outer_reach[at]
        warm = mould_temperature(own, mould)
        outer_face[at, 0] = flow
        outer_face[at, 1] = warm
        outer[node, 0] += flow
        outer[node, 1] += flow * warm


@kernel
def give_from_stacks(
    mu: si.Ratio,
    step: si.Second,
    v: KelvinsSingle,
    mould: si.Table,
    outer_node: si.Integers,
    outer_cell: Indices,
    outer_face: si.Table,
    sums: KelvinSeconds,
) -> None:
    """Give the mould cells what the outer shells of the stacks lost.

    Parameters
    ----------
    mu : float [-]
        Weight of the pass.
    step : float [s]
    v : array [K], shape (cells,), single precision
        Changed.
    mould : array [by column], shape (15,)
    outer_node, outer_cell : array of int
    outer_face : array [by column], shape (outer, 2)
    sums : array [K·s], shape (nodes + ports,)
    """
    scale = mu / (mould[1] * mould[2] ** 3)
    for at in range(outer_node.size):
        v[outer_cell[at]] += (
            scale * outer_face[at, 0] * (sums[outer_node[at]] - outer_face[at, 1] * step)
        )
