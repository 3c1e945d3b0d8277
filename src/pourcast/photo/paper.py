"""Paper: the parts as an ordinary piece file, with what is not sure written beside them.

The sizes are those of the photographs.  Flask, metal, button and assist were
not photographed: the usual of a studio stands there until the caster changes it,
alloy, heat and vacuum as in the sheet of a new piece (common practice, no
source).  How far a width or a thickness may be off goes into the draws by
`measure_error_percent`; how far a length may be off stands in a note, for a
forecast draws no lengths.
"""

import json
import math

from pourcast import units as si
from pourcast.photo.model import PhotoPart, Reading
from pourcast.piece.model import NINE_OF_TEN

_CLEAR = 12e-3  # m from the piece to the wall of the flask; common practice, no source
_UNDER = 20e-3  # m of block under the far end; common practice, no source
_BUTTON = 20e-3  # m, its height; common practice, no source
_LEAST_BUTTON = 30e-3  # m across; common practice, no source
_LEAST_FLASK = 50e-3  # m across; common practice, no source
_ROUND_GATE = 1.5  # button over gate, and the least room for a thick foot; estimate
_LUMP_GATE = 0.5  # of the width of a lump that it sits on; estimate
_LEAST_GATE = 1e-3  # m; no metal worth naming comes through less; estimate
_STEP = 5e-3  # m, of flasks; the caster has a list of their own; estimate
_LEAST_LENGTH, _LEAST_SIZE = 2e-6, 0.05e-3  # m, that the piece file takes a figure for; estimate
_LEAST_ANGLE = math.radians(0.05)  # the last figure that is written

_PICTURES = {
    1: "one photograph",
    2: "two photographs a quarter turn apart",
    3: "two photographs a quarter turn apart, and one between",
}

_TOP = """\
# Read from {pictures}. Sizes are those of the pictures; look each part over.
# A corrections file goes by the middle of a part: to the right, away from the camera, up.
# Flask, metal, button and assist below are the usual of a studio, not read: put in your own.
name = {name}

[metal]
alloy = "C87300"
pour_temperature_C = 1120

[flask]
inside_diameter_mm = {inside}   # the piece and {clear} mm on each side
height_mm = {height}            # the piece, the button, and {under} mm
wall = "perforated"

[assist]
kind = "vacuum"
vacuum_kPa = 80

[button]
diameter_mm = {button}
height_mm = {tall}
gate_diameter_mm = {gate}   # where the piece begins
"""


def piece_file(reading: Reading) -> str:
    """Return the text of a piece file.

    Parameters
    ----------
    reading : Reading

    Returns
    -------
    str
    """
    wide, tall = _room(reading)
    first = reading.parts[0]
    # A leaf sits on its thickness.
    gate = {"rod": first.width[0], "lump": _LUMP_GATE * first.width[0], "blade": first.thickness[0]}
    base = max(gate[first.shape], _LEAST_GATE)
    return _TOP.format(
        pictures=_PICTURES[len(reading.views)],
        name=json.dumps(reading.name, ensure_ascii=False),
        inside=_up(max(max(wide, _ROUND_GATE * base) + 2.0 * _CLEAR, _LEAST_FLASK)),
        height=_up(tall + _UNDER + _BUTTON),
        button=_up(max(_LEAST_BUTTON, _ROUND_GATE * base)),
        gate=_mm(base),
        clear=f"{1e3 * _CLEAR:g}",
        under=f"{1e3 * _UNDER:g}",
        tall=f"{1e3 * _BUTTON:g}",
    ) + parts_written(reading)


def parts_written(reading: Reading) -> str:
    """Return the parts as they stand in a piece file, without the rest of it.

    Parameters
    ----------
    reading : Reading
    """
    return "".join(_part(reading, number) for number in range(len(reading.parts)))


def _up(length: si.Metre) -> str:
    return f"{1e3 * _STEP * math.ceil(length / _STEP):g}"


def _room(reading: Reading) -> tuple[si.Metre, si.Metre]:
    """Return the width of a round room about the stem, and the height."""
    reach = tall = 0.0
    for view in reading.views:
        for stick in view.sticks:
            away = abs(stick.line[:, 0] - view.foot[0]).max() * view.scale.size
            reach = max(reach, float(away))
            tall = max(tall, float((view.foot[1] - stick.line[:, 1]).max() * view.scale.size))
    slack = max((part.width[0] for part in reading.parts if part.shape != "rod"), default=0.0)
    # Two views a quarter turn apart are the sides of a square; the flask goes round its corners.
    round_about = math.sqrt(2.0) if len(reading.views) > 1 else 1.0
    return 2.0 * (round_about * reach + 0.5 * slack), tall


def _part(reading: Reading, number: int) -> str:
    part = reading.parts[number]
    parent = "button" if part.parent < 0 else reading.parts[part.parent].name
    lines = [
        "",
        "[[part]]",
        f"name = {json.dumps(part.name)}",
        f"on = {json.dumps(parent)}",
    ]
    if part.parent >= 0:
        lines.append(f"at = {part.at:.3f}")
    lines += [
        f'shape = "{part.shape}"',
        f"length_mm = {_mm(part.length)}   # {_how_long(part)}",
    ]
    if part.width == part.thickness:
        lines.append(f"diameter_mm = {_sizes(part.width, part)}")
    else:
        lines.append(f"width_mm = {_sizes(part.width, part)}")
        seen = "   # not seen; measure it" if part.shape == "blade" else ""
        lines.append(f"thickness_mm = {_sizes(part.thickness, part)}{seen}")
    for key, angle in (("angle", part.angle), ("turn", part.turn), ("bend", part.bend)):
        if abs(angle) > _LEAST_ANGLE:
            lines.append(f"{key}_deg = {math.degrees(angle):.1f}")
    lines.append(f"material = {json.dumps(part.material)}")
    lines.append(f"measure_error_percent = {100 * part.section_error:.1f}")
    note = reading.notes.get(number)
    where = ", ".join(f"{1e3 * place:.1f}" for place in part.middle)
    lines.insert(1, f"# middle [{where}] mm from the foot{f'; {note}' if note else ''}")
    return "\n".join(lines) + "\n"


def deepest(part: PhotoPart) -> si.Metre:
    """Return how much nearer to the camera the tip of a part may be than its base, or farther.

    19 of 20 are less; 0 where the depth was read or all of it lies flat.

    Parameters
    ----------
    part : PhotoPart
    """
    return math.sqrt(max(0.0, part.longest**2 - part.length**2))


def _how_long(part: PhotoPart) -> str:
    low = part.length * (1.0 - NINE_OF_TEN * part.length_error)
    high = part.longest * (1.0 + NINE_OF_TEN * part.length_error)
    said = f"nine of ten: {_mm(low)} to {_mm(high)}"
    deep = deepest(part)
    if deep > 0.0:
        said += f"; its tip up to {1e3 * deep:.0f} nearer to the camera than its base, or farther"
    return said


def _mm(length: si.Metre) -> str:
    return f"{1e3 * max(length, _LEAST_LENGTH):.2f}"


def _sizes(pair: tuple[si.Metre, si.Metre], part: PhotoPart) -> str:
    first, last = (max(size, _LEAST_SIZE) for size in pair)
    if part.shape == "lump" or _mm(first) == _mm(last):
        return _mm(first)
    return f"[{_mm(first)}, {_mm(last)}]"
