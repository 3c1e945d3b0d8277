"""Hostile and damaged files: each is refused by name before a library sees it.

The list is that of the house; no outside number is held against it.  Limits of
time and memory are measured by hand and written down in docs/scan.md: a test
knows no clock.
"""

import io
import json
import struct
import zipfile

import pytest

from pourcast.errors import InputError
from pourcast.scan.guard import MOST_BYTES, kind_of, require_size
from pourcast.scan.read import read_mesh
from tests.scan.make import binary_stl, stem

MODEL = "3D/3dmodel.model"


def packed(*members: tuple[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", method) as made:
        for name, content in members:
            made.writestr(name, content)
    return held.getvalue()


def glb(told: object, rest: bytes = b"", *, length: int | None = None) -> bytes:
    text = json.dumps(told).encode()
    whole = 20 + len(text) + len(rest)
    head = b"glTF" + struct.pack("<IIII", 2, length or whole, len(text), 0x4E4F534A)
    return head + text + rest


BOMB = b"""<?xml version="1.0"?><!DOCTYPE m [<!ENTITY a "aaaaaaaaaa">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><model>&b;</model>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE m [<!ENTITY a SYSTEM "file:///etc/hostname">]>
<model>&a;</model>"""
HUGE = 10**12

HOSTILE = {
    "empty": (b"", "empty"),
    "toml renamed stl": (b'name = "Teasel"\n[metal]\nalloy = "C87300"\n' * 4, "none of the kinds"),
    "short text": (b"hello", "none of the kinds"),
    "truncated binary stl": (binary_stl(4)[:-20], "header names 4 faces"),
    "stl that says too many": (binary_stl(4, 4_000_000_000), "header names 4000000000 faces"),
    "truncated ascii stl": (b"solid x\nfacet normal 0 0 1\nouter loop\n", "stops before its end"),
    "ply of 10^12": (
        f"ply\nformat ascii 1.0\nelement vertex {HUGE}\nproperty float x\nend_header\n0\n".encode(),
        "asks for",
    ),
    "ply of 10^12 faces": (
        f"ply\nformat ascii 1.0\nelement face {HUGE}\nend_header\n".encode(),
        "at most 5000000",
    ),
    "ply without end": (b"ply\nformat ascii 1.0\nelement vertex 3\n", "end of its header"),
    "glb of wrong length": (glb({}, length=10**9), "header says 1000000000"),
    "glb of 10^12": (glb({"accessors": [{"count": HUGE}]}), "count of 1000000000000"),
    "glb that leads outside": (glb({"buffers": [{"uri": "../x.bin"}]}), "another file"),
    "glb packed": (glb({"extensionsRequired": ["packing"]}), "packed meshes"),
    "glb no table": (glb([1, 2]), "no table"),
    "zip bomb": (packed((MODEL, b"0" * 60_000_000)), "unpacks to more"),
    "zip that leads up": (packed(("../evil.model", b"x")), "leads outside"),
    "zip that is absolute": (packed(("/evil.model", b"x")), "leads outside"),
    "zip without model": (packed(("readme.txt", b"x")), "without a model"),
    "entity bomb": (packed((MODEL, BOMB)), "entities"),
    "outside entity": (packed((MODEL, OUTSIDE)), "entities"),
    "broken zip": (b"PK\x03\x04" + b"\1" * 100, "damaged"),
    "broken xml": (packed((MODEL, b"<model><mesh>")), "cannot be read"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_file_is_refused_by_name(name: str) -> None:
    """House rule: each file of the list is refused, and the message says why."""
    content, said = HOSTILE[name]

    with pytest.raises(InputError) as fault:
        read_mesh(content)

    assert said in str(fault.value)


def test_a_gigabyte_is_refused_by_its_length_alone() -> None:
    with pytest.raises(InputError, match="1000 MB long"):
        require_size(10**9)

    require_size(MOST_BYTES)


def test_corners_that_are_not_numbers_are_refused() -> None:
    """Made to fail: three of the places of a good file are put to nan."""
    content = bytearray(stem().export(file_type="stl"))
    content[96:108] = struct.pack("<3f", *[float("nan")] * 3)

    with pytest.raises(InputError, match="not a number for"):
        read_mesh(bytes(content))


@pytest.mark.parametrize("kind", ["stl", "stl_ascii", "ply", "obj", "3mf", "glb"])
def test_a_good_file_of_each_kind_passes(kind: str) -> None:
    """A guard that refuses everything would pass the tests above."""
    made = stem().export(file_type=kind)
    content = made.encode() if isinstance(made, str) else made

    assert kind_of(content) == kind.removesuffix("_ascii")


@pytest.mark.parametrize("kind", ["stl", "ply", "3mf", "glb"])
@pytest.mark.parametrize("share", [0.05, 0.5, 0.98])
def test_a_file_that_is_cut_short_is_refused(kind: str, share: float) -> None:
    content = stem().export(file_type=kind)

    with pytest.raises(InputError):
        read_mesh(content[: int(share * len(content))])
