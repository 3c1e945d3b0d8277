"""Step of the stacks: one stage of cores, shells and ports; see `pourcast.freeze.stacks`.

The stages are those of the metal cells (`pourcast.freeze.voxel_metal`, equation 2), with
the same weights, so that heat passes between stacks and cells without loss.  A core holds
its heat content per volume, a shell its scaled heat content u.
"""

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_mould import poly5
from pourcast.freeze.voxel_types import (
    Heat,
    HeatsSingle,
    Indices,
    KelvinSeconds,
    Potentials,
    PotentialsSingle,
    TableSingle,
)
from pourcast.kernels import kernel

_LAST_ENTRY = 2  # the last entry of the table but one begins the last piece


@kernel
def gains_of_nodes(
    share: si.Second,
    metal_pair: si.Integers,
    metal_length: si.Metres,
    pair: si.Integers,
    conductance: si.Table,
    outer: si.Table,
    temperature: si.Kelvins,
    potential: Potentials,
    sums: KelvinSeconds,
    gain: si.Watts,
) -> None:
    """Write what flows into each node, and add up the temperatures for the mould.

    Parameters
    ----------
    share : float [s]
        Weight of this stage in the whole.
    metal_pair, pair : array of int
    metal_length : array [m]
        Of `pourcast.freeze.stacks_graph.Graph`.
    conductance : array [by column], shape (ways,)
        W/K.
    outer : array [by column], shape (nodes, 2)
        Conductance to mould cells in W/K, and that times their temperature.
    temperature : array [K], shape (nodes,)
    potential : array [W/m], shape (nodes,)
        Of cores and ports.
    sums : array [K·s], shape (nodes,)
        Added to.
    gain : array [W], shape (nodes,)
        Filled.
    """
    for node in range(gain.size):
        warm = temperature[node]
        gain[node] = outer[node, 1] - outer[node, 0] * warm
        sums[node] += share * warm
    for link in range(metal_length.size):
        one, other = metal_pair[link, 0], metal_pair[link, 1]
        flux = metal_length[link] * (potential[one] - potential[other])
        gain[one] -= flux
        gain[other] += flux
    for way in range(conductance.size):
        one, other = pair[way, 0], pair[way, 1]
        flux = conductance[way] * (temperature[one] - temperature[other])
        gain[one] -= flux
        gain[other] += flux


@kernel
def stage_of_nodes(
    cores: int,
    mu: si.Ratio,
    nu: si.Ratio,
    weight: si.Second,
    heat_step: Heat,
    mould: si.Table,
    capacity: si.Table,
    content: si.Table,
    d1: si.Table,
    d2: si.Table,
    gain: si.Watts,
    temperature: si.Kelvins,
    potential: Potentials,
    table: TableSingle,
) -> None:
    """Make one stage in cores and shells.

    Parameters
    ----------
    cores : int
        The first nodes are cores.
    mu, nu : float [-]
    weight : float [s]
    heat_step : float [J/m³]
        Of the table.
    mould : array [by column], shape (15,)
        Of `pourcast.freeze.voxel_mould.step_planes`.
    capacity : array [by column], shape (nodes,)
        Volume in m³ of a core, heat capacity in J/K of a shell.
    content : array [by column], shape (nodes,)
        At the start of the step: J/m³ of a core, u in K of a shell.
    d1, d2 : array [by column], shape (nodes,)
        As in `pourcast.freeze.voxel_metal.stage_of_cells`, in the units of ``content``.
    gain : array [W], shape (nodes,)
    temperature : array [K], shape (nodes,)
    potential : array [W/m], shape (nodes,)
        Both filled.
    table : array [by column], shape (entries, 4)
    """
    for node in range(capacity.size):
        d2[node] = mu * d1[node] + nu * d2[node] + weight * gain[node] / capacity[node]
    state_of_nodes(cores, heat_step, mould, content, d2, temperature, potential, table)


@kernel
def state_of_nodes(
    cores: int,
    heat_step: Heat,
    mould: si.Table,
    content: si.Table,
    change: si.Table,
    temperature: si.Kelvins,
    potential: Potentials,
    table: TableSingle,
) -> None:
    """Write the temperature of cores and shells, and F of the cores.

    Parameters
    ----------
    cores : int
    heat_step : float [J/m³]
    mould : array [by column], shape (15,)
        Of `stage_of_nodes`.
    content, change : array [by column], shape (nodes,)
        At the start of the step, and what was added to it.
    temperature : array [K], shape (nodes,)
    potential : array [W/m], shape (nodes,)
        Both filled.
    table : array [by column], shape (entries, 4)
    """
    t0, t1, t2, t3, t4 = mould[5], mould[6], mould[7], mould[8], mould[9]
    top = table.shape[0] - _LAST_ENTRY
    for node in range(content.size):
        held = content[node] + change[node]
        if node < cores:
            x = min(max(held / heat_step, 0.0), float(top))
            j = int(x)
            potential[node] = table[j, 0] + (x - j) * table[j, 1]
            temperature[node] = table[j, 2] + (x - j) * table[j, 3]
        else:
            temperature[node] = mould[0] + poly5(held, t0, t1, t2, t3, t4)


@kernel
def read_ports(
    nodes: int,
    port_flat: Indices,
    f: PotentialsSingle,
    potential: Potentials,
) -> None:
    """Read F of the ports from the cells.

    Parameters
    ----------
    nodes : int
        Cores and shells; the ports are numbered after them.
    port_flat : array of int, shape (ports,)
        Their flat places.
    f : array [W/m], shape (cells,)
    potential : array [W/m], shape (nodes + ports,)
        Filled.
    """
    for port in range(port_flat.size):
        potential[nodes + port] = f[port_flat[port]]


@kernel
def write_ports(
    nodes: int,
    weight: si.Second,
    volume: si.CubicMetre,
    heat_step: Heat,
    port_flat: Indices,
    port_metal: Indices,
    port_skin: si.Integers,
    base: HeatsSingle,
    d2: HeatsSingle,
    f: PotentialsSingle,
    skin_temperature: si.Kelvins,
    gain: si.Watts,
    temperature: si.Kelvins,
    table: TableSingle,
) -> None:
    """Add to the cells what flows into them at the ports, and read them again.

    Parameters
    ----------
    nodes : int
    weight : float [s]
    volume : float [m³]
        Of a cell.
    heat_step : float [J/m³]
    port_flat, port_metal, port_skin : array of int, shape (ports,)
        Flat place, place among the metal cells, place in the skin or -1.
    base, d2 : array [J/m³], shape (metal,)
    f : array [W/m], shape (cells,)
        These as `pourcast.freeze.voxel_metal.stage_of_cells` takes them.
    skin_temperature : array [K], shape (skin,)
    gain : array [W], shape (nodes + ports,)
    temperature : array [K], shape (nodes + ports,)
        Filled.
    table : array [by column], shape (entries, 4)
    """
    top = table.shape[0] - _LAST_ENTRY
    for port in range(port_flat.size):
        cell = port_metal[port]
        d2[cell] += np.float32(weight * gain[nodes + port] / volume)
        x = min(max((base[cell] + d2[cell]) / heat_step, 0.0), float(top))
        j = int(x)
        f[port_flat[port]] = table[j, 0] + (x - j) * table[j, 1]
        warm = table[j, 2] + (x - j) * table[j, 3]
        temperature[nodes + port] = warm
        if port_skin[port] >= 0:
            skin_temperature[port_skin[port]] = warm
