"""Paper: a test plant as an ordinary piece file, so that it can be forecast from the truth.

The flask is the smallest of a list of round figures that holds the plant; the
rest is the usual of the studio (estimates, as in the examples).

Uses `pourcast.piece.model` only; what it writes is read by `pourcast.sheet`.
"""

import json
import math

from pourcast.piece.model import Part, Piece
from tests.plants.truth import members

_TOP = """\
name = {name}
invented = true

[metal]
alloy = "C87300"
pour_temperature_C = 1120

[flask]
inside_diameter_mm = {inside:g}
height_mm = {height:g}
wall = "perforated"
temperature_C = 600

[assist]
kind = "vacuum"
vacuum_kPa = 80

[button]
diameter_mm = 34
height_mm = 20
gate_diameter_mm = {gate:g}
"""


def piece_file(piece: Piece) -> str:
    """Return a piece file of a piece whose members all stand in one flask."""
    found = members(piece)
    reach = max(
        float(abs(m.line[:, :2]).max(initial=0.0, axis=None) + m.width.max()) for m in found
    )
    tall = max(float(m.line[:, 2].max()) for m in found)
    top = _TOP.format(
        name=json.dumps(piece.name),
        inside=max(60, 10 * math.ceil((2.0 * math.sqrt(2.0) * reach + 24.0) / 10)),
        height=10 * math.ceil((tall + 20.0 + 25.0) / 10),
        gate=1e3 * piece.button.gate_diameter,
    )
    return top + "".join(_part(part) for part in piece.parts)


def _part(part: Part) -> str:
    lines = ["", "[[part]]", f"name = {json.dumps(part.name)}", f"on = {json.dumps(part.parent)}"]
    lines.append(f"shape = {json.dumps(part.shape)}")
    lines.append(f"length_mm = {_mm(part.length)}")
    if part.shape == "rod" or part.width == part.thickness:
        lines.append(f"diameter_mm = {_sizes(part.width)}")
    else:
        lines.append(f"width_mm = {_sizes(part.width)}")
        lines.append(f"thickness_mm = {_sizes(part.thickness)}")
    first, last = part.position
    if part.parent != "button":
        lines.append(f"at = {first:g}" if first == last else f"at = [{first:g}, {last:g}]")
    lines += [
        f"count = {part.count}",
        f"angle_deg = {_degrees(part.angle)}",
        f"turn_deg = {_degrees(part.turn)}",
        f"turn_step_deg = {_degrees(part.turn_step)}",
        f"bend_deg = {_degrees(part.bend)}",
        f"material = {json.dumps(part.material)}",
    ]
    return "\n".join(lines) + "\n"


def _mm(length: float) -> str:
    return f"{1e3 * length:.6g}"


def _sizes(pair: tuple[float, float]) -> str:
    first, last = pair
    return _mm(first) if first == last else f"[{_mm(first)}, {_mm(last)}]"


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.6g}"
