"""Shells: a closed skin of faces for each member of a test plant.

A ring of points at each station of the middle line, joined to the next; a
point in the middle closes each end.  The root of a member reaches into its
parent by a little and narrows there, so that the plant hangs together as one
body of overlapping closed shells.  A ring that stands for a circle or an
ellipse is drawn larger so that its polygon has the same area.

Uses `tests.plants.truth` and trimesh.
"""

from collections.abc import Callable

import numpy as np
import trimesh

from pourcast import units as si
from pourcast.piece.model import Piece
from tests.plants.truth import Member, members

Outline = Callable[[si.Ratios], si.Ratios]
"""Factor on the width of a blade at shares of its length; its mean is 1."""


def lobes(count: int, depth: float) -> Outline:
    """Return an outline with lobes: wider and narrower in turn, as wide on the whole."""
    return lambda share: 1.0 + depth * np.cos(2.0 * np.pi * count * (share - 1.0))


def member_shells(
    piece: Piece, *, spacing: float = 0.8, outline: Outline | None = None
) -> list[trimesh.Trimesh]:
    """One closed shell for each member, in the order of `truth.members` [mm].

    ``spacing`` is about the length of the edges; ``outline`` shapes the blades.
    """
    found = members(piece, spacing=spacing)
    return [_shell(m, found[m.parent] if m.parent >= 0 else None, spacing, outline) for m in found]


def _shell(
    member: Member, parent: Member | None, spacing: float, outline: Outline | None
) -> trimesh.Trimesh:
    width = member.width * (outline(member.share) if outline and member.shape == "blade" else 1.0)
    rings = _rings(member, width, spacing)
    if parent is not None:
        rings = np.concatenate([_root(member, parent, rings[0])[None], rings])
    stations, around, _ = rings.shape
    vertices = np.concatenate([rings.reshape(-1, 3), [rings[0].mean(0), rings[-1].mean(0)]])
    here = np.arange(stations * around).reshape(stations, around)
    there = np.roll(here, -1, axis=1)
    a, b, c, d = here[:-1], there[:-1], there[1:], here[1:]
    sides = np.concatenate([np.stack([a, b, c], -1), np.stack([a, c, d], -1)]).reshape(-1, 3)
    first, last = len(vertices) - 2, len(vertices) - 1
    caps = np.concatenate(
        [
            np.column_stack([there[0], here[0], np.full(around, first)]),
            np.column_stack([here[-1], there[-1], np.full(around, last)]),
        ]
    )
    shell = trimesh.Trimesh(vertices, np.concatenate([sides, caps]), process=False)
    if shell.volume < 0.0:
        shell.invert()
    return shell


def _rings(member: Member, width: si.Ratios, spacing: float) -> si.Ratios:
    """Points about the middle line, shape (stations, around, 3)."""
    along_width = member.broad
    along_thickness = np.cross(member.direction, member.broad)
    if member.shape == "blade":
        u, v = _rectangle(float(width.max()), float(member.thickness.max()), spacing)
    else:
        girth = np.pi * float(max(width.max(), member.thickness.max()))
        sides = int(np.clip(np.ceil(girth / spacing), 24, 64))
        angle = 2.0 * np.pi * np.arange(sides) / sides
        grow = np.sqrt(2.0 * np.pi / (sides * np.sin(2.0 * np.pi / sides)))
        u, v = 0.5 * grow * np.cos(angle), 0.5 * grow * np.sin(angle)
    return np.asarray(
        member.line[:, None]
        + (width[:, None] * u)[..., None] * along_width[:, None]
        + (member.thickness[:, None] * v)[..., None] * along_thickness[:, None]
    )


def _rectangle(width: float, thickness: float, spacing: float) -> tuple[si.Ratios, si.Ratios]:
    """Points round a rectangle of sides 1 and 1, as many as its longest section asks for."""
    n, m = max(2, int(np.ceil(width / spacing))), max(1, int(np.ceil(thickness / spacing)))
    s, q = np.arange(n) / n - 0.5, np.arange(m) / m - 0.5
    u = np.concatenate([s, np.full(m, 0.5), -s, np.full(m, -0.5)])
    v = np.concatenate([np.full(n, -0.5), q, np.full(n, 0.5), -q])
    return u, v


def _root(member: Member, parent: Member, ring: si.Ratios) -> si.Ratios:
    """Return the ring at the end of the root, inside the parent."""
    nearest = int(np.argmin(np.linalg.norm(parent.line - member.base, axis=1)))
    least = float(min(parent.width[nearest], parent.thickness[nearest]))
    straight = float(abs(member.direction[0] @ parent.direction[nearest]))
    if nearest == len(parent.line) - 1 and parent.shape == "lump":
        depth = 0.12 * parent.length  # the pole is thin; reach to where the lump is wider
    elif straight > 0.9:
        depth = min(least, 1.0)
    else:
        depth = 0.5 * least / max(0.3, float(np.sqrt(1.0 - straight**2)))
    room = 0.8 * least
    wide = max(float(member.width[0]), float(member.thickness[0]))
    narrow = min(1.0, room / wide)
    return np.asarray(member.base + narrow * (ring - member.base) - depth * member.direction[0])
