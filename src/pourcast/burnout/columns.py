"""Columns: which row or column of the tables of the block holds what.

The kernels of the burnout work on tables of numbers, since they make no arrays
of their own.  Unit and meaning of each row stand here.
"""

# Of one draw; most as in `BlockCase`.
(
    WET_CONDUCTIVITY,  # W/(m·K), with the water that there is at the start
    SET_CONDUCTIVITY,  # W/(m·K)
    BURNT_DENSITY,  # kg/m³, all water gone
    FREE_WATER,  # kg/m³
    FIRST_WATER,  # kg/m³, of gypsum, given off in its first step
    SECOND_WATER,  # kg/m³, in its second
    BOUND_HEAT,  # J/(kg·K), of water in gypsum
    FIRST_HEAT,  # J over kg of that water
    SECOND_HEAT,  # J over kg of that water
    PERMEABILITY,  # m²
    WET_PERMEABILITY,  # m²
    OPEN_SHARE,  # porosity to the power 4/3
    EMISSIVITY,
    CONVECTION,  # W/(m²·K)
    KILN_ERROR,  # K
    START,  # K
    AIR_PRESSURE,  # Pa
    GAP,  # m⁴/m, gap to the steel: its section times its own permeability
) = range(18)
VALUES = 18

# Of the flask, the same for all draws; areas over height of the working block.
(
    RADIUS,  # m, of the working block
    OPEN_AREA,  # m²/m, of block that sees the kiln
    STEEL_AREA,  # m²/m, of steel
    STEEL_HEAT,  # J/(m·K)
    CONTACT,  # W/(m·K), steel to block
    AXIAL,  # m², way of steam to the ends, squared, where only they are open; else 0
    NARROWS,  # -, 2π times way over radius that the steam of a perforated wall goes besides
    PIECE,  # m, radius of the original's matter in the working block
) = range(8)
MEASURES = 8

# Of the burnt block, by temperature.
SPECIFIC_HEAT, HEAT, CONDUCTIVITY = range(3)  # J/(kg·K), J/kg, W/(m·K)
COLDEST, SPACING, ENTRIES = 233.15, 20.0, 68  # K, K; up to 1573 K

# Of each ring.
(
    INNER,  # m
    OUTER,  # m
    VOLUME,  # m³/m
    INWARD,  # ln(middle over inner)
    OUTWARD,  # ln(outer over middle)
    TEMPERATURE,  # K
    ENTHALPY,  # J/m
    WATER,  # kg/m³
    FIRST,  # share of gypsum that has taken its first step
    SECOND,  # share that has taken its second
    STEAM,  # Pa, of steam in the pores
    FLOW,  # kg/(m·s), of steam out of the ring
    GIVEN,  # kg/(m·s), of steam from gypsum of the ring
    CONDUCTION,  # W/(m·K)
    CAPACITY,  # J/(m·K)
    SINK,  # W/m, of gypsum at the temperature before the step
    SINK_SLOPE,  # W/(m·K)
    STEP_ONE,  # share that takes the first step
    STEP_ONE_SLOPE,  # 1/K
    STEP_TWO,
    STEP_TWO_SLOPE,
    LOWER,  # W/(m·K), this and the next three: the equations of a step
    DIAGONAL,
    UPPER,
    RIGHT,  # W/m
    RATIO,  # -, this and the next: their elimination
    PART,  # K
    SOLUTION,  # K
    LINK,  # W/(m·K), to the next of the nodes
) = range(29)
ROWS = 29

# Of the whole block.
(
    FACE,  # K
    STEEL,  # K
    FRONT,  # number of the ring that holds the front of the water; -1: none
    FRONT_RADIUS,  # m
    FRONT_TEMPERATURE,  # K
    PRESSURE,  # Pa, at the front or, where all is dry, on the axis
    BOILING,  # kg/(m·s)
    CHANGE,  # K, greatest of a ring in the last step
    TAKEN,  # J/m, through the face
    CARRIED,  # J/m, in steam that has left
    BOILED,  # kg/m
    BOIL_HEAT,  # J/m, taken by boiling
    GYPSUM_HEAT,  # J/m, taken by gypsum
    GYPSUM_WATER,  # kg/m, steam of gypsum that has left
) = range(14)
WHOLE = 14
