"""Limits: how long a step may be.

The step of the mould is nine tenths of its explicit limit, and less where a mould cell
touches so much metal that its own limit is shorter.  The limit of the metal is that of
the fastest cell, core, shell or port, by Gershgorin's circles: no rate is larger than
the sum of all that a node gives and takes.
"""

import numpy as np

from pourcast import units as si
from pourcast.freeze.stacks_graph import Graph
from pourcast.freeze.voxel_lists import Lists
from pourcast.freeze.voxel_tables import MetalTable, MouldFit

_SHARE_OF_LIMIT = 0.9  # of the explicit limit of the mould
_MOST_DIAGONAL = 1.6  # of a mould cell's own rate times the step; it swings from 1, and grows at 2
_METAL_SHARE = 0.95  # of the limit of the metal
_CELL_RATE = 12.5  # of the diffusivity over side²: 12 by Gershgorin, and a little for the faces


def longest_step(
    lists: Lists,
    graph: Graph,
    fit: MouldFit,
    heat_transfer: si.WattPerSquareMetreKelvin,
    side: si.Metre,
) -> si.Second:
    """Return the longest step of the mould.

    Parameters
    ----------
    lists : Lists
    graph : Graph
    fit : MouldFit
    heat_transfer : float [W/(m²·K)]
        From metal to mould.
    side : float [m]
        Of a cell.

    Returns
    -------
    float [s]
    """
    plain = _SHARE_OF_LIMIT * side * side / (6.0 * fit.fastest)
    best = fit.fastest * fit.capacity
    rate = np.zeros(int(np.prod(lists.shape)))
    near = lists.edge_open.sum(axis=1)
    rate[lists.edge] = near * fit.fastest / side**2
    face = 1.0 / (1.0 / (heat_transfer * lists.facing) + 0.5 * side / best)
    np.add.at(rate, lists.face_cell, face / (fit.capacity * side))
    np.add.at(rate, graph.outer_cell, best / graph.outer_reach / (fit.capacity * side**3))
    return min(plain, _MOST_DIAGONAL / max(float(rate.max(initial=0.0)), 1e-30))


def metal_limit(graph: Graph, table: MetalTable, fit: MouldFit, side: si.Metre) -> si.Second:
    """Return the longest plain step of metal and stacks.

    Parameters
    ----------
    graph : Graph
    table : MetalTable
    fit : MouldFit
    side : float [m]
        Of a cell.

    Returns
    -------
    float [s]
    """
    shells = graph.shells
    stacks, nodes = shells.first.size, shells.volume.size
    cells = _CELL_RATE * table.fastest / side**2
    volume = np.concatenate([shells.volume, np.full(graph.ports.size, side**3)])
    capacity = volume * table.least_capacity
    capacity[stacks:nodes] = volume[stacks:nodes] * fit.capacity
    rate = np.zeros(volume.size)
    rate[nodes:] = cells
    best = fit.fastest * fit.capacity
    conductance = 1.0 / (graph.fixed + graph.reach / best)
    for end in range(2):
        node = graph.metal_pair[:, end]
        np.add.at(rate, node, 2.0 * graph.metal_length * table.fastest / volume[node])
        node = graph.pair[:, end]
        np.add.at(rate, node, 2.0 * conductance / capacity[node])
    node = graph.outer_node
    np.add.at(rate, node, best / graph.outer_reach / capacity[node])
    return _METAL_SHARE * 2.0 / max(cells, float(rate.max(initial=0.0)))
