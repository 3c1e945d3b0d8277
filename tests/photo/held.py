"""Held: parts read from photographs of a test plant against the members it has.

A part and a member belong together where their middles lie within a third of
the length and 2 mm of each other, the nearest first.  Both are laid out by
`pourcast.piece.place`, the read ones by way of the piece file, so a wrong angle
or turn that matters moves the middle.

Uses tests.plants (kinds, meshes, pictures, truth) and pourcast.photo.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.photo.model import Asked, Mark, Reading, Thickness
from pourcast.photo.paper import piece_file
from pourcast.photo.solve import solve
from pourcast.piece.model import Piece
from pourcast.sheet import read_plan
from tests.photo.pressed import mesh_of, pressed
from tests.plants import kinds, meshes, pictures
from tests.plants.truth import Member, members

LEAF = Thickness(value=0.45e-3, low=0.3e-3, high=0.8e-3, material="leaf", measured=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What was read of one plant, beside the truth."""

    piece: Piece
    reading: Reading
    pairs: tuple[tuple[int, int], ...]
    truth: tuple[Member, ...]
    read: tuple[Member, ...]

    @property
    def missing(self) -> int:
        """Members that no part was found for."""
        return len(self.truth) - len(self.pairs)

    @property
    def extra(self) -> int:
        """Parts that no member is near."""
        return len(self.read) - len(self.pairs)


def asked(name: str, pictures_taken: int, **changes: object) -> Asked:
    """Return what a caster says who has put a bar of 50 mm into each picture."""
    said: dict[str, object] = {
        "name": name,
        "scales": (Mark(length=0.05),) * pictures_taken,
        "leaf": LEAF,
        "camera": 1.0,
    }
    return Asked(**(said | changes))  # type: ignore[arg-type]


def hold(
    kind: str,
    seed: int,
    turns: tuple[float, ...],
    *,
    flat: bool = False,
    said: Callable[[Piece], dict[str, object]] | None = None,
) -> Held:
    """Photograph a plant at the given turns, read it, and pair what was read with the truth.

    ``said`` gives what the caster says beside the pictures.
    """
    piece = pressed(seed) if kind == "pressed" else kinds.KINDS[kind](seed)
    mesh = mesh_of(piece) if kind == "pressed" else meshes.clean(piece)
    taken = [
        pictures.photograph(mesh, turn_deg=turn, seed=seed + k) for k, turn in enumerate(turns)
    ]
    changes = {"flat": flat} | (said(piece) if said else {})
    reading = solve([picture.png() for picture in taken], asked(piece.name, len(turns), **changes))
    truth = members(piece)
    read = members(read_plan(piece_file(reading), file="read").piece)
    back = np.radians(turns[0])
    about = np.array([[np.cos(back), -np.sin(back), 0], [np.sin(back), np.cos(back), 0], [0, 0, 1]])
    return Held(
        piece=piece,
        reading=reading,
        pairs=_paired(truth, read, about),
        truth=truth,
        read=read,
    )


def _paired(
    truth: tuple[Member, ...], read: tuple[Member, ...], about: si.Ratios
) -> tuple[tuple[int, int], ...]:
    near = []
    for i, member in enumerate(truth):
        for j, part in enumerate(read):
            apart = float(np.linalg.norm(_middle(member) - about @ _middle(part)))
            if apart < member.length / 3.0 + 2.0 and (member.shape == "lump") == (
                part.shape == "lump"
            ):
                near.append((apart, i, j))
    pairs: list[tuple[int, int]] = []
    for _, i, j in sorted(near):
        if all(i != a and j != b for a, b in pairs):
            pairs.append((i, j))
    return tuple(pairs)


def _middle(member: Member) -> si.Ratios:
    return np.asarray(member.line[len(member.line) // 2])
