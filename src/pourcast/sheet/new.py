"""New: an empty sheet that the caster fills in at the bench.

The sheet reads without fault as it is written, so that every change can be
tried at once.  Its figures are the middle of the usual range and stand for
nothing measured.  Ranges: common practice, no source, and estimates.
"""

import json

from pourcast import materials
from pourcast.errors import InputError
from pourcast.sheet.faults import brief, listed
from pourcast.sheet.keys import LONGEST_NAME
from pourcast.sheet.values import is_control

_SHEET = """\
# Sheet of one piece.  Change the figures to what you measure; a line that begins with # is not
# read.  A key says its unit; a text may say another: length_mm = "1 3/16 in".
name = {name}
invented = true             # take this line out when every figure below is yours
# note = "where it was found, how it was dried, what was put on"

[metal]
alloy = "C87300"            # key or designation of the alloy; never a mixture of alloys
pour_temperature_C = 1120   # read in the pot just before the pour; usual: 100 to 180 above setting
# on_hand_g = 800           # new metal, weighed
# returns_g = 400           # old sprues and buttons of the same alloy, cleaned of mould, weighed
# poured_g = 900            # only if you have chosen it yourself; left out, the forecast advises

[flask]
inside_diameter_mm = 76     # rule across the inside; usual 50 to 130
height_mm = 100             # rule, rim to rim; usual 60 to 200
wall = "perforated"         # "solid" or "perforated"
# wall_mm = 2               # caliper on the rim
# temperature_C = 600       # of the flask at the pour; usual 430 to 700, hotter for thin parts

[investment]
# powder = "{powder}"  # the powder by its key
water_to_powder = 0.40      # by weight, as the maker's sheet says; usual 0.38 to 0.42, or "40:100"
mixed_at_C = 20             # thermometer in the water, powder at the same; usual 20 to 24

[assist]
kind = "vacuum"             # "gravity" or "vacuum"
vacuum_kPa = 80             # gauge with the flask on, below the air; usual 65 to 90, or "24 inHg"
# pump_time_s = 1.5         # watch: until the gauge is two thirds up
# lead_time_s = 5           # watch: from pump on to pour
# seal = 0.95               # share of the vacuum that reaches the flask; 1 is a tight seal

[kiln]
# litres = 30               # rule: the inside, width x depth x height
# kW = 2.8                  # from its plate
# air_changes_per_h = 6     # how often the air is renewed with the vent as you leave it; a guess
control = "hand"            # "hand" or "programmed"
# flasks = 2                # how many go into it together, this one counted; left out: 1
# dial_top = 5              # highest number on its dial; left out: 5
# dial_step = 0.5           # 0.5 where it also holds half way between two numbers; left out: 1

[[kiln.step]]               # one for each step of the curve, in order
to_C = 150                  # where it goes
ramp_C_per_h = 60           # how fast; left out: as fast as the kiln can
hold_h = 2                  # how long it stays

[[kiln.step]]
to_C = 700
ramp_C_per_h = 100
hold_h = 8

[button]
diameter_mm = 32            # caliper at the rim, where the metal is poured; usual 20 to 50
height_mm = 20              # rule, rim to where the piece begins; usual 15 to 30
material = "casting"        # wax: {waxes}
# tilt_deg = 15             # how far the piece leans from hanging straight down
# gate_diameter_mm = 5      # caliper where the piece begins; left out: the base of the first part
# top = "covered"           # after the pour, with fibre or powder, so that it feeds; or "open"

# [original]                # what is cast, as it is invested; these decide the burnout
# state = "dry"             # "dry", "fresh" or "soaked" in spirit
# days_dried = 14           # since it was picked
# holds = ["wire", "bone"]  # what is in or on it beside plant and wax; look in good light

[[part]]                    # the part on the button; one [[part]] for each kind of part
name = "stem"
on = "button"               # the part that it grows on
shape = "rod"               # "rod" is round, "blade" flat, "lump" like an egg
length_mm = 30              # rule, along the part from the surface that it grows on
diameter_mm = [4.0, 3.0]    # caliper at base and tip; one number where it does not taper
material = "herb_stem"      # {organs}
                            # or a wax
# coat_mm = 0.1             # wax or lacquer on every side: caliper before and after, half of it

[[part]]                    # twelve like parts count as one, with a count
name = "leaf"
on = "stem"
at = [0.3, 0.9]             # 0 base of the stem, 1 its tip; two numbers: a row; one: a ring
count = 6                   # on each stem
shape = "blade"
length_mm = 18
width_mm = [6.0, 1.0]       # caliper or rule at base and tip
thickness_mm = 0.5          # caliper, lightly; several leaves together, then divide
angle_deg = 50              # away from the direction of the stem
# turn_deg = 0              # round the stem, of the first one; then
# turn_step_deg = 137.5     # from one to the next; left out: 137.5 in a row, evenly in a ring
# bend_deg = 30             # how far it curves from base to tip
material = "leaf"
# tip_on = "stem"           # where the tip touches or is joined by a thread of wax: that part
# tip_at = 0.9              # and the place along it
# measure_error_percent = 3 # how far off its sizes may be; left out, as of a caliper: 1 to 6

# [[vent]]                  # a thread of wax from the tip of every member of a part
# on = "leaf"
# diameter_mm = 1.0         # usual 0.8 to 1.5
# length_mm = 25
# leads_to = "air"          # "air" or "vacuum"

# [measured]                # of the original without its button; checks the sizes above
# displaced_ml = 1.2        # what runs over from a full glass when it goes under; dry heads and
                            # pods may be hollow: dip them bare, so that water gets in like slurry
# weight_g = 0.9          # scales, as dry as it goes into the slurry

# [studio]                  # left out: sea level, and the usual error of the instruments
# altitude_m = 300         # of the place above the sea, from a map
# air_pressure_kPa = 98     # read on the day, not reduced to sea level
# metal_thermometer_error_C = 8   # one standard deviation; usual 5 to 15
# flask_thermometer_error_C = 15  # the same; usual 5 to 30
# gauge_error_kPa = 2             # the same; usual 1 to 5
"""


def new_sheet(name: str) -> str:
    """Return a piece file to fill in, with a line for each key.

    Parameters
    ----------
    name : str
        Of the piece, on one line.

    Returns
    -------
    str
        TOML with comments.

    Raises
    ------
    InputError
        If the name is empty, too long, or does not stand on one line.
    """
    if not name.strip() or len(name) > LONGEST_NAME or any(is_control(mark) for mark in name):
        must = f"one line of 1 to {LONGEST_NAME} characters"
        raise InputError(
            "name", brief(name) or "(empty)", "", must, "Leave out tabs and line ends."
        )
    library = materials.library()
    return _SHEET.format(
        # A JSON text is a TOML text too, once control characters are ruled out.
        name=json.dumps(name, ensure_ascii=False),
        powder=library.powders[0],
        waxes=listed(library.waxes),
        organs=listed(library.organs),
    )
