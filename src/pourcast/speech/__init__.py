"""Speech: in which unit a sentence says a heat.

Inside all is kelvin, and a caster who writes "1350 F" is told 1350 °F.  A stage does not
know how its plan was written; it makes its sentence with `said`, a template with named
places, and hands the numbers over with it.  What comes back is a text in °C, as JSON has
it, that still holds template and numbers: `Speech.text` fills it again in the caster's unit,
at the border.  No finished sentence is searched for a number.
"""

from pourcast.speech.sentence import (
    GAUGES,
    Degrees,
    Gauge,
    GaugeUnit,
    Heat,
    Heats,
    Ramp,
    Step,
    Units,
    as_written,
    joined,
    said,
)
from pourcast.speech.speaking import CELSIUS, FAHRENHEIT, Speech

__all__ = [
    "CELSIUS",
    "FAHRENHEIT",
    "GAUGES",
    "Degrees",
    "Gauge",
    "GaugeUnit",
    "Heat",
    "Heats",
    "Ramp",
    "Speech",
    "Step",
    "Units",
    "as_written",
    "joined",
    "said",
]
