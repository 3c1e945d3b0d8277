"""Score: how well the parts that were found match those that are there."""

import math
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import linear_sum_assignment

from pourcast.piece.model import Piece
from pourcast.scan.model import Scanned
from tests.plants.truth import Member, members


@dataclass
class Score:
    """Counts and errors over some plants; errors are shares of the truth."""

    parts: int = 0
    missing: int = 0
    extra: int = 0
    parents_right: int = 0
    shapes_right: int = 0
    matched: int = 0
    volume: list[float] = field(default_factory=list)
    thickness: list[float] = field(default_factory=list)
    long_stalks: list[float] = field(default_factory=list)
    worst: list[str] = field(default_factory=list)

    def add(self, name: str, piece: Piece, scanned: Scanned, volume_mm3: float | None) -> None:
        """Count one plant."""
        truth = members(piece)
        pairs = matched(truth, scanned)
        back = {found: true for true, found in pairs}
        self.parts += len(truth)
        self.missing += len(truth) - len(pairs)
        self.extra += len(scanned.parts) - len(pairs)
        self.matched += len(pairs)
        if len(pairs) != len(truth) or len(pairs) != len(scanned.parts):
            self.worst.append(f"{name}: {len(truth)} parts, {len(scanned.parts)} found")
        if volume_mm3 is not None:
            self.volume.append(scanned.mesh_volume * 1e9 / volume_mm3 - 1.0)
        for true, found in pairs:
            member, part = truth[true], scanned.parts[found]
            parent = back.get(part.parent, -2) if part.parent >= 0 else -1
            self.parents_right += parent == member.parent
            self.shapes_right += part.shape == member.shape
            if member.shape == "rod":
                self.thickness.append(1e3 * sum(part.width) / sum(member.ends[0]) - 1.0)
                wide = float(truth[member.parent].width.max()) if member.parent >= 0 else 0.0
                if member.length > 3 * wide:
                    self.long_stalks.append(1e3 * part.length / member.length - 1.0)
            elif member.shape == "blade":
                self.thickness.append(1e3 * sum(part.thickness) / sum(member.ends[1]) - 1.0)

    def lines(self) -> list[str]:
        """Return what was found, in words."""
        return [
            f"parts {self.parts}, missing {self.missing}, extra {self.extra}, parent right "
            f"{self.parents_right}, shape right {self.shapes_right} of {self.matched}",
            f"volume worst {100 * max(map(abs, self.volume), default=math.nan):.2f} %",
            f"thickness 90 % {100 * ninety(self.thickness):.2f} %",
            f"long stalks 90 % {100 * ninety(self.long_stalks):.2f} %, worst "
            f"{100 * max(map(abs, self.long_stalks), default=math.nan):.1f} %",
            *self.worst,
        ]


def ninety(errors: list[float]) -> float:
    """Return the size of an error that nine of ten are under."""
    return float(np.percentile(np.abs(errors), 90)) if errors else math.nan


def matched(truth: tuple[Member, ...], scanned: Scanned) -> list[tuple[int, int]]:
    """Return pairs of members and found parts whose middles are near to each other.

    Near is within 0.35 of the length and 2 mm.
    """
    there = np.array([member.line[np.abs(member.share - 0.5).argmin()] for member in truth])
    found = np.array([1e3 * part.line[len(part.line) // 2] for part in scanned.parts])
    apart = np.linalg.norm(there[:, None] - found[None], axis=2)
    rows, columns = linear_sum_assignment(apart)
    return [
        (int(i), int(j))
        for i, j in zip(rows, columns, strict=True)
        if apart[i, j] < 0.35 * truth[i].length + 2.0
    ]
