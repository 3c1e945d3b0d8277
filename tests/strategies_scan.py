"""Strategies: records of the scan, drawn at random within sensible limits."""

import numpy as np
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.piece.model import Shape
from pourcast.scan.model import (
    Cells,
    Cleaned,
    Correction,
    Field,
    Mesh,
    Pieces,
    Reading,
    Scanned,
    ScannedPart,
    Walls,
)
from tests.strategies import sizes

TETRAHEDRON = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]])


def rows(count: int, low: float, high: float) -> st.SearchStrategy[si.Floats]:
    """Arrays of so many rows of three numbers."""
    number = st.floats(low, high, allow_nan=False, allow_subnormal=False)
    return st.lists(number, min_size=3 * count, max_size=3 * count).map(
        lambda drawn: np.array(drawn).reshape(count, 3)
    )


def readings() -> st.SearchStrategy[Reading]:
    """Tetrahedra in no unit, or in one."""
    return st.builds(
        Reading,
        vertices=rows(4, -100.0, 100.0),
        faces=st.just(TETRAHEDRON),
        unit=st.sampled_from((None, "mm", "cm", "m", "in")),
        kind=st.sampled_from(("stl", "ply", "obj", "3mf", "glb")),
    )


def meshes() -> st.SearchStrategy[Mesh]:
    """Tetrahedra of up to 200 mm."""
    return st.builds(Mesh, vertices=rows(4, -0.1, 0.1), faces=st.just(TETRAHEDRON))


def cleaned() -> st.SearchStrategy[Cleaned]:
    """Tetrahedra with some faces dropped, turned and closed."""
    return st.builds(
        Cleaned,
        mesh=meshes(),
        shell=st.just(np.zeros(4, dtype=np.int64)),
        dropped=st.integers(0, 9),
        turned=st.integers(0, 4),
        holes=st.integers(0, 3),
        hole_share=st.floats(0.0, 0.2),
        own=st.just(4),
        seen=st.just(4),
    )


def fields() -> st.SearchStrategy[Field]:
    """Grids of 27 cells of half a millimetre."""
    return st.builds(
        Field,
        share=rows(9, 0.0, 1.0).map(lambda drawn: drawn.reshape(3, 3, 3)),
        origin=rows(1, -0.1, 0.1).map(lambda drawn: drawn[0]),
        cell=st.just(5e-4),
        bad_lines=st.floats(0.0, 0.15),
        by_winding=st.booleans(),
    )


def cells(count: int = 4) -> st.SearchStrategy[Cells]:
    """Rows of cells, each farther from the gate."""
    return st.builds(
        Cells,
        place=st.just(np.arange(3 * count).reshape(count, 3)),
        share=rows(count, 0.0, 1.0).map(lambda drawn: drawn[:, 0]),
        shell=st.just(np.zeros(count, dtype=np.int64)),
        distance=st.just(np.arange(count) * 5e-4),
    )


def pieces_of_cells(count: int = 4) -> st.SearchStrategy[Pieces]:
    """Chains of pieces, one for each cell."""
    return st.builds(
        Pieces,
        of_cell=st.just(np.arange(count)),
        parent=st.just(np.arange(count) - 1),
        band=st.just(np.arange(count)),
        step=st.just(1e-3),
        shell=st.just(np.zeros(count, dtype=np.int64)),
        volume=st.just(np.full(count, 1e-9)),
        middle=rows(count, -0.1, 0.1),
        loops=st.integers(0, 3),
    )


def walls(count: int = 5) -> st.SearchStrategy[Walls]:
    """Places on a surface, some without another side."""
    way = st.lists(st.just(np.nan) | sizes(1e-4, 1e-2), min_size=count, max_size=count)
    return st.builds(
        Walls,
        place=rows(count, -0.1, 0.1),
        inward=st.just(np.tile([0.0, 0.0, 1.0], (count, 1))),
        way=way.map(np.array),
        closed=st.just(np.zeros(count, dtype=bool)),
        area=sizes(1e-6, 1e-5),
    )


@st.composite
def scanned_parts(draw: st.DrawFn, *, name: str = "stem", parent: int = -1) -> ScannedPart:
    """Straight parts of all shapes that stand up from some place."""
    shapes: tuple[Shape, ...] = ("rod", "blade", "lump")
    shape = draw(st.sampled_from(shapes))
    length = draw(sizes(3e-3, 8e-2))
    thickness = draw(sizes(3e-4, 5e-3))
    width = thickness if shape == "rod" else draw(sizes(thickness, 2e-2))
    base = draw(rows(1, -0.05, 0.05))
    return ScannedPart(
        name=name,
        parent=parent,
        shape=shape,
        line=base + np.linspace(0.0, length, 33)[:, None] * np.array([0.0, 0.0, 1.0]),
        length=length,
        width=(width, width),
        thickness=(thickness, thickness),
        across=np.array([1.0, 0.0, 0.0]),
        widest=width,
        volume=length * width * thickness,
        seen_volume=length * width * thickness,
        length_error=5e-4,
        thickness_error=2e-5,
        walls_read=draw(st.floats(0.0, 1.0)),
        hollow=False,
    )


@st.composite
def scans(draw: st.DrawFn) -> Scanned:
    """Draw scans of one to four parts."""
    count = draw(st.integers(1, 4))
    parts = tuple(
        draw(scanned_parts(name=f"part {k}", parent=draw(st.integers(0, k - 1)) if k else -1))
        for k in range(count)
    )
    pairs = st.lists(st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)), max_size=3)
    return Scanned(
        parts=parts,
        gate=parts[0].line[0],
        size=np.array([0.05, 0.05, 0.1]),
        cell=5e-4,
        mesh_volume=sum(part.volume for part in parts),
        area=1e-3,
        bodies=draw(st.integers(1, 5)),
        loose=draw(st.integers(0, 2)),
        loose_share=draw(st.floats(0.0, 0.2)),
        unseen_share=draw(st.floats(0.0, 0.5)),
        too_small=draw(st.integers(0, 9)),
        loops=draw(st.integers(0, 3)),
        touching=tuple(draw(pairs)),
        narrow=tuple((a, b, 5e-4) for a, b in draw(pairs)),
        bad_lines=draw(st.floats(0.0, 0.15)),
        by_winding=draw(st.booleans()),
        cleaned=draw(cleaned()),
    )


def corrections() -> st.SearchStrategy[Correction]:
    """Corrections of name, material and sizes."""
    return st.builds(
        Correction,
        at=rows(1, -0.05, 0.05).map(lambda drawn: drawn[0]),
        name=st.none() | st.just("petal"),
        material=st.none() | st.just("petal"),
        width=st.none() | sizes(1e-3, 1e-2).map(lambda size: (size, size)),
        thickness=st.none() | sizes(3e-4, 5e-3).map(lambda size: (size, size)),
        length=st.none() | sizes(3e-3, 8e-2),
        drop=st.booleans(),
        join=st.booleans(),
    )
