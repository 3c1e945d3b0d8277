"""Colours that a file lays over its faces.

Outside: the pictures and packages are made by a general-purpose library or by hand after the
open standards; the colours are those that were put in.
"""

import struct
import zipfile
import zlib
from io import BytesIO

import numpy as np
import pytest
import trimesh
from PIL import Image
from trimesh.visual.material import PBRMaterial
from trimesh.visual.texture import TextureVisuals

from pourcast.errors import InputError
from pourcast.scan.paint import MOST_SIDE
from pourcast.scan.read import read_mesh

RED, GREEN, BLUE, WHITE = (200, 20, 10), (20, 180, 40), (10, 30, 220), (250, 250, 250)


def with_picture(picture: Image.Image, factor: tuple[int, int, int, int] | None = None) -> bytes:
    """Return a GLB of a square of four faces that shows each quarter of a picture once."""
    vertices = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0], [0.5, 0.5, 0.1]]) * 0.02
    faces = np.array([[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]])
    # Each face has corners of its own, all at one quarter of the picture.
    quarter = np.array([[0.25, 0.75], [0.75, 0.75], [0.75, 0.25], [0.25, 0.25]])
    material = PBRMaterial(  # type: ignore[no-untyped-call]
        baseColorTexture=picture, baseColorFactor=factor
    )
    look = TextureVisuals(  # type: ignore[no-untyped-call]
        uv=np.repeat(quarter, 3, axis=0), material=material
    )
    mesh = trimesh.Trimesh(
        vertices[faces].reshape(-1, 3),
        np.arange(12).reshape(4, 3),
        visual=look,
        process=False,
    )
    made = mesh.export(file_type="glb")
    assert isinstance(made, bytes)
    return made


def four() -> Image.Image:
    quarters = np.array([[RED, GREEN], [BLUE, WHITE]], dtype=np.uint8)
    return Image.fromarray(quarters.repeat(8, axis=0).repeat(8, axis=1))


def test_a_picture_on_the_surface_gives_each_face_the_point_under_it() -> None:
    """Published: glTF 2.0, the first row of a picture is at v = 0 (from memory)."""
    colours = read_mesh(with_picture(four())).colours

    # The library's v runs upward: 0.75 is the upper half.
    assert colours is not None
    assert colours.tolist() == [list(c) for c in (RED, GREEN, WHITE, BLUE)]


def test_the_colour_of_the_material_is_laid_over_the_picture() -> None:
    """Published: glTF 2.0, base colour is the factor times the picture (from memory)."""
    colours = read_mesh(with_picture(four(), (255, 0, 255, 255))).colours

    assert colours is not None
    assert colours[:, 1].tolist() == [0, 0, 0, 0]
    assert colours[:, 0].tolist() == [200, 20, 250, 10]


@pytest.mark.parametrize("side", [9_000, MOST_SIDE + 1, 60_000])
def test_a_picture_that_unpacks_to_too_much_is_refused(side: int) -> None:
    """House: a header alone may ask for gigabytes; nothing is unpacked to find that out."""
    glb = with_picture(four())
    start = glb.index(b"\x89PNG")
    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    checked = struct.pack(">I", zlib.crc32(b"IHDR" + header))
    claimed = glb[: start + 16] + header + checked + glb[start + 33 :]
    assert len(claimed) == len(glb)

    with pytest.raises(InputError, match="picture on the surface"):
        read_mesh(claimed)


CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
MORE = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"


def package(resources: str, of_object: str, of_faces: list[str]) -> bytes:
    """Return a 3MF of a tetrahedron of 20 mm."""
    corners = ((0, 0, 0), (20, 0, 0), (0, 20, 0), (0, 0, 20))
    faces = ((0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3))
    places = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in corners)
    sides = "".join(
        f'<triangle v1="{a}" v2="{b}" v3="{c}" {said}/>'
        for (a, b, c), said in zip(faces, of_faces, strict=True)
    )
    model = (
        f'<?xml version="1.0"?><model unit="millimeter" xmlns="{CORE}" xmlns:m="{MORE}">'
        f'<resources>{resources}<object id="9" {of_object}><mesh><vertices>{places}</vertices>'
        f'<triangles>{sides}</triangles></mesh></object></resources><build><item objectid="9"/>'
        "</build></model>"
    )
    out = BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("3D/3dmodel.model", model)
    return out.getvalue()


def hexed(colour: tuple[int, int, int]) -> str:
    return "#" + bytes(colour).hex()


BASES = (
    f'<basematerials id="1"><base name="a" displaycolor="{hexed(RED)}"/>'
    f'<base name="b" displaycolor="{hexed(GREEN)}FF"/></basematerials>'
)
GROUP = (
    f'<m:colorgroup id="2"><m:color color="{hexed(BLUE)}"/><m:color color="#000000"/>'
    "</m:colorgroup>"
)


def test_base_materials_and_colour_groups_of_3mf_are_read() -> None:
    """Published: 3MF Core 1.3, a face without its own has the object's (from memory)."""
    faces = ["", 'pid="1" p1="1"', 'pid="2" p1="0"', 'pid="2" p1="0" p2="1" p3="1"']
    colours = read_mesh(package(BASES + GROUP, 'pid="1" pindex="0"', faces)).colours

    assert colours is not None
    third = [channel // 3 for channel in BLUE]
    assert colours.tolist() == [list(RED), list(GREEN), list(BLUE), third]


@pytest.mark.parametrize("wrong", ['pid="7" p1="0"', 'pid="1" p1="99"', 'pid="1" p1="x"'])
def test_a_colour_that_is_not_there_is_grey(wrong: str) -> None:
    colours = read_mesh(package(BASES, "", [wrong] * 4)).colours

    assert colours is not None
    assert set(colours.ravel().tolist()) == {128}


def test_a_3mf_without_colours_has_none() -> None:
    assert read_mesh(package("", "", [""] * 4)).colours is None
