"""Room: the arrays that one thread freezes its castings in, made once."""

from typing import Any, NamedTuple

import numpy as np

from pourcast import units as si
from pourcast.freeze.columns import CURVE_ROWS, PIECES
from pourcast.freeze.rings import RINGS, SLICES
from pourcast.freeze.wall import POLES


class Room(NamedTuple):
    """Arrays of one casting; the kernels make none of their own.

    Parameters
    ----------
    mass : array [kg], shape (bodies + SLICES,)
    heat : array [J/kg], shape (bodies + SLICES,)
    before : array [J/kg], shape (bodies + SLICES,)
        Heat at the beginning of a step.
    temperature, found : array [K], shape (bodies + SLICES,)
        Before and after a step.
    slope : array [kg·K/J], shape (bodies + SLICES,)
    solid : array [-], shape (bodies + SLICES,)
    piece, passes, passing : array of int, shape (bodies + SLICES,)
    given : array [W], shape (bodies + SLICES,)
    volume : array [m³], shape (bodies + SLICES,)
    face : array [m²], shape (bodies,)
    radius, near_size, far_size : array [m], shape (bodies,)
    ends, soaked : array [W/(m²·K)], shape (bodies,)
    wetted : array [s], shape (bodies,)
    past, free : array [K], shape (bodies,)
    resistance, swift : array [m²·K/W], shape (bodies,)
    flow, unsoaked : array [W/m²], shape (bodies,)
    lost, stiff, near_way, far_way : array [W/K], shape (bodies,)
    returned, right, fed : array [W], shape (bodies,)
    share, lead : array [-], shape (bodies,)
    ease : array [K/W], shape (bodies,)
    pull : array [W/K], shape (nodes,)
    node_ease : array [K/W], shape (nodes,)
    node_given : array [W], shape (nodes,)
    node_found : array [K], shape (nodes,)
    weight : array [by column], shape (POLES + 1, bodies)
    steeped : array [by column], shape (POLES + 1, bodies)
    keep : array [-], shape (POLES + 1,)
    gain : array [s], shape (POLES + 1,)
    curve : array [by column], shape (CURVE_ROWS, PIECES)
    level : array [J/kg], shape (5,)
    base_heat : array [J/kg], shape (PIECES,)
    base_temperature : array [K], shape (PIECES,)
    rise : array [kg·K/J], shape (PIECES,)
        Its first three rows again.
    slice_face : array [m²], shape (SLICES,)
    slice_across : array [m²], shape (SLICES + 1,)
    slice_touch, slice_outer, slice_way, slice_stiff, ring_hold : array [W/K], shape (SLICES,)
    slice_given, ring_drawn : array [W], shape (SLICES,)
    slice_share : array [-], shape (SLICES,)
    slice_free : array [K], shape (SLICES,)
    ring_room : array [J/K], shape (SLICES, RINGS)
    ring_way : array [W/K], shape (SLICES, RINGS + 1)
    ring, ring_free : array [K], shape (SLICES, RINGS)
    ring_share : array [-], shape (SLICES, RINGS)
    over_body : array [K], shape (rings, bodies + SLICES)
    over_node : array [K], shape (rings, nodes)
        Answers of the tree to a flow of 1 W over each cut.
    dense : array [by column], shape (rings, rings)
    over : array [W], shape (rings,)
    """

    mass: si.Kilograms
    heat: si.JoulesPerKilogram
    before: si.JoulesPerKilogram
    temperature: si.Kelvins
    found: si.Kelvins
    slope: si.KilogramKelvinsPerJoule
    solid: si.Ratios
    piece: si.Integers
    passes: si.Integers
    passing: si.Integers
    given: si.Watts
    volume: si.CubicMetres
    face: si.SquareMetres
    radius: si.Metres
    near_size: si.Metres
    far_size: si.Metres
    ends: si.WattsPerSquareMetreKelvin
    wetted: si.Seconds
    past: si.Kelvins
    free: si.Kelvins
    resistance: si.SquareMetresKelvinPerWatt
    swift: si.SquareMetresKelvinPerWatt
    flow: si.WattsPerSquareMetre
    soaked: si.WattsPerSquareMetreKelvin
    unsoaked: si.WattsPerSquareMetre
    lost: si.WattsPerKelvin
    stiff: si.WattsPerKelvin
    near_way: si.WattsPerKelvin
    far_way: si.WattsPerKelvin
    returned: si.Watts
    right: si.Watts
    fed: si.Watts
    share: si.Ratios
    lead: si.Ratios
    ease: si.KelvinsPerWatt
    pull: si.WattsPerKelvin
    node_ease: si.KelvinsPerWatt
    node_given: si.Watts
    node_found: si.Kelvins
    weight: si.Table
    steeped: si.Table
    keep: si.Ratios
    gain: si.Seconds
    curve: si.Table
    level: si.JoulesPerKilogram
    base_heat: si.JoulesPerKilogram
    base_temperature: si.Kelvins
    rise: si.KilogramKelvinsPerJoule
    slice_face: si.SquareMetres
    slice_across: si.SquareMetres
    slice_touch: si.WattsPerKelvin
    slice_outer: si.WattsPerKelvin
    slice_way: si.WattsPerKelvin
    slice_stiff: si.WattsPerKelvin
    ring_hold: si.WattsPerKelvin
    slice_given: si.Watts
    ring_drawn: si.Watts
    slice_share: si.Ratios
    slice_free: si.Kelvins
    ring_room: si.JoulesPerKelvin
    ring_way: si.WattsPerKelvin
    ring: si.Kelvins
    ring_free: si.Kelvins
    ring_share: si.Ratios
    over_body: si.Kelvins
    over_node: si.Kelvins
    dense: si.Table
    over: si.Watts


def room(bodies: int, nodes: int, rings: int) -> Room:
    """Return the room of one thread.

    Parameters
    ----------
    bodies, nodes, rings : int
        Of the piece; rings that were cut.

    Returns
    -------
    Room
    """
    shapes: dict[str, tuple[int, ...]] = {}
    for name in ("mass", "heat", "temperature", "found", "slope", "solid", "given", "volume"):
        shapes[name] = (bodies + SLICES,)
    for name in ("pull", "node_ease", "node_given", "node_found"):
        shapes[name] = (nodes,)
    for name in ("weight", "steeped"):
        shapes[name] = (POLES + 1, bodies)
    for name in ("keep", "gain"):
        shapes[name] = (POLES + 1,)
    shapes["curve"] = (CURVE_ROWS, PIECES)
    shapes["level"] = (PIECES - 1,)
    for name in ("face", "touch", "outer", "way", "stiff", "given", "share", "free"):
        shapes[f"slice_{name}"] = (SLICES,)
    shapes["slice_across"] = (SLICES + 1,)
    shapes["ring_hold"] = shapes["ring_drawn"] = (SLICES,)
    for name in ("ring_room", "ring", "ring_free", "ring_share"):
        shapes[name] = (SLICES, RINGS)
    shapes["ring_way"] = (SLICES, RINGS + 1)
    shapes["over_body"] = (rings, bodies + SLICES)
    shapes["over_node"] = (rings, nodes)
    shapes["dense"] = (rings, rings)
    shapes["over"] = (rings,)
    made: dict[str, Any] = {name: np.zeros(shapes.get(name, (bodies,))) for name in Room._fields}
    for row, name in enumerate(("base_heat", "base_temperature", "rise")):
        made[name] = made["curve"][row]
    made["before"] = np.zeros(bodies + SLICES)
    for name in ("piece", "passes", "passing"):
        made[name] = np.zeros(bodies + SLICES, dtype=np.int64)
    return Room(**made)
