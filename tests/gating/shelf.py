"""Flasks and plans for the tests of the gating."""

from dataclasses import replace
from pathlib import Path

from pourcast.gating.model import ShelfFlask
from pourcast.piece.model import Piece
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("dragonfly", "fern_crozier", "larch_twig", "sea_holly")


def text_of(name: str) -> str:
    """Return the text of an example."""
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def plan_with(piece: Piece) -> Plan:
    """Return the plan of an example with another piece in it."""
    return replace(read_plan(text_of("sea_holly")), piece=piece)


def steel(diameter: float, height: float, wall: float = 2.0) -> ShelfFlask:
    """Return a perforated flask of so many millimetres."""
    return ShelfFlask(
        name=f"{diameter:g} x {height:g}",
        inside_diameter=diameter / 1e3,
        height=height / 1e3,
        wall="perforated",
        wall_thickness=wall / 1e3,
    )


SHELF = tuple(
    steel(*size) for size in ((50, 76), (64, 90), (76, 100), (76, 127), (100, 150), (127, 150))
)
