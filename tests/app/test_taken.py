"""What was found is shown and put right on its page, without its file; house rules.

What a correction does to a part is for tests/scan/test_corrections.py.
"""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.app.client import browser, opened, token

pytest.importorskip("trimesh")
pytest.importorskip("skimage")


def sent(page: Any, mesh: bytes, **change: str) -> str:
    """Bring a scan, and return the path of the page that tells what was found."""
    given = {"token": token(page), "unit": "mm", "name": "Forked rod", **change}
    told = page.post("/upload/scan", data=given, files={"file": ("rod.stl", mesh)})
    found = re.search(r'action="(/upload/taken/[0-9a-z]{16})"', told.text)
    assert found is not None, told.text
    return found[1]


def right(page: Any, path: str, **boxes: str) -> Any:
    """Put right what the page shows: its boxes as they stand, but for those that are given."""
    text = page.get(path).text
    stand = dict(re.findall(r'<input id="([a-z]+-\d+)"[^>]* value="([^"]*)"', text))
    for name, options in re.findall(r'<select id="([a-z]+-\d+)".*?</select>()', text, re.DOTALL):
        del options
        block = re.search(rf'<select id="{name}".*?</select>', text, re.DOTALL)
        assert block is not None
        picked = re.search(r'value="([^"]*)" selected', block[0])
        stand[name] = picked[1] if picked else ""
    new = {box.replace("_", "-"): text for box, text in boxes.items()}
    return page.post(path, data={"token": token(page), **stand, **new})


def parts(studio: Any, path: str) -> list[Any]:
    return list(studio.plan(studio.piece(path[-16:])).piece.parts)


def test_parts_are_shown_with_a_picture_and_put_right_without_the_file(
    tmp_path: Path, forked: bytes
) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        path = sent(page, forked)
        picture = page.get(f"{path}/picture/0")
        assert picture.headers["content-type"].startswith("image/svg+xml")
        assert "rod 1" in picture.text or "stem" in picture.text
        assert page.get(f"{path}/picture/1").status_code == 404

        told = right(
            page, path, name_1="ray", length_1="15.5", width_1="1.7; 1.1", material_1="leaf"
        )

        assert (told.status_code, told.headers["location"]) == (303, path)
        ray = parts(studio, path)[1]
        assert (ray.name, ray.material) == ("ray", "leaf")
        assert ray.length == pytest.approx(15.5e-3)
        assert ray.width == pytest.approx((1.7e-3, 1.1e-3))
        assert ray.thickness == ray.width
        # It is kept for the next scan of the piece, in the form that the command reads.
        again = parts(studio, sent(browser(app), forked))[1]
        assert (again.name, again.width) == ("ray", ray.width)
        assert "made again for these names: Forked rod." in page.get("/upload").text
        # What is left as it stands is not put right once more.
        before = page.get("/upload/corrections/scan", params={"name": "Forked rod"}).text
        right(page, path)
        assert page.get("/upload/corrections/scan", params={"name": "Forked rod"}).text == before

        right(page, path, fate_1="drop")
        assert [part.name for part in parts(studio, path)] == ["stem"]
        right(page, path, fate_1="", name_1="", length_1="", width_1="", material_1="")
        assert len(parts(studio, path)) == 2
        kept = page.get("/upload/corrections/scan", params={"name": "Forked rod"})
        assert kept.status_code == 404


def test_fault_of_a_box_stands_beside_it_and_nothing_is_changed(
    tmp_path: Path, forked: bytes
) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        path = sent(page, forked)
        before = studio.piece(path[-16:]).text

        told = right(page, path, length_1="long", width_1="1; 2; 3", name_1="<b>ray", fate_0="")

        assert told.status_code == 422
        assert 'role="alert"' in told.text
        for box, said in (("length-1", "length is long"), ("width-1", "base and tip")):
            found = re.search(rf'<span class="fault" id="said-{box}">([^<]+)</span>', told.text)
            assert found is not None
            assert said in found[1].lower()
        assert 'value="&lt;b&gt;ray"' in told.text
        assert studio.piece(path[-16:]).text == before


def test_group_of_the_file_stays_and_one_part_can_be_kept_from_it(
    tmp_path: Path, forked: bytes
) -> None:
    group = '[[group]]\norder = 1\nname = "shoot"\ndrop = true\n'
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "unit": "mm", "name": "Forked rod"}
        files = {"file": ("rod.stl", forked), "corrections": ("c.toml", group.encode())}
        told = page.post("/upload/scan", data=given, files=files)
        found = re.search(r'action="(/upload/taken/[0-9a-z]{16})"', told.text)
        assert found is not None
        assert len(parts(studio, found[1])) == 1
        assert "as the group in the corrections says" in told.text

        right(page, found[1], fate_1="keep")

        assert [part.name for part in parts(studio, found[1])] == ["stem", "shoot 1"]
        kept = page.get("/upload/corrections/scan", params={"name": "Forked rod"}).text
        assert "[[group]]" in kept


def test_piece_that_was_worked_on_since_is_not_written_over(tmp_path: Path, forked: bytes) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        path = sent(page, forked)
        piece = studio.piece(path[-16:])
        mine = piece.text.replace('"C87300"', '"C83600"')
        assert mine != piece.text
        studio.save(piece.id, mine, base=piece.revision)
        assert "makes a second piece" in page.get(path).text

        told = right(page, path, name_1="ray")

        assert told.headers["location"] != path
        assert studio.piece(piece.id).text == mine
        assert parts(studio, told.headers["location"])[1].name == "ray"


def test_after_a_new_start_the_file_is_asked_for_again(tmp_path: Path, forked: bytes) -> None:
    with opened(tmp_path) as (_, app):
        path = sent(browser(app), forked)
    with opened(tmp_path) as (_, app):
        told = browser(app).get(path)

        assert told.status_code == 404
        assert "Bring its file again" in told.text


def test_parts_of_photographs_are_put_right_on_the_page(tmp_path: Path) -> None:
    """The plant and its picture are of our own rule; tests.plants."""
    from tests.plants import kinds, meshes, pictures

    picture = pictures.photograph(meshes.clean(kinds.fan(1)), turn_deg=90.0)
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "name": "Fan", "mark": "30", "thickness": "0.4"}
        files = {"first": ("x.png", picture.png())}
        told = page.post("/upload/photographs", data=given, files=files)
        found = re.search(r'action="(/upload/taken/[0-9a-z]{16})"', told.text)
        assert found is not None
        assert "data:image/jpeg" in page.get(f"{found[1]}/picture/0").text

        right(page, found[1], name_1="long shoot", length_1="33")

        part = next(p for p in parts(studio, found[1]) if p.name == "long shoot")
        assert part.length == pytest.approx(33e-3)


def test_obj_comes_with_its_colours_where_its_material_file_is_brought(tmp_path: Path) -> None:
    """Colour of the material that its faces name; the file is of our own make."""
    from tests.scan.make import stem

    mesh = stem()
    lines = ["mtllib C:\\work\\rod.mtl", "usemtl bark"]
    lines += [f"v {x} {y} {z}" for x, y, z in mesh.vertices.tolist()]
    lines += [f"f {a + 1} {b + 1} {c + 1}" for a, b, c in mesh.faces.tolist()]
    obj = "\n".join(lines).encode()
    material = b"newmtl bark\nKd 0.2 0.4 0.6\n"
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        texts = []
        for beside in ([], [("beside", ("rod.mtl", material))]):
            given = {"token": token(page), "unit": "mm", "name": "Rod"}
            told = page.post(
                "/upload/scan", data=given, files=[("file", ("rod.obj", obj)), *beside]
            )
            assert told.status_code == 200, told.text
            texts.append(studio.piece(studio.pieces.ids()[0]).text)

        assert "#336699" not in texts[0]
        assert "#336699" in texts[1]
