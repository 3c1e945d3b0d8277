"""Picture of what each stage costs by size: both axes in decades, a line a stage."""

import math
from dataclasses import dataclass, field

import numpy as np

_NAME, _LINE = 95.0, 13.0  # width and height of a name in the picture


@dataclass
class Line:
    """What one stage costs by size."""

    stage: str
    of: str
    sizes: list[float] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    memory: int = 0

    def slope(self) -> float:
        """Return the slope of the logarithm over the upper half."""
        half = len(self.sizes) // 2
        x, y = np.log(self.sizes[half:]), np.log(self.seconds[half:])
        return float(np.polyfit(x, y, 1)[0])


def drawn(lines: list[Line]) -> str:
    """Return the lines as a picture, both axes in decades."""
    wide, high, left, foot = 760.0, 520.0, 60.0, 40.0
    x = [math.log10(size) for line in lines for size in line.sizes]
    y = [math.log10(second) for line in lines for second in line.seconds]
    low, most = (math.floor(min(x)), math.floor(min(y))), (math.ceil(max(x)), math.ceil(max(y)))

    def place(size: float, second: float) -> tuple[float, float]:
        across = (math.log10(size) - low[0]) / (most[0] - low[0])
        up = (math.log10(second) - low[1]) / (most[1] - low[1])
        return left + across * (wide - left - 150), (high - foot) * (1 - up) + 10

    parts = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.0f} {high:.0f}">']
    parts.append(f'<rect width="{wide:.0f}" height="{high:.0f}" fill="#fff"/>')
    parts.append('<g font-family="serif" font-size="12" fill="#221E19">')
    for decade in range(low[1], most[1] + 1):
        _, level = place(10 ** low[0], 10.0**decade)
        parts.append(
            f'<path d="M{left} {level:.0f}H{wide - 150:.0f}" stroke="#D8CDB8"/>'
            f'<text x="{left - 6}" y="{level + 4:.0f}" text-anchor="end">{_seconds(decade)}</text>'
        )
    for decade in range(low[0], most[0] + 1):
        across, _ = place(10.0**decade, 10 ** low[1])
        parts.append(
            f'<text x="{across:.0f}" y="{high - 14:.0f}" text-anchor="middle">{10**decade:,}</text>'
        )
    taken: list[tuple[float, float]] = []
    for line in sorted(lines, key=lambda each: -each.seconds[-1]):
        points = [place(a, b) for a, b in zip(line.sizes, line.seconds, strict=True)]
        way = " ".join(f"{a:.1f},{b:.1f}" for a, b in points)
        parts.append(f'<polyline points="{way}" fill="none" stroke="#8A4B26" stroke-width="1.6"/>')
        across, level = points[-1][0] + 5, points[-1][1] + 4
        # The names go down past those that stand there already.
        while any(abs(across - x) < _NAME and abs(level - y) < _LINE for x, y in taken):
            level += 1.0
        taken.append((across, level))
        parts.append(f'<text x="{across:.0f}" y="{level:.0f}">{line.stage}</text>')
    return "".join(parts) + "</g></svg>\n"


def _seconds(decade: int) -> str:
    for least, unit in ((0, "s"), (-3, "ms"), (-6, "µs")):
        if decade >= least:
            return f"{10 ** (decade - least)} {unit}"
    return f"1e{decade} s"
