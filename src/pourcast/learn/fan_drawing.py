"""Fan drawing: the strips and rods at their true size, to lay the wax on and cut.

One page of 210 by 297 mm (A4, ISO 216), or of 215.9 by 279.4 mm (letter), in
millimetres.  A printer may shrink it: the rule at the top says whether it did.
"""

from typing import Literal

from pourcast import units as si
from pourcast.learn.fan import STRIP_WIDTH, Fan, Strip

PAPER: dict[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of the page in mm."""

_LEFT, _TOP, _ROW, _RULE = 15.0, 15.0, 14.0, 100.0  # mm


def fan_svg(fan: Fan, paper: Literal["a4", "letter"] = "a4") -> str:
    """Return the page as SVG; 1 unit is 1 mm.

    Parameters
    ----------
    fan : Fan
    paper : {"a4", "letter"}
    """
    width, height = PAPER[paper]
    rows = [_rule()]
    for number, strip in enumerate(sorted(fan.strips, key=lambda each: each.thickness)):
        rows.append(_row(strip, _TOP + 22.0 + _ROW * number))
    foot = _TOP + 22.0 + _ROW * len(fan.strips) + 4.0
    rows.append(
        _text(_LEFT, foot, "Lay the wax on its outline, cut it at both ends, and measure its")
        + _text(
            _LEFT, foot + 5.0, "thickness: write what you found beside it. Thickness tells most."
        )
    )
    body = "\n".join(rows)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family="sans-serif" font-size="3.6">\n'
        f"<title>Strips and rods at their true size</title>\n"
        f'<rect width="{width}" height="{height}" fill="white"/>\n{body}\n</svg>\n'
    )


def _rule() -> str:
    marks = "".join(
        f'<path d="M{_LEFT + 10.0 * n:.1f} {_TOP} v{4.0 if n % 5 else 6.0}" stroke="black" '
        'stroke-width="0.2"/>'
        for n in range(11)
    )
    return f'<path d="M{_LEFT} {_TOP} h{_RULE}" stroke="black" stroke-width="0.3"/>{marks}' + _text(
        _LEFT, _TOP + 11.0, "This rule is 100 mm long. If yours is not, print at full size."
    )


def _row(strip: Strip, top: float) -> str:
    length = si.from_si(strip.length, "mm")
    thick = si.from_si(strip.thickness, "mm")
    wide = thick if strip.round else si.from_si(STRIP_WIDTH, "mm")
    shape = "round" if strip.round else f"{wide:.0f} mm wide"
    return (
        f'<rect x="{_LEFT}" y="{top:.2f}" width="{length:.2f}" height="{wide:.2f}" '
        'fill="#ddd" stroke="black" stroke-width="0.15"/>'
        # In two lines: in a wide face one would run over the edge beside a strip of 80 mm.
        + _text(
            _LEFT + length + 4.0,
            top + 0.5 * wide - 0.9,
            f"{strip.name}: {thick:.1f} mm thick, {shape},",
        )
        + _text(
            _LEFT + length + 4.0,
            top + 0.5 * wide + 3.9,
            f"cut {length:.0f} mm   found: ______ mm",
        )
    )


def _text(x: float, y: float, said: str) -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}">{said}</text>'
