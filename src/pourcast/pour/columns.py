"""Columns: the names and units of the tables that the kernels work on.

A *run* is a segment taken in one direction of flow.  Run r < segments is
segment r taken from its start, run segments + r the same segment from its end;
the second is used only where the piece has loops.
"""

from pourcast import units as si
from pourcast.kernels import small_kernel

# One row per draw: what is the same for all runs.
(
    DENSITY,  # kg/m³
    VISCOSITY,  # Pa·s
    LIQUIDUS,  # K
    HALF_SOLID,  # K
    SOLIDUS,  # K
    SPECIFIC_HEAT,  # J/(kg·K)
    LATENT_HEAT,  # J/kg
    METAL_CONDUCTIVITY,  # W/(m·K), liquid
    TIP_HEAT_STOP,  # J/kg, heat content at which a tip stops
    CHOKE_HEAT_STOP,  # J/kg, heat content at which a passage closes
    CHOKE,  # -, the same as solid fraction
    CUP_HEAT,  # J/kg, heat content of the metal in the cup
    MOULD_TEMPERATURE,  # K
    INTERFACE,  # W/(m²·K)
    CONDUCTIVITY,  # W/(m·K)
    DIFFUSIVITY,  # m²/s
    PERMEABILITY,  # m²
    POROSITY,  # -
    GAS_VISCOSITY,  # Pa·s
    AIR_PRESSURE,  # Pa
    VACUUM,  # Pa, below the air
    PUMP_TIME,  # s
    LEAD_TIME,  # s
    PORE_TIME,  # s, at the mean of air and pump pressure
    METAL_VOLUME,  # m³
    POUR_RATE,  # m³/s
    START_HEAD,  # m
    ROUGHNESS,  # m
    ENTRY_LOSS,  # -
    FORK_LOSS,  # -
    ENTRY_PRESSURE,  # Pa·m, threshold pressure times area over girth
    CUP_TOP_RADIUS,  # m
    CUP_HEIGHT,  # m
    GATE_RADIUS,  # m
    PIECE_RADIUS,  # m
    PIECE_HEIGHT,  # m
    BLOCK_RADIUS,  # m
    CHAR_ACTIVATION,  # K, activation energy over the gas constant; 0: no char
    CHAR_LOG_RATE,  # -, natural logarithm of the rate in 1/s
    PARAMETERS,
) = range(40)

# One row per run: what does not change during a pour.
(
    LENGTH,  # m
    AREA,  # m², volume over length
    DRAG,  # Pa·s/m⁴, laminar
    BORE,  # m, 4 area / girth
    GIRTH_AREA,  # 1/m, wall over volume
    AREA_GIRTH_START,  # m, area over girth
    AREA_GIRTH_END,  # m
    RADIUS,  # m, girth / 2π
    LOG_RADIUS,  # -, natural logarithm of RADIUS in m
    Z_START,  # m
    Z_END,  # m
    LOSS,  # -, velocity heads lost at its start
    ROUGH,  # -, roughness term of the friction law
    ENTRY,  # Pa·m, threshold pressure times area over girth, with the factor of the member
    SHARE,  # -, of the vacuum that is felt here long after pump on
    COOLING,  # W/(kg·K), interface heat transfer times girth over the mass per length
    WALL_WEIGHT,  # -, interface heat transfer times RADIUS over conductivity of the mould
    WALL_RATE,  # 1/s, π diffusivity of the mould over RADIUS squared
    BODY,  # m³, metal that the run holds when it is full
    INERTIA_PER_LENGTH,  # kg/m⁵, mean of density over area
    SWIRL_PER_LENGTH,  # Pa·s²/m⁷, turbulent drag over the friction factor
    REYNOLDS,  # s/m³, Reynolds number over flow
    WEIGHT,  # Pa, of the metal in it from its start to its end
    TAPER,  # -, root of the area at its end over that at its start, less 1
    AREA_START,  # m²
    LOSS_SQUARE,  # Pa·s²/m⁶, heads lost at its start over the flow squared
    CALM_FLOW,  # m³/s, up to which the flow is laminar
    NEXT,  # m³, that the runs that lead on from its end hold; without end where none do
    FIXED,
) = range(29)

# One row per run: what changes.
(
    FLOW,  # m³/s, of a run with a front; of a full one see LINK_FLOW
    FLOW_BEFORE,  # m³/s, the same at the start of the step
    INERTIA,  # kg/m⁴, pressure per change of flow with time
    WET_DRAG,  # Pa·s/m³, of slow flow
    SQUARE,  # Pa·s²/m⁶, heads lost, whatever the flow
    SWIRL,  # Pa·s²/m⁶, turbulent drag over the friction factor
    PUSH,  # Pa, weight of the metal behind a front less the threshold pressure there
    INLET,  # Pa, pressure at the start, where links are made and where a front stops
    HEAT,  # J/kg, heat content of the metal behind the front
    FRONT,  # m, how far the metal has come: its volume over AREA
    TIP_HEAT,  # J/kg, heat content of the parcel at the front
    TIP_AGE,  # s, mean time that the face at the front has been in touch
    TIP_AT,  # s, time that both belong to
    WETTED_AT,  # s
    HEATED_AT,  # s, time that HEAT belongs to
    FULL_AT,  # s
    BEHIND,  # m, from the narrow mouth that warms the front to the start of the run
    HELD,  # m³, metal in the run when HEAT was last worked out
    FED,  # m³, that has flowed in since, less LINK_FED of its link
    HEAT_HOLD,  # kg/s, scratch of the pass over the heat
    HEAT_SUM,  # W, the same
    HEAT_LINK,  # kg/s, the same: between the run and its parent
    TEMPERATURE,  # K, the same
    HEAT_SHARE,  # s/kg, the same: one over HEAT_HOLD and HEAT_LINK
    ENTERS,  # 1: the rush carries the front in; scratch of an arrival
    MOVING,
) = range(26)

# One integer row per run.
(
    STATE,
    PARENT,  # run that led here, NONE for the cup
    POCKET,
    OPEN,  # 1: the front is not held back
    STOPPED,  # cause, codes of `pourcast.pour.model`; FULL: none yet
    FORKS,  # at its start: 0 one way on, 1 several, 2 it starts at the cup
    MOUTH,  # 1: the front lies behind a narrow mouth
    FEEDER,  # run before the mouth that the front lies behind, NONE for the cup
    LINK,  # row of the link that it belongs to, NONE: none yet
    ONWARD,  # runs in play that it feeds
    COUNTED,  # the same while they are counted; 0 between
    MARKS,
) = range(12)

DRY, RUNNING, WET, DEAD = 0, 1, 2, 3

NONE = 2**32 - 1
"""No row.  Rows are held unsigned: a kernel would look at a signed one for a count from the end."""

# One row per pocket of gas.
(
    GAS_VOLUME,  # m³
    WALL_LENGTH,  # m, of dry passage
    WALL_LOG,  # m, sum of length · LOG_RADIUS
    WALL_SHARE,  # m, sum of length · SHARE
    ENDS,  # m, sum of 2π radius over its closed ends
    FACES,  # m, the same with the fronts that border on it
    VENT_AIR,  # m³/(Pa·s)
    VENT_PUMP,  # m³/(Pa·s)
    GAS_PRESSURE,  # Pa
    LEAST_VOLUME,  # m³
    LISTED,  # place in the list of pockets that a front borders on, from 1; 0: none
    INFLOW,  # m³/s, of metal
    WETTED,  # m/s, sum of the speeds of its fronts at the start of the step
    LEAK,  # m³/(Pa·s), through the block
    LEAK_ALL,  # m³/(Pa·s), with vents
    FELT,  # -, share of the vacuum that is felt round its wall
    SPREAD_AT,  # m, spread of the gas that LEAK and FELT belong to; NOT_KNOWN: work them out
    STIFFNESS,  # Pa·s/m³, rise of pressure per flow in this step
    FORECAST,  # Pa, pressure at the end of the step if the flow stays
    VOLUME_NOW,  # m³, at the start of the step
    HELD_GAS,  # J, pressure times volume, with what comes in through the block in this step
    POCKET_COLUMNS,
) = range(22)

NOT_KNOWN = 0.0
"""Of SPREAD_AT: the pocket has changed since."""

LANES = 32
"""Fronts, pockets or runs whose numbers are laid beside one another at a time."""
LANE_ROOM = 20 * LANES
"""Numbers that the lanes hold: at most twenty of each front, pocket or run."""

# One row per link of runs that share a flow.
(
    LINK_FLOW,  # m³/s, at the end of the step, or the last guess of it
    LINK_BEFORE,  # m³/s, at the start of the step
    LINK_INLET,  # Pa, pressure at its start
    LINK_INERTIA,  # kg/m⁴, of its full runs
    LINK_WEIGHT,  # Pa, of its full runs
    LINK_DRAG,  # Pa·s/m³, of slow flow in its full runs
    LINK_SQUARE,  # Pa·s²/m⁶, turbulent drag and heads lost in its full runs
    LINK_CALM,  # m³/s, up to which the flow in its full runs is laminar
    LINK_FLOW_AT,  # m³/s, that its drag belongs to; under 0: none
    GAIN,  # m³/(Pa·s), flow per inlet pressure in this step
    OFFSET,  # m³/s, flow at no inlet pressure
    LINK_PUSH,  # Pa, pressure at its end over that at its start if the flow were none
    LINK_STIFF,  # Pa·s/m³, by which its flow lowers that
    LINK_OUTLET,  # Pa, pressure at its end
    GAIN_SUM,  # m³/(Pa·s), of the links that follow; 0 between passes
    OFFSET_SUM,  # m³/s; 0 between passes
    FLOW_GUESS,  # m³/s, about which the last pass was made straight
    FLOW_SUM,  # m³/s
    LINK_FED,  # m³, that has flowed through since heat was worked out or the link was made
    LINK_COLUMNS,
) = range(20)

# One integer row per link.
(
    UPSTREAM,  # link that feeds it, NONE for the cup
    TAIL,  # its last run
    PLACE,  # of its front in the list of fronts
    LINK_MARKS,
) = range(4)


@small_kernel
def of_width(table: si.Table | si.Places, width: int) -> None:
    """Hold a table to its width, so that the compiler knows how far apart its rows are.

    Else each row that is looked up costs a product with a number that must be fetched.

    Parameters
    ----------
    table : array [by column]
    width : int
        Number of its columns.

    Raises
    ------
    ValueError
        If the table has another number of columns.
    """
    if table.shape[1] != width:
        raise ValueError("a table of another width")
