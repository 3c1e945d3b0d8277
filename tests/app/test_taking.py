"""A scan or a photograph that is brought to the pages becomes a piece on the shelf.

How well it is read is for the readers' own tests; house rules, so no outside number here.
"""

import io
import re
from pathlib import Path

import pytest

from pourcast.app import routes_upload, taking
from tests.app.client import browser, opened, token

pytest.importorskip("trimesh")
pytest.importorskip("skimage")


def test_scan_becomes_a_piece_with_what_its_reader_says(tmp_path: Path) -> None:
    from tests.scan.make import stem

    mesh = stem().export(file_type="stl")
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "unit": "mm", "gate": "lowest", "name": "Plain rod"}

        told = page.post("/upload/scan", data=given, files={"file": ("../rod.stl", mesh)})

        assert told.status_code == 200
        assert "One part stands in the piece file." in told.text
        piece = studio.piece(studio.pieces.ids()[0])
        assert studio.plan(piece).piece.name == "Plain rod"
        assert f"/piece/{piece.id}" in told.text


def test_material_and_place_of_the_button_are_taken_from_the_form(tmp_path: Path) -> None:
    """House rule: what the command asks for, the page asks for too.

    The rod stands on z = 0; its button is named at the far end, 20 mm up, in the unit of the file.
    """
    from tests.scan.make import stem

    mesh = stem().export(file_type="stl")
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        plans = []
        for given in (
            {"gate": "lowest"},
            {"gate": "highest", "rod": "woody_stem"},
            {"gate": "place", "place": "0, 0, 1000", "rod": "woody_stem"},
        ):
            sent = {"token": token(page), "unit": "mm", "name": "Plain rod", **given}
            answer = page.post("/upload/scan", data=sent, files={"file": ("rod.stl", mesh)})
            assert answer.status_code == 200, answer.text
            plans.append(studio.plan(studio.piece(studio.pieces.ids()[0])))

    assert {part.material for part in plans[1].piece.parts} == {"woody_stem"}
    assert {part.material for part in plans[0].piece.parts} != {"woody_stem"}
    # A place far above is nearest to the highest end.
    assert plans[2].piece.parts == plans[1].piece.parts
    assert plans[2].piece.parts != plans[0].piece.parts


@pytest.mark.parametrize(
    ("form", "change", "box", "said"),
    [
        ("scan", {"gate": "place", "place": "1, 2"}, "scan-place", "three numbers"),
        ("scan", {"gate": "place", "place": "1, 2, x"}, "scan-place", "a number"),
        ("scan", {"blade": "steel"}, "scan-blade", "one of the list"),
        ("photographs", {"foot": "640"}, "p-foot", "column and row"),
        ("photographs", {"mark": "long"}, "p-mark", "length of the bar is long"),
        ("photographs", {"thickness": ""}, "p-thick", "thickness is empty"),
    ],
)
def test_fault_of_a_box_stands_beside_it_and_what_was_typed_is_kept(
    tmp_path: Path, form: str, change: dict[str, str], box: str, said: str
) -> None:
    usual = {"scan": {"name": "Kept"}, "photographs": {"name": "Kept", "mark": "50"}}[form]
    usual |= {"thickness": "0.4"} if form == "photographs" else {}
    sent = "file" if form == "scan" else "first"
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), **usual, **change}

        told = page.post(f"/upload/{form}", data=given, files={sent: ("x", b"not read")})
        again = page.get("/upload").text

        assert told.status_code == 422
        found = re.search(rf'<span class="fault" id="said-{box}">([^<]+)</span>', told.text)
        assert found is not None
        assert said in found[1]
        assert re.search(rf'id="{box}"[^>]*said-{box}"[^>]*aria-invalid="true"', told.text)
        assert 'value="Kept"' in again
        for value in change.values():
            assert value == "steel" or not value or f'value="{value}"' in again
        assert studio.pieces.ids() == []


def test_form_is_kept_as_it_is_typed_and_begun_anew_once_it_is_taken(tmp_path: Path) -> None:
    from tests.scan.make import stem

    with opened(tmp_path) as (_, app):
        page, other = browser(app), browser(app)
        given = {"token": token(page), "form": "scan", "name": "Half typed", "rod": "woody_stem"}
        assert page.post("/upload/draft", data=given).status_code == 204
        assert 'value="Half typed"' in page.get("/upload").text
        assert '<option value="woody_stem" selected>' in page.get("/upload").text
        # Another window of the same studio, with a session of its own, has a form of its own.
        assert 'value="Half typed"' not in other.get("/upload").text
        page.post("/upload/draft", data={**given, "form": "nothing"})

        sent = {**given, "unit": "mm"}
        mesh = stem().export(file_type="stl")
        page.post("/upload/scan", data=sent, files={"file": ("rod.stl", mesh)})

        assert 'value="Half typed"' not in page.get("/upload").text


@pytest.mark.parametrize(
    ("content", "change", "said"),
    [
        (b"no mesh at all", {}, ""),
        (b"", {}, ""),
        (b"solid x\nendsolid x\n", {"unit": "ell"}, "unit is ell"),
        (b"solid x\nendsolid x\n", {"gate": "left"}, "gate is left"),
    ],
)
def test_scan_that_cannot_be_read_is_told_and_nothing_is_kept(
    tmp_path: Path, content: bytes, change: dict[str, str], said: str
) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "unit": "mm"} | change

        told = page.post("/upload/scan", data=given, files={"file": ("x.stl", content)})

        assert told.status_code == 422
        assert 'role="alert"' in told.text
        assert said in told.text
        assert studio.pieces.ids() == []


def test_photograph_that_shows_nothing_is_told_and_nothing_is_kept(tmp_path: Path) -> None:
    from PIL import Image

    blank = io.BytesIO()
    Image.linear_gradient("L").resize((400, 300)).point(lambda v: 200 + v // 8).save(blank, "PNG")
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "name": "x", "mark": "50", "thickness": "0.4"}

        told = [
            page.post("/upload/photographs", data=given | change, files={"first": ("x.png", sent)})
            for change, sent in (
                ({}, blank.getvalue()),
                ({}, b"no picture"),
                ({"mark": "long"}, blank.getvalue()),
                ({"blade": "steel"}, blank.getvalue()),
            )
        ]

        assert [answer.status_code for answer in told] == [422] * 4
        assert studio.pieces.ids() == []


def test_forms_are_hidden_where_their_readers_are_not_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with opened(tmp_path) as (_, app):
        page = browser(app)
        assert taking.can_scan()
        assert "/upload/scan" in page.get("/upload").text
        monkeypatch.setattr(routes_upload, "can_scan", lambda: False)
        monkeypatch.setattr(routes_upload, "can_photograph", lambda: False)

        hidden = page.get("/upload").text

        assert "/upload/scan" not in hidden
        assert "/upload/photographs" not in hidden
        files = {"file": ("x.stl", b"x")}
        assert (
            page.post("/upload/scan", data={"token": token(page)}, files=files).status_code == 404
        )
