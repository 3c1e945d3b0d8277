"""Keys: what may stand in a piece file, in which unit and within which limits.

The limits here tell a slip of the pen from a measure: a length in the wrong
unit, a vacuum deeper than the air is heavy.  Whether a casting comes out of it
is not asked here.  All limits are our own choice (estimate) unless a source
stands beside them.
"""

from collections.abc import Mapping
from functools import cache
from typing import Literal, get_args

from pourcast.piece.model import MOST_MEMBERS, Shape
from pourcast.sheet.takes import Choice, Count, Flag, Keys, Material, Matter, Number, Text

LONGEST_NAME = 120
"""Characters in the name of a piece: two lines of a run sheet."""

_LEAST = 0.001
"""In the unit of the key; where nothing at all makes no sense, less than this is a slip."""

_MIX_UP = "look for a wrong unit; a size is never 0"


def _length(*, taper: bool = False, needed: bool = False, hint: str = _MIX_UP) -> Number:
    return Number(
        quantity="length", unit="mm", low=_LEAST, high=3000.0, taper=taper, needed=needed, hint=hint
    )


def _angle(most: float, hint: str = "") -> Number:
    return Number(quantity="angle", unit="deg", low=-most, high=most, hint=hint)


def _mass(low: float) -> Number:
    return Number(quantity="mass", unit="g", low=low, high=1e6)


def _thermometer() -> Number:
    return Number(quantity="temperature difference", unit="K", low=0.0, high=200.0)


def _share(hint: str = "") -> Number:
    return Number(quantity="ratio", unit="-", low=0.0, high=1.0, hint=hint)


TOP: Keys = {
    "name": Text(longest=LONGEST_NAME, needed=True),
    "invented": Flag(),
    "note": Text(longest=20_000, lines=True),
}

METAL: Keys = {
    "alloy": Material(kind="alloy", needed=True),
    "pour_temperature_C": Number(
        quantity="temperature",
        unit="C",
        low=100.0,
        high=1400.0,
        needed=True,
        hint='read in Fahrenheit it is written with its unit, such as "2000 F"',
    ),
    "on_hand_g": _mass(0.0),
    "returns_g": _mass(0.0),
    "poured_g": _mass(_LEAST),
}

FLASK: Keys = {
    "inside_diameter_mm": _length(needed=True),
    "height_mm": _length(needed=True),
    "wall": Choice(words=("solid", "perforated"), needed=True),
    "wall_mm": Number(
        quantity="length",
        unit="mm",
        low=_LEAST,
        high=50.0,
        hint="this is the thickness of the steel",
    ),
    "temperature_C": Number(
        quantity="temperature",
        unit="C",
        low=0.0,
        high=1000.0,
        hint="this is the flask at the pour, not the metal",
    ),
}

INVESTMENT: Keys = {
    "powder": Material(kind="powder"),
    "water_to_powder": Number(
        quantity="ratio",
        unit="-",
        low=0.2,
        high=1.0,
        hint='40 g of water to 100 g of powder is 0.40, or "40:100"',
    ),
    "mixed_at_C": Number(
        quantity="temperature",
        unit="C",
        low=0.0,
        high=60.0,
        hint="this is the water and the powder on the bench; in Fahrenheit write it with its "
        'unit, such as "70 F"',
    ),
}

ASSIST: Keys = {
    "kind": Choice(words=("gravity", "vacuum")),
    "vacuum_kPa": Number(
        quantity="vacuum",
        unit="kPa",
        low=_LEAST,
        high=101.4,
        hint="count it down from the air outside; the whole air at sea level is "
        "101.3 kPa or 29.9 inHg",
    ),
    "pump_time_s": Number(quantity="time", unit="s", low=_LEAST, high=600.0),
    "lead_time_s": Number(quantity="time", unit="s", low=0.0, high=600.0),
    "seal": _share("1 is a tight seal, 0 none"),
}

KILN: Keys = {
    "litres": Number(quantity="volume", unit="l", low=_LEAST, high=1e5),
    "kW": Number(quantity="power", unit="kW", low=_LEAST, high=1000.0),
    "air_changes_per_h": Number(quantity="rate", unit="1/h", low=0.0, high=10_000.0),
    "control": Choice(words=("hand", "programmed")),
    "flasks": Count(most=100),
    "dial_top": Count(most=100),
    "dial_step": Number(quantity="ratio", unit="-", low=0.1, high=1.0, hint="half places are 0.5"),
}

KILN_STEP: Keys = {
    "to_C": Number(quantity="temperature", unit="C", low=0.0, high=1400.0, needed=True),
    "ramp_C_per_h": Number(
        quantity="ramp",
        unit="C/h",
        low=_LEAST,
        high=5000.0,
        hint="write the ramp without a sign, also where the kiln cools",
    ),
    "hold_h": Number(quantity="time", unit="h", low=0.0, high=1000.0),
}

BUTTON: Keys = {
    "diameter_mm": _length(needed=True),
    "height_mm": _length(needed=True),
    "material": Material(kind="wax"),
    "tilt_deg": _angle(90.0, "0 hangs straight down"),
    "gate_diameter_mm": _length(),
    "top": Choice(words=("open", "covered")),
}

ORIGINAL: Keys = {
    "state": Choice(words=("dry", "fresh", "soaked")),
    "holds": Matter(most=50),
    "days_dried": Number(quantity="time", unit="d", low=0.0, high=36_500.0),
}

_TAPER_HINT = "look for a wrong unit; a pointed tip has a width too, such as 0.1 mm"

PART: Keys = {
    "name": Text(longest=60, needed=True),
    "on": Text(longest=60),
    "at": Number(
        quantity="ratio",
        unit="-",
        low=0.0,
        high=1.0,
        taper=True,
        hint="0 is the base of the part that it grows on, 1 its tip",
    ),
    "count": Count(most=MOST_MEMBERS),
    "shape": Choice(words=get_args(Shape), needed=True),
    "length_mm": _length(needed=True),
    "diameter_mm": _length(taper=True, hint=_TAPER_HINT),
    "width_mm": _length(taper=True, hint=_TAPER_HINT),
    "thickness_mm": _length(taper=True, hint=_TAPER_HINT),
    "angle_deg": _angle(180.0, "0 goes straight on, 180 straight back"),
    "turn_deg": _angle(3600.0),
    "turn_step_deg": _angle(360.0),
    "bend_deg": _angle(3600.0, "one full turn of a spiral is 360 deg"),
    "material": Material(kind="original", needed=True),
    "coat_mm": Number(
        quantity="length",
        unit="mm",
        low=0.0,
        high=20.0,
        hint="this is the thickness of the coat on one side",
    ),
    "tip_on": Text(longest=60),
    "tip_at": _share("0 is the base of the part that the tip is joined to, 1 its tip"),
    "measure_error_percent": Number(
        quantity="ratio",
        unit="%",
        low=0.0,
        high=100.0,
        hint="one standard deviation of width and thickness; 3 is a caliper on soft matter",
    ),
}

VENT: Keys = {
    "on": Text(longest=60, needed=True),
    "diameter_mm": _length(needed=True),
    "length_mm": _length(needed=True),
    "leads_to": Choice(words=("air", "vacuum"), needed=True),
}

MEASURED: Keys = {
    "displaced_ml": Number(quantity="volume", unit="ml", low=_LEAST, high=1e6),
    "weight_g": _mass(_LEAST),
}

STUDIO: Keys = {
    "altitude_m": Number(quantity="length", unit="m", low=0.0, high=6000.0),
    "air_pressure_kPa": Number(
        quantity="pressure",
        unit="kPa",
        low=40.0,
        high=110.0,
        hint="read it on the day, not reduced to sea level",
    ),
    "metal_thermometer_error_C": _thermometer(),
    "flask_thermometer_error_C": _thermometer(),
    "gauge_error_kPa": Number(quantity="pressure", unit="kPa", low=0.0, high=50.0),
}

SECTIONS: Mapping[str, Keys] = {
    "metal": METAL,
    "flask": FLASK,
    "investment": INVESTMENT,
    "assist": ASSIST,
    "kiln": KILN,
    "button": BUTTON,
    "original": ORIGINAL,
    "measured": MEASURED,
    "studio": STUDIO,
}
"""Sections with single brackets."""

LISTS: Mapping[str, Keys] = {"part": PART, "vent": VENT}
"""Sections with double brackets, as many as there are parts and vents."""

_FILE = Text(longest=1000, needed=True)

_MADE_OF: Keys = {f"{shape}_material": Material(kind="original") for shape in get_args(Shape)}

SCAN: Keys = {
    "file": _FILE,
    "unit": Choice(words=("mm", "cm", "m", "in")),
    "gate": Text(longest=100),
    "cell_mm": Number(quantity="length", unit="mm", low=0.1, high=5.0),
    **_MADE_OF,
}

PHOTO: Keys = {
    "file": _FILE,
    "second": Text(longest=1000),
    "scale": Text(longest=100, needed=True),
    "second_scale": Text(longest=100),
    "camera_mm": Number(quantity="length", unit="mm", low=10.0, high=1e5),
    "leaf_thickness_mm": _length(),
    "flat": Flag(),
    "foot": Text(longest=100),
    "second_foot": Text(longest=100),
    **_MADE_OF,
}

SEEN: Mapping[Literal["scan", "photo"], Keys] = {"scan": SCAN, "photo": PHOTO}
"""Sections that name a picture of the original; `pourcast.sheet.seen` reads them."""

_SUFFIXES = (
    "_percent",
    "_C_per_h",
    "_per_h",
    "_kPa",
    "_deg",
    "_mm",
    "_ml",
    "_C",
    "_g",
    "_s",
    "_h",
    "_m",
)
_OTHER_NAMES = {"wall_mm": "wall_thickness", "litres": "volume", "kW": "power"}


@cache
def bare(key: str) -> str:
    """Return a key without its unit: the name under which a text with a unit may stand.

    Examples
    --------
    >>> bare("inside_diameter_mm"), bare("ramp_C_per_h"), bare("seal")
    ('inside_diameter', 'ramp', 'seal')
    """
    if key in _OTHER_NAMES:
        return _OTHER_NAMES[key]
    return next((key.removesuffix(end) for end in _SUFFIXES if key.endswith(end)), key)
