"""Columns: what stands where in the tables that the kernels of freezing share."""

(
    MOULD,  # K, of the block at the pour
    TOUCH,  # W/(m²·K), metal on the face
    GAP,  # W/(m²·K), solid metal that stands off
    CONDUCTIVITY,  # W/(m·K), of the mould
    DIFFUSIVITY,  # m²/s
    DENSITY,  # kg/m³, of the liquid metal
    LIQUID_CONDUCTIVITY,  # W/(m·K)
    SOLID_CONDUCTIVITY,  # W/(m·K)
    FEED_STOP,  # solid fraction
    SHRINKAGE,  # of the volume, on freezing
    CONTRACTION,  # 1/K, of the liquid
    ROOM,  # K
    TOP_TRANSFER,  # W/(m²·K), from the top of the button, without radiation
    TOP_EMISSIVITY,
    FLASK_TRANSFER,  # W/(m²·K), from the outside of the flask, without radiation
    FLASK_EMISSIVITY,
    BURST,  # K, of the block, below which it no longer bursts off
    METAL_LEFT,  # m³, in the cup
    END_TIME,  # s, when the pour came to rest
    POURED_AT,  # K, metal in the cup
    GATE_RADIUS,  # m
    RIM_RADIUS,  # m
    CUP_HEIGHT,  # m
    FLASK_RADIUS,  # m
    FIRST_STEP,  # s
    STEP_GROWTH,
    LONGEST,  # s
    KNOTS,  # eleven numbers of `pourcast.freeze.solid.Knots`, from here on
) = range(28)
PARAMETERS = KNOTS + 11

# Rows of the freezing curve in pieces, one column a piece, from the liquid to the solid.
BASE_HEAT, BASE_TEMPERATURE, SLOPE, BASE_SOLID, SOLID_SLOPE = range(5)
CURVE_ROWS, PIECES = 5, 6

LEVELS = 6
"""Of `moments`: the start, and the five knots of the freezing curve."""

(
    BUTTON_BELOW,  # s, its hottest slice a margin below the solidus
    BUTTON_DARK,  # s, its hottest slice no longer glows
    BURST_UNTIL,  # s, the block beside the button falls below BURST
    ABOVE_LOW,  # s, face beside the button above the lower limit
    ABOVE_HIGH,  # s
    FACE_PEAK,  # K
    HEAT_GIVEN,  # J
    HEAT_MISSING,  # J
    STEPS,
) = range(9)
ENDS = 9
