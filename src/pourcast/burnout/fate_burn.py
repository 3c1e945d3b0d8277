"""Burn: one step of the char of one mass, with the oxygen that the kiln's air holds."""

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.char import ROD, burnt_layer, core_size, powder_rate
from pourcast.burnout.oxygen import burn_step
from pourcast.burnout.oxygen_way import against_stream, diffusivity_at, way_at
from pourcast.kernels import kernel
from pourcast.units import GAS_CONSTANT

_NOTHING = 1e-18  # kg; what is less, or a rounding below 0, is gone


@kernel
def burn_char(
    draw: int,
    step: si.Second,
    here: si.Kelvin,
    at_wall: si.Kelvin,
    is_open: bool,
    stream: si.Mole,
    there: si.Mole,
    room: si.Mole,
    in_cavity: si.Ratio,
    made_share: si.Ratio,
    table: si.Table,
    shared: si.Table,
    half: si.Metres,
    potential: si.Kilograms,
    room_share: si.Ratios,
    ways: si.Metres,
    mass: si.Kilograms,
    core: si.Ratios,
    layer: si.Ratios,
    burnt: si.Kilograms,
) -> tuple[si.Ratio, si.Mole]:
    """Return the mole fraction in the cavity and the oxygen that all masses take.

    Parameters
    ----------
    draw : int
    step : float [s]
    here, at_wall : float [K]
        At the matter and at the face of the block, in the middle of the step.
    is_open : bool
        True where no liquid water shuts the pores to the matter.
    stream : float [mol]
        Gas that leaves one cavity over the step.
    there : float [mol]
        Oxygen in the air of the kiln after all vapour has burnt; > 0.
    room : float [mol]
        Gas that this oxygen is spread over; N of `pourcast.burnout.oxygen`.
    in_cavity : float [-]
        Of the step before.
    made_share : float [-]
        Of the dry matter that has turned to char and vapour.
    table, shared : array [by column]
    half : array [m], shape (classes,)
    potential : array [kg], shape (draws, classes)
    room_share : array [-], shape (shares,)
    ways : array [m], shape (draws, shares)
    mass : array [kg], shape (classes,)
        Char of each class; moved on.
    core, layer : array [-], shape (classes,)
    burnt : array [kg], shape (classes,)
        Room to work in.

    Returns
    -------
    in_cavity : float [-]
    used : float [mol]
    """
    classes = half.size
    all_char, left = 0.0, 0.0
    for each in range(1, classes):
        made = potential[draw, each] * made_share
        all_char += potential[draw, each]
        left += mass[each] + potential[draw, each] - made
        if made > 0.0:
            core[each] = core_size(min(mass[each] / made, 1.0), ROD)
            layer[each] = burnt_layer(core[each], ROD)
    diffusivity, exponent = table[draw, at.DIFFUSIVITY], table[draw, at.EXPONENT]
    pressure, order = table[draw, at.PRESSURE], table[draw, at.CHAR_ORDER]
    between = 0.5 * (here + at_wall)
    way = shared[at.GATE_WAY]
    if is_open:
        way += way_at(left / all_char if all_char > 0.0 else 0.0, draw, room_share, ways)
    free = diffusivity_at(between, pressure, diffusivity, exponent)
    conductance = pressure / (GAS_CONSTANT * between) * free * way
    conductance = step * against_stream(conductance, stream / step)
    in_cavity = burn_step(
        classes,
        step,
        in_cavity,
        there / room,
        conductance * there / (room + shared[at.FLASKS] * conductance),
        pressure / (GAS_CONSTANT * here),
        powder_rate(
            here,
            shared[at.RATE_OXYGEN],
            table[draw, at.CHAR_ACTIVATION],
            table[draw, at.CHAR_LOG10_RATE],
            shared[at.RATE_OXYGEN],
            order,
        ),
        shared[at.RATE_OXYGEN],
        order,
        table[draw, at.STOCK],
        table[draw, at.OPENNESS] * diffusivity_at(here, pressure, diffusivity, exponent),
        ROD,
        half,
        mass,
        core,
        layer,
        burnt,
    )
    used = 0.0
    for each in range(classes):
        used += burnt[each]
        mass[each] -= burnt[each]
        if mass[each] < _NOTHING:
            mass[each] = 0.0
    return in_cavity, used * shared[at.FLASKS] / si.CARBON_MOLAR
