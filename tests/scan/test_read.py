"""What a mesh file holds, and in which unit."""

import re
from io import BytesIO
from zipfile import ZipFile

import numpy as np
import pytest

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.scan.model import Reading
from pourcast.scan.read import in_metres, read_mesh
from tests.outside.record import record as write_down
from tests.scan.make import stem


def reading(unit: str | None = None, size: float = 40.0) -> Reading:
    mesh = stem(size, 3.0 * size / 40.0)
    return Reading(
        vertices=np.asarray(mesh.vertices), faces=np.asarray(mesh.faces), unit=unit, kind="stl"
    )


@pytest.mark.parametrize("kind", ["stl", "stl_ascii", "ply", "obj", "3mf"])
def test_the_file_gives_back_the_size_that_was_written(kind: str) -> None:
    """Outside: trimesh writes a rod of 3 by 40; single precision of the files, 1e-6 of it."""
    made = stem().export(file_type=kind)

    read = read_mesh(made.encode() if isinstance(made, str) else made)

    size = float(np.ptp(read.vertices[:, 2]))
    write_down(
        "scan",
        f"height read from {kind}",
        "trimesh writer",
        size,
        40.0,
        "mm",
        4e-5,
        kind="by construction",
    )
    assert size == pytest.approx(40.0, rel=1e-6)
    assert len(read.faces) == len(stem().faces)


@pytest.mark.parametrize(
    ("unit", "long"),
    [
        ("micron", 40e-6),
        ("millimeter", 0.040),
        ("centimeter", 0.40),
        ("inch", 1.016),
        ("foot", 12.192),
        ("meter", 40.0),
        (None, 0.040),
    ],
)
def test_a_3mf_says_its_unit(unit: str | None, long: float) -> None:
    """Published: 3MF Core 1.3, sec. 3.4, the six units of a model; millimetres where none is said.

    From memory.  The inch is 25.4 mm exactly (international yard of 1959).
    """
    packed = BytesIO()
    with ZipFile(BytesIO(stem().export(file_type="3mf"))) as old, ZipFile(packed, "w") as new:
        for name in old.namelist():
            text = re.sub(rb'(<model[^>]*) unit="[a-z]+"', rb"\1", old.read(name))
            new.writestr(name, text.replace(b"<model ", b'<model unit="%s" ' % unit.encode())
                         if unit else text)  # fmt: skip

    read = read_mesh(packed.getvalue())

    assert read.unit is not None
    size = float(np.ptp(read.vertices[:, 2])) * si.to_si(1.0, read.unit)
    assert size == pytest.approx(long, rel=1e-6)


def test_gltf_is_in_metres_with_y_up() -> None:
    """Published: glTF 2.0 has metres and +Y up (ISO/IEC 12113, from memory): y goes to z."""
    mesh = stem()
    mesh.vertices = mesh.vertices[:, [0, 2, 1]] * 1e-3  # along y, in metres
    mesh.invert()

    read = read_mesh(mesh.export(file_type="glb"))

    assert read.unit == "m"
    assert float(read.vertices[:, 2].max()) == pytest.approx(0.040, rel=1e-6)
    size = np.ptp(in_metres(read, None).vertices, axis=0)
    assert size == pytest.approx([0.003, 0.003, 0.040], rel=0.01)  # a polygon is not a circle


def test_a_file_without_unit_is_not_guessed() -> None:
    """House rule: ask, and show the size both ways."""
    with pytest.raises(InputError) as fault:
        in_metres(reading(), None)

    text = str(fault.value)
    assert "--unit" in text
    for shown in ("40 mm read in mm", "400 mm read in cm", "1.02e+03 mm read in in"):
        assert shown in text


@pytest.mark.parametrize(("unit", "metres"), [("mm", 0.040), ("cm", 0.40)])
def test_the_unit_that_is_said_is_taken(unit: str, metres: float) -> None:
    mesh = in_metres(reading(), unit)

    assert float(np.ptp(mesh.vertices[:, 2])) == pytest.approx(metres, rel=1e-12)


def test_what_the_caster_says_goes_before_the_file() -> None:
    """Many programs write millimetres into a file whose standard says metres."""
    mesh = in_metres(reading(unit="m"), "mm")

    assert float(np.ptp(mesh.vertices[:, 2])) == pytest.approx(0.040, rel=1e-12)


@pytest.mark.parametrize(("unit", "size"), [("m", 40.0), ("mm", 0.08), ("furlong", 40.0)])
def test_a_size_that_cannot_be_meant_is_refused(unit: str, size: float) -> None:
    with pytest.raises(InputError):
        in_metres(reading(size=size), unit)
