"""Corrections that are brought with a scan or a photograph, or were kept from an earlier one.

What a correction does to a part is for tests/scan/test_corrections.py and
tests/photo/test_corrected.py; house rules, so no outside number here.
"""

import re
from pathlib import Path
from typing import Any

import pytest

from pourcast.app.upload_corrections import KeptCorrections
from tests.app.client import browser, opened, token

pytest.importorskip("trimesh")
pytest.importorskip("skimage")


def sent(page: Any, mesh: bytes, *, text: str = "", **change: str) -> Any:
    """Bring a scan, with a file of corrections where there is a text."""
    given = {"token": token(page), "unit": "mm", "name": "Forked rod", **change}
    files = {"file": ("rod.stl", mesh)}
    if text:
        files["corrections"] = ("rod.corrections.toml", text.encode())
    return page.post("/upload/scan", data=given, files=files)


def middles(text: str) -> list[str]:
    """Return the middles of the parts as the piece file says them."""
    return re.findall(r"\[(-?[\d.]+, -?[\d.]+, -?[\d.]+)\]", text)


def test_corrections_are_made_and_kept_for_the_next_scan_of_the_piece(
    tmp_path: Path, forked: bytes
) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)

        def names() -> list[tuple[str, str]]:
            return [
                (part.name, part.material)
                for part in studio.plan(studio.piece(studio.pieces.ids()[0])).piece.parts
            ]

        assert "Open a part, by its number" in sent(page, forked).text
        plain = studio.piece(studio.pieces.ids()[0]).text
        assert len(names()) == 2
        right = f'[[part]]\nat_mm = [{middles(plain)[1]}]\nname = "ray"\nmaterial = "leaf"\n'

        told = sent(page, forked, text=right)
        assert told.status_code == 200, told.text
        assert "One correction found its part." in told.text
        assert ("ray", "leaf") in names()

        # Another hand, no file, the name in other letters: what was put right is still there.
        again = sent(browser(app), forked, name=" forked ROD", rod="woody_stem")
        assert "One correction found its part." in again.text
        assert names() == [("stem", "woody_stem"), ("ray", "leaf")]
        link = re.search(r'href="(/upload/corrections/scan\?name=[^"]+)"', again.text)
        assert link is not None
        file = page.get(link[1].replace("&amp;", "&"))
        assert file.text == right
        assert "attachment" in file.headers["content-disposition"]
        assert "made again for these names: forked ROD." in page.get("/upload").text

        sent(page, forked, without="yes")
        assert "ray" not in dict(names())
        sent(page, forked, name="Another")
        assert "ray" not in dict(names())


def test_correction_that_finds_no_part_is_told(tmp_path: Path, forked: bytes) -> None:
    lost = '[[part]]\nat_mm = [400.0, 0, 0]\nname = "<b>far"\n[[group]]\norder = 9\nname = "hair"\n'
    with opened(tmp_path) as (_, app):
        told = sent(browser(app), forked, text=lost)

        assert told.status_code == 200
        assert "No correction found its part." in told.text
        assert "the part at 400.0, 0.0, 0.0 mm &lt;b&gt;far" in told.text
        assert "a group that means no part hair" in told.text


@pytest.mark.parametrize("form", ["scan", "photographs"])
@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b'[[part]]\nat_mm = [1, 2]\nname = "ray"\n', "line 1, at_mm is [1, 2]"),
        (b'[[part]]\nat_mm = [1, 2, 3]\ncolour = "red"\n', "colour is not known"),
        (b"not = [toml", "line 1, file"),
        (b"\xff\xfe\x00", "UTF-8"),
        (b"[[part]]\n" * 20, "and 12 more"),
        (b"[" * 100_000, "line 1, file"),
        (b"#" * 1_100_000, "at most 1000000"),
    ],
)
def test_fault_of_the_corrections_stands_beside_their_box_and_nothing_is_kept(
    tmp_path: Path, form: str, text: bytes, said: str
) -> None:
    first = "file" if form == "scan" else "first"
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "name": "Kept", "unit": "mm", "mark": "50"}
        given["thickness"] = "0.4"
        files = {first: ("x", b"not read"), "corrections": ("c.toml", text)}

        told = page.post(f"/upload/{form}", data=given, files=files)

        assert told.status_code == 422
        at = f'<span class="fault" id="said-{form}-corrections">([^<]+)</span>'
        found = re.search(at, told.text)
        assert found is not None
        assert said in found[1].replace("&#39;", "'")
        assert studio.pieces.ids() == []
        assert page.get(f"/upload/corrections/{form}", params={"name": "Kept"}).status_code == 404


def test_corrections_of_photographs_are_made(tmp_path: Path) -> None:
    """The plant and its picture are of our own rule; tests.plants."""
    from tests.plants import kinds, meshes, pictures

    picture = pictures.photograph(meshes.clean(kinds.fan(1)), turn_deg=90.0)
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = {"token": token(page), "name": "Fan", "mark": "30", "thickness": "0.4"}
        right = '[[group]]\norder = 1\nshape = "rod"\nname = "shoot"\nmaterial = "woody_stem"\n'

        told = page.post(
            "/upload/photographs",
            data=given,
            files={"first": ("x.png", picture.png()), "corrections": ("c.toml", right.encode())},
        )

        assert told.status_code == 200, told.text
        assert "One correction found its part." in told.text
        plan = studio.plan(studio.piece(studio.pieces.ids()[0]))
        assert {"shoot 1", "shoot 2"} <= {part.name for part in plan.piece.parts}


def test_kept_corrections_of_a_scan_are_not_those_of_a_photograph(tmp_path: Path) -> None:
    """The places in them are counted from different points."""
    kept = KeptCorrections(tmp_path)
    kept.write("scan", "Piece", "one")
    kept.write("photographs", "../Piece", "two")

    assert kept.read("photographs", "Piece") == ""
    assert kept.read("scan", "piece ") == "one"
    assert (kept.names("scan"), kept.names("photographs")) == (["Piece"], ["../Piece"])
    assert {path.parent for path in tmp_path.rglob("*.json")} == {tmp_path}
