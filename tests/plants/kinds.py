"""Kinds: a seed head, a twig, an insect and a lobed leaf, each from a seed.

Sizes are estimates of what a studio casts.  A plant whose members come nearer
to each other than a gap is thrown away and drawn again from the same stream, so
that what touches in the truth is only what grows on each other.

Uses `pourcast.piece.model` for the records and numpy for the chance.
"""

import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from pourcast.piece.model import Button, Part, Piece, Shape
from tests.plants.truth import closest_gap_mm

_TRIES = 400
Sizes = float | tuple[float, float]


def umbel(seed: int, *, gap_mm: float = 1.2) -> Piece:
    """Return a seed head: stem, a whorl of rays with a bud each, bracts, perhaps leaves."""
    return _spaced(_umbel, seed, gap_mm)


def twig(seed: int, *, gap_mm: float = 1.2) -> Piece:
    """Return a twig: side shoots one by one on a bent stem, with cones and buds at their tips."""
    return _spaced(_twig, seed, gap_mm)


def insect(seed: int, *, gap_mm: float = 1.0) -> Piece:
    """Return an insect on a wax rod: three lumps in a row, six jointed legs, antennae, wings."""
    return _spaced(_insect, seed, gap_mm)


def leaf(seed: int, *, gap_mm: float = 1.2) -> Piece:
    """Return a stalk with leaf blades; a part has no lobes, `shells.lobes` cuts them in."""
    return _spaced(_leaf, seed, gap_mm)


def fan(seed: int, *, gap_mm: float = 1.5) -> Piece:
    """Return a twig that lies in one plane, as a pressed plant does."""
    return _spaced(_fan, seed, gap_mm)


KINDS: Mapping[str, Callable[..., Piece]] = {
    "umbel": umbel,
    "twig": twig,
    "insect": insect,
    "leaf": leaf,
    "fan": fan,
}


def _spaced(make: Callable[[np.random.Generator], list[Part]], seed: int, gap: float) -> Piece:
    rng = np.random.default_rng([seed, len(make.__name__)])
    for _ in range(_TRIES):
        parts = make(rng)
        gate = parts[0].width[0]
        piece = Piece(
            name=f"Test {make.__name__.strip('_')} {seed}",
            parts=tuple(parts),
            button=Button(diameter=0.034, height=0.02, gate_diameter=gate, material="casting"),
        )
        if closest_gap_mm(piece) >= gap:
            return piece
    raise AssertionError(f"no {make.__name__} with a gap of {gap} mm in {_TRIES} tries")


def _part(
    name: str,
    on: str,
    shape: Shape,
    length: float,
    width: Sizes,
    thickness: Sizes | None = None,
    *,
    at: Sizes = 1.0,
    angle: float = 0.0,
    turn: float = 0.0,
    bend: float = 0.0,
    count: int = 1,
    material: str = "woody_stem",
) -> Part:
    """Return a part from millimetres and degrees, rounded as a caster would write them."""
    first, last = _pair(at)
    wide = _metres(width)
    return Part(
        name=name,
        parent=on,
        shape=shape,
        count=count,
        length=round(float(length), 2) / 1e3,
        width=wide,
        thickness=wide if thickness is None else _metres(thickness),
        position=(round(first, 3), round(last, 3)),
        angle=math.radians(round(angle, 1)),
        turn=math.radians(round(turn, 1)),
        turn_step=math.radians(360.0 / count if first == last else 137.5),
        bend=math.radians(round(bend, 1)),
        coat=0.0,
        material=material,
    )


def _pair(size: Sizes) -> tuple[float, float]:
    first, last = size if isinstance(size, tuple) else (size, size)
    return float(first), float(last)


def _metres(size: Sizes) -> tuple[float, float]:
    first, last = _pair(size)
    return round(first, 2) / 1e3, round(last, 2) / 1e3


def _taper(rng: np.random.Generator, base: float, low: float, high: float) -> tuple[float, float]:
    return base, base * rng.uniform(low, high)


def _umbel(rng: np.random.Generator) -> list[Part]:
    u = rng.uniform
    stem = _taper(rng, u(3.0, 5.0), 0.7, 0.95)
    parts = [_part("stem", "button", "rod", u(40, 70), stem, material="herb_stem")]
    if rng.random() < 0.6:
        stalk = _taper(rng, u(1.2, 1.8), 0.75, 1.0)
        place: dict[str, Any] = {"at": u(0.2, 0.4), "angle": u(45, 65), "turn": u(0, 360)}
        leaves = int(rng.integers(1, 3))
        parts += [
            _part(
                "stalk", "stem", "rod", u(7, 12), stalk, count=leaves, material="herb_stem", **place
            ),
            _part(
                "leaf",
                "stalk",
                "blade",
                u(18, 30),
                (u(5, 9), u(2, 5)),
                u(0.35, 0.7),
                material="leaf",
            ),
        ]
    if rng.random() < 0.6:
        bract: dict[str, Any] = {"at": u(0.5, 0.7), "angle": u(50, 75), "turn": u(0, 360)}
        width = (u(3, 6), u(0.8, 2.0))
        parts.append(
            _part(
                "bract", "stem", "blade", u(12, 22), width, u(0.3, 0.6),
                count=int(rng.integers(2, 5)), material="leaf", **bract,
            )
        )  # fmt: skip
    rays = int(rng.integers(4, 9))
    ray = _taper(rng, u(1.1, 1.9), 0.7, 1.0)
    parts.append(
        _part(
            "ray", "stem", "rod", u(15, 28), ray,
            angle=u(28, 50), turn=u(0, 360), count=rays, material="herb_stem",
        )
    )  # fmt: skip
    parts.append(_part("bud", "ray", "lump", u(5, 9), u(3.5, 6.5), material="seed_head"))
    return parts


def _twig(rng: np.random.Generator) -> list[Part]:
    u = rng.uniform
    stem = _taper(rng, u(3.0, 5.5), 0.45, 0.75)
    parts = [_part("stem", "button", "rod", u(55, 90), stem, bend=u(-25, 25))]
    shoots = int(rng.integers(2, 6))
    first = u(0, 360)
    for k in range(shoots):
        at = 0.2 + 0.7 * (k + u(0.2, 0.8)) / shoots
        here = stem[0] + (stem[1] - stem[0]) * at
        shoot = f"shoot {k + 1}"
        size = _taper(rng, here * u(0.45, 0.75), 0.55, 0.9)
        turn = first + 137.5 * k + u(-20, 20)
        grown: dict[str, Any] = {"at": at, "angle": u(35, 70), "turn": turn, "bend": u(-20, 20)}
        parts.append(_part(shoot, "stem", "rod", u(14, 32), size, **grown))
        end = rng.choice(("cone", "bud", "bare"), p=(0.4, 0.3, 0.3))
        if end == "cone":
            width = u(5, 10)
            parts.append(
                _part(f"cone {k + 1}", shoot, "lump", width * u(1.1, 1.9), width, material="cone")
            )
        elif end == "bud":
            width = size[1] * u(1.6, 2.4)
            parts.append(_part(f"bud {k + 1}", shoot, "lump", width * u(1.3, 2.0), width))
        if rng.random() < 0.5:
            side = _taper(rng, max(0.8, size[1] * u(0.6, 0.9)), 0.6, 1.0)
            where: dict[str, Any] = {"at": u(0.35, 0.7), "angle": u(40, 65), "turn": u(0, 360)}
            parts.append(_part(f"spur {k + 1}", shoot, "rod", u(7, 14), side, **where))
    if rng.random() < 0.5:
        width = u(6, 11)
        parts.append(_part("top cone", "stem", "lump", width * u(1.2, 1.8), width, material="cone"))
    return parts


def _insect(rng: np.random.Generator) -> list[Part]:
    u = rng.uniform
    made = "insect"
    girth = u(6, 10)
    parts = [
        _part(
            "feed",
            "button",
            "rod",
            u(12, 20),
            _taper(rng, u(3.5, 4.5), 0.7, 0.9),
            material="casting",
        ),
        _part(
            "abdomen",
            "feed",
            "lump",
            girth * u(1.6, 2.4),
            girth,
            girth * u(0.75, 1.0),
            material=made,
        ),
        _part(
            "thorax",
            "abdomen",
            "lump",
            girth * u(1.0, 1.4),
            girth * u(0.8, 1.0),
            girth * u(0.7, 0.8),
            material=made,
        ),
        _part(
            "head",
            "thorax",
            "lump",
            girth * u(0.5, 0.7),
            girth * u(0.5, 0.7),
            girth * u(0.45, 0.5),
            material=made,
        ),
    ]
    fat = u(0.9, 1.3)
    for row, at in (("hind", 0.35), ("middle", 0.55), ("fore", 0.75)):
        long = u(7, 12)
        sides: dict[str, Any] = {
            "at": at + u(-0.03, 0.03),
            "angle": {"hind": 105, "middle": 85, "fore": 55}[row] + u(-8, 8),
        }
        parts += [
            _part(
                f"{row} thigh",
                "thorax",
                "rod",
                long,
                (fat, fat * 0.9),
                count=2,
                turn=90,
                material=made,
                **sides,
            ),
            _part(
                f"{row} shin",
                f"{row} thigh",
                "rod",
                long * u(0.8, 1.1),
                (fat * 0.85, fat * 0.7),
                angle=u(45, 75),
                turn=180,
                material=made,
            ),
            _part(
                f"{row} foot",
                f"{row} shin",
                "rod",
                long * u(0.3, 0.5),
                (fat * 0.65, fat * 0.5),
                angle=u(25, 50),
                turn=0,
                material=made,
            ),
        ]
    feeler: dict[str, Any] = {
        "at": 0.7,
        "angle": u(30, 50),
        "bend": u(-50, 20),
        "count": 2,
        "turn": 90 + u(-10, 10),
    }
    parts.append(
        _part("feeler", "head", "rod", u(8, 16), (u(0.7, 0.9), 0.6), material=made, **feeler)
    )
    if rng.random() < 0.8:
        wing: dict[str, Any] = {"at": u(0.4, 0.6), "angle": u(110, 140), "turn": 0}
        parts.append(
            _part(
                "wing",
                "thorax",
                "blade",
                u(18, 30),
                (u(3, 5), u(6, 9)),
                u(0.3, 0.45),
                material=made,
                **wing,
            )
        )
    return parts


def _leaf(rng: np.random.Generator) -> list[Part]:
    u = rng.uniform
    stem = _taper(rng, u(2.0, 3.5), 0.7, 0.95)
    parts = [_part("stem", "button", "rod", u(30, 55), stem, material="herb_stem")]
    leaves = int(rng.integers(2, 5))
    for k in range(leaves):
        at = 1.0 if k == leaves - 1 else 0.25 + 0.6 * k / leaves
        angle = 0.0 if at == 1.0 else u(45, 70)
        stalk = _taper(rng, u(1.1, 1.6), 0.8, 1.0)
        grown: dict[str, Any] = {"at": at, "angle": angle, "turn": 180.0 * k + u(-25, 25)}
        width = (u(3, 6), u(6, 12)) if rng.random() < 0.5 else (u(7, 13), u(2, 5))
        parts += [
            _part(f"stalk {k + 1}", "stem", "rod", u(6, 12), stalk, material="herb_stem", **grown),
            _part(
                f"leaf {k + 1}", f"stalk {k + 1}", "blade", u(16, 32), width, u(0.35, 0.8),
                angle=u(0, 15), bend=u(-40, 40), material="leaf",
            ),
        ]  # fmt: skip
    return parts


def _fan(rng: np.random.Generator) -> list[Part]:
    u = rng.uniform
    stem = _taper(rng, u(3.0, 5.0), 0.5, 0.8)
    parts = [_part("stem", "button", "rod", u(50, 80), stem)]
    shoots = int(rng.integers(3, 7))
    for k in range(shoots):
        at = 0.15 + 0.75 * (k + u(0.3, 0.7)) / shoots
        here = stem[0] + (stem[1] - stem[0]) * at
        size = _taper(rng, here * u(0.4, 0.75), 0.55, 0.95)
        grown: dict[str, Any] = {"at": at, "angle": u(35, 70), "turn": 90.0 + 180.0 * (k % 2)}
        parts.append(_part(f"shoot {k + 1}", "stem", "rod", u(12, 28), size, **grown))
        if rng.random() < 0.4:
            width = size[1] * u(2.0, 3.2)
            parts.append(
                _part(f"bud {k + 1}", f"shoot {k + 1}", "lump", width * u(1.2, 1.8), width)
            )
    if rng.random() < 0.5:
        width = stem[1] * u(1.8, 2.6)
        parts.append(_part("top bud", "stem", "lump", width * u(1.2, 1.8), width))
    return parts
