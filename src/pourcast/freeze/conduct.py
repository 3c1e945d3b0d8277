"""Conduct: how heat runs along the metal from body to body in one step.

Model: a node where bodies meet holds no heat; its temperature T_n is that at
which what flows in flows out.  With g the conductance from the middle of a body to
its end, and s the heat a body takes up for each kelvin in the step,

    (s + G) T + Σ g (T - T_n) = r          body                              (1)
    Σ g (T_n - T) = 0                      node                              (2)

all at the end of the step, so that no step is too long.  The piece hangs
together as a tree: bodies are put out from the tips to the gate and then put
in from the gate to the tips, without any matrix.  Each ring is cut at one end;
the flow λ over each cut follows from the answers of the tree to a unit flow over it,

    λ_i / g_i = T_body(i) - T_node(i),   T = T⁰ + Σ λ_j U_j                  (3)

Flows are worked out from the temperatures, each taken from one body and given
to the other, so heat is kept to rounding.
"""

from pourcast import units as si
from pourcast.kernels import kernel

_NOTHING_MEETS = 1e100
"""W/K, of a node on which nothing hangs and where nothing ends: its ease is then none, without
a second choice in the loop, which would cost a twentieth of the freezing."""


@kernel
def put_out(
    near: si.Places,
    far: si.Places,
    near_way: si.WattsPerKelvin,
    far_way: si.WattsPerKelvin,
    stiff: si.WattsPerKelvin,
    given: si.Watts,
    pull: si.WattsPerKelvin,
    share: si.Ratios,
    ease: si.KelvinsPerWatt,
    node_ease: si.KelvinsPerWatt,
    node_given: si.Watts,
    free: si.Kelvins,
) -> None:
    """Put out all bodies from the tips to the gate, with the heats of the right side.

    Parameters
    ----------
    near, far : array of int, shape (bodies,)
    near_way, far_way : array [W/K], shape (bodies,)
        Conductance to each end, 0 where nothing passes.
    stiff : array [W/K], shape (bodies,)
        s + G of equation 1.
    given : array [W], shape (bodies,)
        r of equation 1.
    pull : array [W/K], shape (nodes,)
        Filled: conductance of all that hangs on a node, at the gate what the button sees.
    share : array [-], shape (bodies,)
        Filled: by which a body follows the node it hangs on.
    ease : array [K/W], shape (bodies,)
    node_ease : array [K/W], shape (nodes,)
        Filled: kelvin for each watt.
    node_given : array [W], shape (nodes,)
    free : array [K], shape (bodies,)
        Filled, as `gather` does from no heat at the nodes.
    """
    for node in range(pull.size):
        pull[node] = 0.0
        node_ease[node] = 0.0
        node_given[node] = 0.0
    for body in range(near.size - 1, -1, -1):
        end = far[body]
        outer = far_way[body]
        hanging = pull[end]
        inner = near_way[body]
        total = outer + hanging
        if total <= 0.0:
            total = _NOTHING_MEETS
        # One division for 1/total and 1/weight: for each body that is what takes the time.
        own = stiff[body] * total + outer * hanging
        weight = own + inner * total  # times total
        both = 1.0 / (total * weight)
        node_ease[end] = weight * both
        ease[body] = total * total * both
        share[body] = inner * ease[body]
        pull[near[body]] += inner * own * (total * both)
        # As `gather` does, while all of it is at hand.
        free[body] = (given[body] + outer * node_ease[end] * node_given[end]) * ease[body]
        node_given[near[body]] += inner * free[body]


@kernel
def gather(
    near: si.Places,
    far: si.Places,
    near_way: si.WattsPerKelvin,
    far_way: si.WattsPerKelvin,
    ease: si.KelvinsPerWatt,
    node_ease: si.KelvinsPerWatt,
    given: si.Watts,
    node_given: si.Watts,
    free: si.Kelvins,
) -> None:
    """Carry the heats of another right side from the tips to the gate.

    Parameters
    ----------
    near, far : array of int, shape (bodies,)
    near_way, far_way : array [W/K], shape (bodies,)
    ease : array [K/W], shape (bodies,)
    node_ease : array [K/W], shape (nodes,)
        From `put_out`.
    given : array [W], shape (bodies,)
        r of equation 1.
    node_given : array [W], shape (nodes,)
        Heat put in at nodes; what hangs on a node is added to it.
    free : array [K], shape (bodies,)
        Filled: temperature that a body would have if the node it hangs on were at 0 K.
    """
    for body in range(near.size - 1, -1, -1):
        end = far[body]
        heat = given[body] + far_way[body] * node_ease[end] * node_given[end]
        free[body] = heat * ease[body]
        node_given[near[body]] += near_way[body] * free[body]


@kernel
def put_in(
    near: si.Places,
    far: si.Places,
    far_way: si.WattsPerKelvin,
    share: si.Ratios,
    node_ease: si.KelvinsPerWatt,
    node_given: si.Watts,
    free: si.Kelvins,
    temperature: si.Kelvins,
    node_temperature: si.Kelvins,
) -> None:
    """Put the temperatures in from the gate to the tips; that of the gate is known.

    Parameters
    ----------
    near, far : array of int, shape (bodies,)
    far_way : array [W/K], shape (bodies,)
    share : array [-], shape (bodies,)
    node_ease : array [K/W], shape (nodes,)
    node_given : array [W], shape (nodes,)
    free : array [K], shape (bodies,)
        From `put_out` and `gather`.
    temperature : array [K], shape (bodies,)
    node_temperature : array [K], shape (nodes,)
        Filled but for the gate, node 0.
    """
    for body in range(near.size):
        end = far[body]
        found = free[body] + share[body] * node_temperature[near[body]]
        temperature[body] = found
        # A node on which nothing hangs and where nothing ends has no temperature.
        node_temperature[end] = (far_way[body] * found + node_given[end]) * node_ease[end]


@kernel
def solve_dense(matrix: si.Table, right: si.Watts) -> None:
    """Replace a right side by the answer of a small full system, equation 3.

    Parameters
    ----------
    matrix : array [by column], shape (rings, rings)
        In K/W; overwritten.
    right : array [W], shape (rings,)
        Kelvins on entry, watts on return.
    """
    count = right.size
    for column in range(count):
        for row in range(column + 1, count):
            factor = matrix[row, column] / matrix[column, column]
            for place in range(column, count):
                matrix[row, place] -= factor * matrix[column, place]
            right[row] -= factor * right[column]
    for row in range(count - 1, -1, -1):
        for place in range(row + 1, count):
            right[row] -= matrix[row, place] * right[place]
        right[row] /= matrix[row, row]
