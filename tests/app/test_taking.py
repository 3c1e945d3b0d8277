"""A scan or a photograph that is brought to the pages becomes a piece on the shelf.

How well it is read is for the readers' own tests; house rules, so no outside number here.
"""

import io
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
                ({"leaf": "steel"}, blank.getvalue()),
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
