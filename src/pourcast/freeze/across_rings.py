"""Across rings: the heat that runs over the cuts of a piece that has rings.

Equation 3 of `pourcast.freeze.conduct`.  A piece without rings never comes here.
"""

from pourcast import units as si
from pourcast.freeze.button import button_solve
from pourcast.freeze.conduct import gather, put_in, solve_dense
from pourcast.freeze.rings import SLICES
from pourcast.freeze.room import Room
from pourcast.kernels import kernel


@kernel
def close_rings(
    bodies: int,
    near: si.Places,
    far: si.Places,
    cut: si.Integers,
    meets: si.Integers,
    found: si.Kelvins,
    node_found: si.Kelvins,
    held: Room,
) -> None:
    """Correct the temperatures of the cut tree for what runs over its cuts.

    Parameters
    ----------
    bodies : int
    near, far : array of int, shape (bodies,)
    cut, meets : array of int, shape (rings,)
        Bodies that are cut at their far end, and the nodes where they meet the rest.
    found : array [K], shape (bodies + SLICES,)
    node_found : array [K], shape (nodes,)
        Answers of the cut tree; corrected.
    held : Room
        ``over`` is filled: what runs from each cut body to its node.
    """
    rings = cut.size
    right = held.right
    for ring in range(rings):
        right[:] = 0.0
        held.slice_given[:] = 0.0
        held.node_given[:] = 0.0
        way = held.far_way[cut[ring]]
        if way > 0.0:
            right[cut[ring]] = -1.0
            held.node_given[meets[ring]] = 1.0
        gather(
            near,
            far,
            held.near_way,
            held.far_way,
            held.ease,
            held.node_ease,
            right,
            held.node_given,
            held.free,
        )
        answer = held.over_body[ring]
        node_answer = held.over_node[ring]
        node_answer[0] = button_solve(
            bodies,
            held.pull[0],
            held.node_given[0],
            held.slice_stiff,
            held.slice_given,
            held.slice_way,
            held.slice_share,
            held.slice_free,
            answer,
        )
        put_in(
            near,
            far,
            held.far_way,
            held.share,
            held.node_ease,
            held.node_given,
            held.free,
            answer,
            node_answer,
        )
    for row in range(rings):
        body = cut[row]
        node = meets[row]
        held.over[row] = found[body] - node_found[node]
        for column in range(rings):
            change = held.over_body[column, body] - held.over_node[column, node]
            held.dense[row, column] = -change
        way = held.far_way[body]
        if way > 0.0:
            held.dense[row, row] += 1.0 / way
        else:
            held.over[row] = 0.0
            for column in range(rings):
                held.dense[row, column] = 0.0
            held.dense[row, row] = 1.0
    solve_dense(held.dense, held.over)
    for ring in range(rings):
        flow = held.over[ring]
        for body in range(bodies + SLICES):
            found[body] += flow * held.over_body[ring, body]
        for node in range(node_found.size):
            node_found[node] += flow * held.over_node[ring, node]
