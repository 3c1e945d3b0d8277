"""Colours: which colour each part has, where the file says colours of faces or corners.

A face goes to the part whose surface its middle is nearest to: the way to the
nearest place of a middle line, less half the width there.  A part has the
median of its faces in each of red, green and blue, weighed by area.

A flat part is wider than it is thick, so faces in a fork may go to the wrong
one of two parts; the median bears that while they are fewer than half.
"""

from dataclasses import replace

import numpy as np
from scipy.spatial import cKDTree

from pourcast import units as si
from pourcast.scan.model import Mesh, Scanned

MOST_FACES = 100_000
"""That are looked at; of more, evenly spread ones.  Our own choice."""

_NEAREST = 8  # places of middle lines that are weighed against each other; our own choice


def coloured(scanned: Scanned, mesh: Mesh, colours: si.Integers | None) -> Scanned:
    """Return the scan, each part with its colour.

    Parameters
    ----------
    scanned : Scanned
    mesh : Mesh
        As it was read, before cleaning.
    colours : array of int, shape (faces, 3), or None
        Red, green and blue of each face, 0 to 255; None: the file says none.

    Returns
    -------
    Scanned
    """
    if colours is None or not scanned.parts:
        return scanned
    step = -(-len(mesh.faces) // MOST_FACES)
    corners = mesh.vertices[mesh.faces[::step]]
    area = np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    )
    owner = _owners(scanned, corners.mean(axis=1))
    seen = colours[::step]
    parts = tuple(
        replace(part, colour=_middle_colour(seen[owner == k], area[owner == k]))
        for k, part in enumerate(scanned.parts)
    )
    return replace(scanned, parts=parts)


def _owners(scanned: Scanned, middles: si.Metres) -> si.Integers:
    lines = np.concatenate([part.line for part in scanned.parts])
    counts = [len(part.line) for part in scanned.parts]
    part_of = np.repeat(np.arange(len(counts)), counts)
    half = np.concatenate(
        [
            np.linspace(0.5 * part.width[0], 0.5 * part.width[1], len(part.line))
            for part in scanned.parts
        ]
    )
    way, index = cKDTree(lines).query(middles, k=min(_NEAREST, len(lines)))
    way, index = way.reshape(len(middles), -1), index.reshape(len(middles), -1)
    best = (way - half[index]).argmin(axis=1)
    owner: si.Integers = part_of[index[np.arange(len(middles)), best]]
    return owner


def _middle_colour(colours: si.Integers, area: si.SquareMetres) -> tuple[int, int, int] | None:
    if not area.sum() > 0.0:
        return None
    out = []
    for channel in colours.T:
        order = np.argsort(channel, kind="stable")
        share = np.cumsum(area[order])
        out.append(int(channel[order][np.searchsorted(share, 0.5 * share[-1])]))
    return out[0], out[1], out[2]


def hexadecimal(colour: tuple[int, int, int]) -> str:
    """Return a colour as it is written, `#rrggbb`.

    Parameters
    ----------
    colour : tuple of int
        Red, green and blue, 0 to 255.
    """
    return "#" + "".join(f"{channel:02x}" for channel in colour)
