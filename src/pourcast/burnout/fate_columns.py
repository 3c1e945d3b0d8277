"""Columns: the names and units of the tables that the kernel of wax and char works on."""

# One row per draw.
(
    WAX,  # kg
    MELT_END,  # K
    BOIL_START,  # K
    BOIL_END,  # K
    SOAK,  # -, share that does not run out
    DRAIN,  # kg/s, out of the gate; not finite: at once
    WAX_OXYGEN,  # mol of oxygen that burns 1 kg
    WAX_CHAR,  # -, char over boiled wax
    DRY,  # kg, of the original
    WATER,  # kg, of the original
    VAPOUR_OXYGEN,  # mol of oxygen that burns the vapour of the original
    VAPOUR,  # kg, that the dry matter gives off
    LOWEST_ENERGY,  # J/mol
    ENERGY_STEP,  # J/mol
    CHAR_ACTIVATION,  # J/mol
    CHAR_LOG10_RATE,  # -, of a rate in 1/s
    CHAR_ORDER,  # -
    STOCK,  # mol/m³, oxygen that a volume of char takes
    OPENNESS,  # -, diffusivity in char over that in free gas
    DIFFUSIVITY,  # m²/s, of oxygen in air at 293.15 K and one atmosphere
    EXPONENT,  # -
    AIR,  # mol/s, that comes into the kiln
    PRESSURE,  # Pa
    STEAM_FREE,  # mol, of all free water of a block
    STEAM_BOUND,  # mol, of all bound water of a block
    PARAMETERS,
) = range(26)

# The same for all draws.
(
    VOLUME,  # m³, of the kiln
    FLASKS,  # -
    GATE_WAY,  # m, area of the gate over the way through it
    PIECE_RADIUS,  # m
    RATE_OXYGEN,  # -, mole fraction
    CLEAN_BELOW,  # kg
    LONGEST,  # s, step
    SHARED,
) = range(8)

# One row per draw: where the oxygen went, by all masses; mol.
(
    CAME,  # with the air
    WENT,  # with what left the kiln
    HELD_FIRST,  # in the kiln at the start
    HELD_LAST,  # and at the end
    TO_CHAR,
    TO_VAPOUR,  # of the original
    TO_WAX,
    SMOKE,  # that would have burnt the vapour that left unburnt
    ACCOUNT,
) = range(9)
