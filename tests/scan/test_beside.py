"""Colours of an OBJ: from the material file and the picture that lie beside it.

Outside: the files are written by hand after the OBJ and MTL keywords (from memory), the
pictures by a general-purpose library; the colours are those that were put in.
"""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest

from pourcast.cli.take_scan import read_beside
from pourcast.errors import InputError
from pourcast.scan import beside as beside_
from pourcast.scan.read import read_mesh
from tests.scan.test_paint import BLUE, GREEN, RED, WHITE, four

SQUARE = "v 0 0 0\nv 20 0 0\nv 20 20 0\nv 0 20 0\nv 10 10 2\n"
PLACES = "vt 0.25 0.75\nvt 0.75 0.75\nvt 0.75 0.25\nvt 0.25 0.25\n"
FACES = "f 1/1 2/1 5/1\nf 2/2 3/2 5/2\nf 3/3 4/3 5/3\nf 4/4 1/4 5/4\n"


def png() -> bytes:
    out = BytesIO()
    four().save(out, "PNG")
    return out.getvalue()


def lies(**files: bytes) -> Callable[[str, int], bytes | None]:
    """Return what gives these files, their names with _ for the dot."""
    kept = {name.replace("_", "."): content for name, content in files.items()}
    return lambda name, most: kept.get(name) and kept[name][: most + 1]


def obj(library: str = "mtllib m.mtl\n", faces: str = "usemtl skin\n" + FACES) -> bytes:
    return (library + SQUARE + PLACES + faces).encode()


@pytest.mark.parametrize(
    "named",
    ["p.png", "-s 1 1 1 p.png", "C:\\Users\\someone\\p.png", "/srv/someone/p.png"],
)
def test_a_picture_beside_an_obj_gives_each_face_the_point_under_it(named: str) -> None:
    """Published: a texture coordinate of OBJ runs upward from the lower edge (from memory)."""
    library = f"newmtl skin\nKd 0.5 0.5 0.5\nmap_Kd {named}\n".encode()
    colours = read_mesh(obj(), beside=lies(m_mtl=library, p_png=png())).colours

    assert colours is not None
    # The second row of the picture is the lower one.
    assert colours.tolist() == [list(c) for c in (RED, GREEN, WHITE, BLUE)]


def test_a_colour_of_each_material_is_read_without_a_picture() -> None:
    library = b"newmtl stalk\r\nKd 0 0.5 1\r\nnewmtl leaf\r\nKd 1 0 0\r\nmap_Kd gone.png\r\n"
    faces = FACES.splitlines()
    painted = "\n".join(["usemtl stalk", *faces[:2], "usemtl leaf", *faces[2:], ""])
    colours = read_mesh(obj(faces=painted), beside=lies(m_mtl=library)).colours

    assert colours is not None
    assert sorted(map(tuple, colours.tolist())) == [(0, 128, 255)] * 2 + [(255, 0, 0)] * 2


def test_nothing_beside_it_gives_no_colours_and_the_same_mesh() -> None:
    plain = read_mesh(obj())
    alone = read_mesh(obj(), beside=lies())

    assert plain.colours is None
    assert alone.colours is None
    assert alone.faces.tolist() == plain.faces.tolist()


@pytest.mark.parametrize("name", ["../m.mtl", "a/../../m.mtl", "..\\m.mtl", "/x/../m.mtl"])
@pytest.mark.parametrize("where", ["library", "picture"])
def test_a_name_that_leads_outside_is_refused_before_anything_is_read(
    name: str, where: str
) -> None:
    """House: whatever the file says, nothing outside its folder is asked for."""
    asked: list[str] = []

    def beside(path: str, _: int) -> bytes | None:
        asked.append(path)
        return f"newmtl skin\nmap_Kd {name}\n".encode()

    library = name if where == "library" else "m.mtl"
    with pytest.raises(InputError, match="leads outside"):
        read_mesh(obj(f"mtllib {library}\n"), beside=beside)

    assert asked == ([] if where == "library" else ["m.mtl"])


@pytest.mark.parametrize(
    ("library", "most"),
    [(b"newmtl skin\n" * 90_000, 1), (b"newmtl skin\nmap_Kd p.png\n", 60)],
)
def test_what_is_too_long_is_refused(library: bytes, most: int) -> None:
    long = b"\0" * (beside_.MOST_PICTURE + 1)
    with pytest.raises(InputError, match=f"over {most} MB"):
        read_mesh(obj(), beside=lies(m_mtl=library, p_png=long))


def test_a_picture_that_unpacks_to_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pourcast.scan.paint.MOST_SIDE", 15)
    library = b"newmtl skin\nmap_Kd p.png\n"
    with pytest.raises(InputError, match="picture on the surface"):
        read_mesh(obj(), beside=lies(m_mtl=library, p_png=png()))


def test_pictures_that_unpack_to_too_much_together_are_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(beside_, "MOST_PIXELS", 300)  # one has 256
    library = b"newmtl skin\nmap_Kd p.png\nnewmtl other\nmap_Kd q.png\n"

    assert read_mesh(obj(), beside=lies(m_mtl=library, p_png=png())).colours is not None
    with pytest.raises(InputError, match="in all its pictures"):
        read_mesh(obj(), beside=lies(m_mtl=library, p_png=png(), q_png=png()))


def test_a_picture_that_is_none_leaves_the_colour_of_the_material() -> None:
    library = b"newmtl skin\nKd 1 0 0\nmap_Kd p.png\n"
    colours = read_mesh(obj(), beside=lies(m_mtl=library, p_png=b"no picture")).colours

    assert colours is not None
    assert set(map(tuple, colours.tolist())) == {(255, 0, 0)}


def test_only_what_lies_in_the_folder_of_the_scan_is_read(tmp_path: Path) -> None:
    folder = tmp_path / "scans"
    (folder / "textures").mkdir(parents=True)
    (tmp_path / "secret").write_bytes(b"secret")
    (folder / "textures" / "p.png").write_bytes(b"picture")
    (folder / "link.png").symlink_to(tmp_path / "secret")
    scan = folder / "plant.obj"

    assert read_beside(scan, "textures/p.png", 100) == b"picture"
    assert read_beside(scan, "textures/p.png", 3) == b"pict"
    for name in ("../secret", str(tmp_path / "secret"), "link.png", "textures", "x\0", ""):
        assert read_beside(scan, name, 100) is None
