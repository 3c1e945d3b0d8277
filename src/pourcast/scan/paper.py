"""Paper: the scanned parts as an ordinary piece file.

The empty sheet that the caster would fill in by hand is filled in: the parts
take the place of its example, and flask and gate are made large enough.  All
else stays as the sheet has it, to be edited.  Each part is one [[part]], since
no two scanned parts are quite alike and a count would move them.
"""

import json
import math
import re

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.piece.model import MOST_MEMBERS, USUAL_MATERIALS
from pourcast.scan.colours import hexadecimal
from pourcast.scan.model import Scanned, ScannedPart
from pourcast.scan.poses import Pose, posed

WALL = 12e-3
"""Investment between the original and the flask [m]; common practice, no source."""

BELOW = 20e-3
"""Investment below the lowest tip [m]; common practice, no source."""

_EXAMPLE = re.compile(r"^\[\[part\]\].*?(?=^# \[\[vent\]\])", re.MULTILINE | re.DOTALL)


def written(
    scanned: Scanned,
    sheet: str,
    *,
    source: str,
    materials: tuple[str | None, ...] = (),
) -> str:
    """Return the piece file of a scan.

    Parameters
    ----------
    scanned : Scanned
    sheet : str
        An empty sheet, as `pourcast.sheet.new_sheet` writes it.
    source : str
        Name of the scan file, for the comment.
    materials : tuple of (str or None)
        Of each part, where it is known; empty: of none.

    Returns
    -------
    str

    Raises
    ------
    InputError
        If there are no parts, or more than a piece may have.
    """
    poses = _poses(scanned)
    parts = _parts(scanned, poses, source, materials)
    text = _EXAMPLE.sub(lambda _: f"{parts}\n", sheet, count=1)
    reach, depth = _extent(poses)
    return _with_flask(_of_a_scan(text), reach, depth, poses[0])


def parts_written(scanned: Scanned, *, source: str, materials: tuple[str | None, ...] = ()) -> str:
    """Return the parts of a scan as they stand in a piece file, without the rest of it.

    Parameters and errors are those of `written`.
    """
    return _parts(scanned, _poses(scanned), source, materials)


def _poses(scanned: Scanned) -> tuple[Pose, ...]:
    if not scanned.parts or len(scanned.parts) > MOST_MEMBERS:
        raise InputError(
            "parts of the scan",
            len(scanned.parts),
            "",
            f"1 to {MOST_MEMBERS}",
            "Pick the gate by hand, or scan again.",
        )
    return posed(scanned.parts)


def _parts(
    scanned: Scanned, poses: tuple[Pose, ...], source: str, materials: tuple[str | None, ...]
) -> str:
    known = materials or (None,) * len(poses)
    parts = "\n".join(
        _part(scanned, pose, material) for pose, material in zip(poses, known, strict=True)
    )
    return f"{_heading(scanned, source)}\n{parts}"


def _heading(scanned: Scanned, source: str) -> str:
    held = sum(part.volume for part in scanned.parts)
    lines = [
        f"Parts taken from {_plain(source)}: {len(scanned.parts)} of them, in cells of "
        f"{_mm(scanned.cell, 2)} mm.",
        f"Volume of the mesh {1e6 * scanned.mesh_volume:.3f} ml, of these parts "
        f"{1e6 * held:.3f} ml.",
        f"{100 * scanned.unseen_share:.1f} % of the surface belongs to no part.",
        "The place of a part in the scan stands above it; the corrections file goes by it.",
        "What a part is made of is a guess from its shape: put in what it is.",
    ]
    return "".join(f"# {line}\n" for line in lines)


def _plain(text: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in text)[:120]


def _part(scanned: Scanned, pose: Pose, material: str | None) -> str:
    part = pose.part
    parent = scanned.parts[part.parent].name if part.parent >= 0 else "button"
    middle = ", ".join(_mm(float(k), 1) for k in part.line[len(part.line) // 2])
    rows = [
        f"# middle in the scan [{middle}] mm; length ±{_mm(part.length_error, 1)}, "
        f"thickness ±{_mm(part.thickness_error, 2)} mm (estimated){_notes(part)}",
        "[[part]]",
        f"name = {json.dumps(part.name, ensure_ascii=False)}",
        f"on = {json.dumps(parent, ensure_ascii=False)}",
    ]
    if part.parent >= 0 and pose.at < 1.0:
        rows.append(f"at = {pose.at:.3f}")
    rows += [f'shape = "{part.shape}"', f"length_mm = {_mm(part.length, 3)}"]
    if part.shape == "rod" or (part.shape == "lump" and part.width == part.thickness):
        rows.append(f"diameter_mm = {_pair(part.width)}")
    else:
        rows += [f"width_mm = {_pair(part.width)}", f"thickness_mm = {_pair(part.thickness)}"]
    for key, angle in (("angle", pose.angle), ("turn", pose.turn), ("bend", pose.bend)):
        if abs(angle) > 1e-6:
            rows.append(f"{key}_deg = {math.degrees(angle):.2f}")
    rows.append(f'material = "{material or USUAL_MATERIALS[part.shape]}"')
    if part.section_error is not None:
        rows.append(f"measure_error_percent = {100 * part.section_error:.1f}")
    return "\n".join(rows) + "\n"


def _notes(part: ScannedPart) -> str:
    notes = []
    if part.hollow:
        notes.append("a tube: its wall as a blade, its girth as the width")
    if part.shape == "blade" and not part.hollow:
        notes.append(f"{_mm(part.widest, 2)} mm at its widest")
    if part.section_error is not None and part.unseen > 0.0:
        notes.append(f"{100 * part.unseen:.0f} % of its walls lie in closed holes")
    if part.colour is not None:
        notes.append(f"colour {hexadecimal(part.colour)}")
    return "".join(f"; {note}" for note in notes)


def _pair(pair: tuple[si.Metre, si.Metre]) -> str:
    first, last = (_mm(size, 3) for size in pair)
    return first if first == last else f"[{first}, {last}]"


def _mm(size: si.Metre, digits: int) -> str:
    return f"{1e3 * size:.{digits}f}"


def _extent(poses: tuple[Pose, ...]) -> tuple[si.Metre, si.Metre]:
    """Return how far from the axis and how far below the gate the parts reach."""
    reach = depth = 0.0
    for pose in poses:
        half = 0.5 * max(*pose.part.width, pose.part.widest)
        places = pose.places(np.linspace(0.0, 1.0, 17))
        reach = max(reach, float(np.hypot(places[:, 0], places[:, 1]).max()) + half)
        depth = max(depth, float(-places[:, 2].min()) + half)
    return reach, depth


def _of_a_scan(text: str) -> str:
    """Leave out the line that says that all figures are invented."""
    return re.sub(r"^invented = true.*\n", "", text, count=1, flags=re.MULTILINE)


def _with_flask(text: str, reach: si.Metre, depth: si.Metre, first: Pose) -> str:
    """Make the flask and the button large enough, where those of the sheet are not."""
    wide = math.ceil(1e3 * (2 * (reach + WALL)))
    text = _raised(text, "inside_diameter_mm", wide)
    button = float(re.search(r"^height_mm = (\d+)  +# rule, rim to where", text, re.M)[1])  # type: ignore[index]
    text = _raised(text, "height_mm", math.ceil(1e3 * (depth + BELOW) + button))
    gate = max(first.section(0.0))
    if first.part.shape != "rod":
        gate = max(1.0, 1e3 * min(first.section(0.25)))
        text = re.sub(
            r"^# gate_diameter_mm = \S+( +)#",
            f"gate_diameter_mm = {gate:.2f}\\1#",
            text,
            count=1,
            flags=re.MULTILINE,
        )
        gate *= 1e-3
    rim = re.search(r"^\[button\]\ndiameter_mm = (\d+)", text, re.MULTILINE)
    assert rim is not None
    if 1e3 * gate > float(rim[1]):
        text = text[: rim.start(1)] + str(math.ceil(1e3 * gate)) + text[rim.end(1) :]
    return text


def _raised(text: str, key: str, least: int) -> str:
    """Raise the first value of a key to a least one."""
    found = re.search(rf"^{key} = (\d+)", text, re.MULTILINE)
    assert found is not None
    if float(found[1]) >= least:
        return text
    return text[: found.start(1)] + str(least) + text[found.end(1) :]
