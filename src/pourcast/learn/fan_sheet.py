"""Fan sheet: the piece file of a fan, in the flask, metal and kiln of another piece."""

import tomlkit

from pourcast import units as si
from pourcast.learn.fan import (
    ANGLE,
    FAN,
    RUNNER,
    RUNNER_DIAMETER,
    RUNNER_LENGTH,
    STRIP_WIDTH,
    Fan,
    Strip,
)
from pourcast.sheet.text import parse

_GONE = ("part", "vent", "scan", "photo", "original", "measured", "note", "invented")


def fan_sheet(text: str, fan: Fan, *, file: str = "piece file") -> str:
    """Return the piece file of a fan.

    Parameters
    ----------
    text : str
        Of the piece whose flask, metal, vacuum and kiln it takes.
    fan : Fan
    file : str
        Its name, for the messages.

    Raises
    ------
    SheetError
        If the text is no TOML.
    """
    parse(text, file=file)
    document = tomlkit.parse(text)
    title = f"{FAN} for {document.get('name', 'a piece')}"[:120]
    document["name"] = title
    for key in _GONE:
        document.pop(key, None)
    metal = document.get("metal", {})
    for key in ("on_hand_g", "returns_g", "poured_g"):
        metal.pop(key, None)
    parts = [_runner(), *(_strip(each, n, len(fan.strips)) for n, each in enumerate(fan.strips))]
    return tomlkit.dumps(document).rstrip("\n") + "\n\n" + "\n\n".join(parts) + "\n"


def _runner() -> str:
    return f"""[[part]]
name = "{RUNNER}"
on = "button"
shape = "rod"
length_mm = {_mm(RUNNER_LENGTH)}
diameter_mm = {_mm(RUNNER_DIAMETER)}
material = "casting\""""


def _strip(strip: Strip, number: int, of: int) -> str:
    if strip.round:
        section = f'shape = "rod"\ndiameter_mm = {_mm(strip.thickness)}'
    else:
        section = (
            f'shape = "blade"\nwidth_mm = {_mm(STRIP_WIDTH)}\nthickness_mm = {_mm(strip.thickness)}'
        )
    return f"""[[part]]
name = "{strip.name}"
on = "{RUNNER}"
at = 1.0
{section}
length_mm = {_mm(strip.length)}
angle_deg = {si.from_si(float(ANGLE), "deg"):.0f}
turn_deg = {360.0 * number / of:.1f}
material = "casting\""""


def _mm(length: si.Metre) -> str:
    return f"{si.from_si(length, 'mm'):.4g}"
