"""Heats: a run sheet in °F, for a caster whose gauge and whose piece file are in °F.

Every act says its heats in whole °C, a number and "°C" with a space between that does not
break; a ramp has "°C an hour" behind it.  Here both are turned, and the spaces to write on
with them.  A heat of 150 °F or more is told to the next 5 °F: whole °C are 1.8 °F apart, and
what the caster wrote in fives comes back as it was written.

Left alone: cautions, and what the forecast says must be settled first.
"""

import re
from dataclasses import replace

from pourcast import units as si
from pourcast.runsheet.figures import JOIN
from pourcast.runsheet.model import Act, RunSheet

_RAMP = re.compile(rf"(\d+)[ {JOIN}]°C(?= an hour)")
_HEAT = re.compile(rf"([−-]?\d+)[ {JOIN}]°C")
_STEP, _FROM = 5, 150
"""°F: told to the next so many, from so many on; our own choice."""


def in_fahrenheit(sheet: RunSheet) -> RunSheet:
    """Return a run sheet whose acts say their heats in °F.

    Parameters
    ----------
    sheet : RunSheet

    Returns
    -------
    RunSheet
    """
    return replace(
        sheet,
        heats="F",
        acts=tuple(_act(act) for act in sheet.acts),
        findings=tuple(
            replace(found, text=text_in_fahrenheit(found.text)) for found in sheet.findings
        ),
    )


def text_in_fahrenheit(text: str) -> str:
    """Return a text with its heats and ramps in °F.

    Parameters
    ----------
    text : str

    Examples
    --------
    >>> text_in_fahrenheit("Turn up for 704 °C, 100 °C an hour.").replace(JOIN, " ")
    'Turn up for 1300 °F, 180 °F an hour.'
    """
    return _HEAT.sub(_heat, _RAMP.sub(_ramp, text))


def _heat(found: re.Match[str]) -> str:
    heat = si.from_si(si.to_si(float(found[1].replace("−", "-")), "degC"), "F")
    told = _STEP * round(heat / _STEP) if heat >= _FROM else round(heat)
    return f"{told}{JOIN}°F".replace("-", "−")


def _ramp(found: re.Match[str]) -> str:
    # A difference: no zero of the scale is in it.
    ramp = si.from_si(si.to_si(float(found[1]), "C/h"), "F/h")
    return f"{round(ramp)}{JOIN}°F"


def _act(act: Act) -> Act:
    readings = tuple(
        replace(
            reading,
            what=text_in_fahrenheit(reading.what),
            unit="°F" if reading.unit == "°C" else reading.unit,
        )
        for reading in act.readings
    )
    what, why = text_in_fahrenheit(act.what), text_in_fahrenheit(act.why)
    return replace(act, what=what, why=why, readings=readings)
