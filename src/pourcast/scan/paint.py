"""Paint: which colour each face of a file has.

Read are colours of faces and corners, the one colour of a material, a picture
laid over the surface where the file holds it (GLB) or it lies beside an OBJ, see
`pourcast.scan.beside`, and base materials and colour groups of 3MF.  Of a picture
a face has the point under its middle; of three corners with a colour each it has
their mean.

A picture of a few kilobytes may ask for gigabytes when it is unpacked, so its
size is held against a limit before it is.

Sources: 3MF Core Specification 1.3, base materials; 3MF Materials and Properties
Extension 1.2, colour groups; glTF 2.0 (ISO/IEC 12113:2022), base colour; all
three from memory.
"""

import base64
import json
import struct
import zipfile
from io import BytesIO
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError

MOST_PIXELS = 80_000_000
"""Of a picture laid over the surface; our own choice."""

MOST_SIDE = 20_000
"""Of a picture, in pixels; our own choice."""

NO_COLOUR = 128
"""Grey, of a mesh without colour beside others that have one."""

PICTURES = ("PNG", "JPEG", "WEBP")
"""Kinds of picture that are unpacked."""

_CORNERS = ("p1", "p2", "p3")


def colours_of(meshes: list[Any], *, found: bool = True) -> si.Integers | None:
    """Return red, green and blue of each face; None if no mesh of the file has a colour.

    Parameters
    ----------
    meshes : list of trimesh.Trimesh
    found : bool
        False if the materials of the file were not found; the library then lays a grey of
        its own over the surface, which says nothing.

    Returns
    -------
    array of int, shape (faces, 3), or None

    Raises
    ------
    InputError
        If a picture is too large to be unpacked.
    """
    looks: list[Any] = [mesh.visual for mesh in meshes]
    silent = (None,) if found else (None, "texture")
    if all(look.kind in silent for look in looks):
        return None
    painted = []
    for mesh, look in zip(meshes, looks, strict=True):
        colours = np.full((len(mesh.faces), 3), NO_COLOUR, dtype=np.int64)
        if look.kind in ("face", "vertex"):
            colours[:] = np.asarray(look.face_colors)[:, :3]
        elif look.kind not in silent:
            colours[:] = _of_picture(mesh, look)
        painted.append(colours)
    return np.concatenate(painted)


def require_small_pictures(content: bytes) -> None:
    """Refuse a GLB with a picture that would unpack to too much; none is unpacked here.

    Parameters
    ----------
    content : bytes
        The whole file, let in by `pourcast.scan.guard`.

    Raises
    ------
    InputError
        If a picture is larger than `MOST_PIXELS` or `MOST_SIDE`.
    """
    from PIL import Image

    (long,) = struct.unpack_from("<I", content, 12)
    told = json.loads(content[20 : 20 + long])
    views = told.get("bufferViews", [])
    for image in told.get("images", []):
        if "bufferView" in image:
            view = views[image["bufferView"]]
            # The binary part begins after the description and its own head of 8 bytes.
            first = 28 + long + view.get("byteOffset", 0)
            packed = content[first : first + view["byteLength"]]
        else:
            _, _, text = image.get("uri", "").partition("base64,")
            packed = base64.b64decode(text)
        try:
            wide, tall = Image.open(BytesIO(packed), formats=PICTURES).size
        except Image.DecompressionBombError:
            require_size("more than 178 million", MOST_SIDE + 1, 1)
        except OSError:
            continue  # no picture; the library leaves it out
        require_size(f"{wide} x {tall}", wide, tall)


def require_size(said: str, wide: int, tall: int) -> None:
    """Refuse a picture that would unpack to too much.

    Parameters
    ----------
    said : str
        Its size in words.
    wide, tall : int
        Pixels.

    Raises
    ------
    InputError
        If it is larger than `MOST_PIXELS` or `MOST_SIDE`.
    """
    if wide * tall > MOST_PIXELS or max(wide, tall) > MOST_SIDE:
        raise InputError(
            "picture on the surface",
            said,
            "pixels",
            f"at most {MOST_PIXELS // 10**6} million, and {MOST_SIDE} a side",
            "Export it smaller, or without.",
        )


def _of_picture(mesh: Any, look: Any) -> si.Integers:
    """Return the colours of the picture under the middles of the faces, or that of the material."""
    material = look.material
    picture = getattr(material, "baseColorTexture", None) or getattr(material, "image", None)
    whole = np.broadcast_to(np.asarray(material.main_color)[:3], (len(mesh.faces), 3))
    if picture is None or look.uv is None or len(look.uv) != len(mesh.vertices):
        return whole.astype(np.int64)
    wide, tall = picture.size
    require_size(f"{wide} x {tall}", wide, tall)
    pixels = np.asarray(picture.convert("RGB"))
    middle = np.asarray(look.uv, dtype=np.float64)[mesh.faces].mean(axis=1)
    middle = np.where(np.isfinite(middle), middle, 0.0) % 1.0
    column = np.minimum((middle[:, 0] * wide).astype(np.int64), wide - 1)
    # The library counts upward from the lower edge, a picture downward from the upper one.
    row = np.minimum(((1.0 - middle[:, 1]) * tall).astype(np.int64), tall - 1)
    seen: si.Integers = pixels[row, column].astype(np.int64)
    factor = getattr(material, "baseColorFactor", None)
    return seen if factor is None else seen * np.asarray(factor, dtype=np.int64)[:3] // 255


def paint_3mf(content: bytes, meshes: list[Any]) -> None:
    """Give the meshes of a 3MF file the colours that it says.

    Parameters
    ----------
    content : bytes
        The whole file, let in by `pourcast.scan.guard`.
    meshes : list of trimesh.Trimesh
        One for each object with a mesh, in their order; left as they are if they do not match.
    """
    with zipfile.ZipFile(BytesIO(content)) as packed:
        names = [name for name in packed.namelist() if "3d/3dmodel.model" in name.lower()]
        model = packed.read(names[0]) if names else b""
    if b"displaycolor" not in model and b"colorgroup" not in model:
        return
    painted = _painted(model)
    if [len(some) for some in painted] != [len(mesh.faces) for mesh in meshes]:
        return
    for mesh, colours in zip(meshes, painted, strict=True):
        opaque = np.full((len(colours), 1), 255)
        mesh.visual.face_colors = np.concatenate([colours, opaque], axis=1).astype(np.uint8)


def _painted(model: bytes) -> list[si.Integers]:
    """Return the colours of the faces of each object with a mesh."""
    from defusedxml.ElementTree import iterparse  # type: ignore[import-untyped]

    groups: dict[str, list[tuple[int, ...]]] = {}
    made: list[si.Integers] = []
    faces: list[dict[str, str]] = []
    group: list[tuple[int, ...]] = []
    for _, node in iterparse(BytesIO(model), forbid_dtd=True):
        kind, said = node.tag.rsplit("}", 1)[-1], dict(node.attrib)
        if kind in ("base", "color"):
            group.append(_rgb(said.get("displaycolor" if kind == "base" else "color", "")))
        elif kind in ("basematerials", "colorgroup"):
            groups[said.get("id", "")], group = group, []
        elif kind == "triangle":
            faces.append(said)
        elif kind == "object":
            if faces:
                made.append(_of_faces(faces, said, groups))
            faces = []
        else:
            continue
        node.clear()
    return made


def _of_faces(
    faces: list[dict[str, str]], whole: dict[str, str], groups: dict[str, list[tuple[int, ...]]]
) -> si.Integers:
    out = np.full((len(faces), 3), NO_COLOUR, dtype=np.int64)
    usual = whole.get("pid"), whole.get("pindex")
    for k, face in enumerate(faces):
        of, first = (face.get("pid", usual[0]), face.get("p1")) if "p1" in face else usual
        known = groups.get(of or "", [])
        # A corner without a colour of its own has that of the first.
        places = [face.get(corner, first) for corner in _CORNERS] if "p1" in face else [first]
        some = [known[int(at)] for at in places if at and at.isdigit() and int(at) < len(known)]
        if some:
            out[k] = np.mean(some, axis=0)
    return out


def _rgb(written: str) -> tuple[int, ...]:
    try:
        return tuple(int(written[at : at + 2], 16) for at in (1, 3, 5))
    except ValueError:
        return (NO_COLOUR,) * 3
