"""Every page that there is, open to all: none is left out of the list.

Accessibility is held against WCAG 2.0 to 2.2, A and AA, and best practice by the rules of
axe-core 4.14.1; reflow at 360 px is success criterion 1.4.10.  That no page says anything to
the console of the browser, and asks nothing of another machine, is our own rule.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from pourcast.app import comparisons
from pourcast.app.routes_taken import keep_taken
from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.app.taking import made, measured_scan
from pourcast.app.upload_corrections import read
from pourcast.book.kiln_days import begin_day
from pourcast.book.users import add_user
from tests.app.browser.conftest import Served, Window, one_studio, serving
from tests.app.browser.furnish import DRAFT, furnish
from tests.app.client import browser
from tests.scan.make import stem

Opened = Callable[..., Window]

PAGES = {
    "/": ("/",),
    "/join": ("/join",),
    "/piece": ("/piece",),
    "/new": ("/new",),
    "/new/{draft_id}": ("/new/{draft}",),
    "/upload": ("/upload",),
    "/upload/taken/{piece_id}": ("/upload/taken/{taken}",),
    "/piece/{piece_id}": ("/piece/{waiting}", "/piece/{poured}"),
    "/piece/{piece_id}/texts": ("/piece/{waiting}/texts",),
    "/compare": ("/compare", "/compare?one={waiting}&other={poured}"),
    "/day": ("/day",),
    "/day/{pour_id}": ("/day/{pour}",),
    "/break-out": ("/break-out",),
    "/break-out/{piece_id}": ("/break-out/{waiting}", "/break-out/{poured}"),
    "/break-out/{piece_id}/came": ("/break-out/{poured}/came",),
    "/book": ("/book",),
    "/store": ("/store",),
    "/store/{lot_id}": ("/store/{lot}",),
    "/tests": ("/tests",),
    "/tests/{kind}": (
        "/tests/pull-down",
        "/tests/fan",
        "/tests/fan?piece={waiting}&strips=4",
        "/tests/block",
        "/tests/day",
    ),
    "/values": ("/values", "/values?group=pour", "/values?group=safety", "/values?find=film"),
    "/values/{key}": ("/values/pour.film_factor", "/values/pour.full_share"),
    "/studio": ("/studio",),
}
"""Page as the program names it, and where it is looked at."""

PARTS = {
    "/shelf/{piece_id}/tag": "/",
    "/piece/{piece_id}/first": "/piece/{piece_id}",
    "/piece/{piece_id}/cells": "/piece/{piece_id}",
    "/compare/answer": "/compare",
    "/day/{pour_id}/now": "/day/{pour_id}",
    "/day/{pour_id}/longer": "/day/{pour_id}",
    "/day/{pour_id}/then": "/day/{pour_id}",
    "/day/{pour_id}/order": "/day/{pour_id}",
}
"""Parts of a page that come in later, and the page on which they are looked at."""

FILES = {
    "/piece/{piece_id}/file",
    "/piece/{piece_id}/run-sheet.pdf",
    "/piece/{piece_id}/run-sheet.ics",
    "/piece/{piece_id}/cells.json",
    "/piece/{piece_id}/scene.json",
    "/piece/{piece_id}/progress",
    "/day/{pour_id}/alarms.ics",
    "/tests/fan/drawing.svg",
    "/upload/corrections/{form}",
    "/upload/taken/{piece_id}/picture/{number}",
}
"""What is no page: files, figures for scripts, and a stream."""


@dataclass
class Known:
    """What stands for the names in a path."""

    waiting: str
    poured: str
    draft: str
    lot: str
    pour: str
    taken: str


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Serve one studio to all tests here: they look, and keep nothing in it."""
    yield from one_studio(tmp_path_factory.mktemp("studio"))


@pytest.fixture(scope="module")
def known(served: Served) -> Known:
    """Furnish the studio with some of each, users and a day under way among them."""
    studio, now = served.studio, datetime.now(UTC)
    waiting, poured, lot = furnish(studio)
    other = studio.keep_in_book(waiting.id)
    pour = begin_day(studio.book, other.id, start=now - timedelta(hours=3), at=now)
    draft = studio.drafts.begin(DRAFT)
    for name, role in (("Ada", "owner"), ("Bo", "reader")):
        add_user(studio.book, name, role, at=now)
    return Known(
        waiting=waiting.id,
        poured=poured.id,
        draft=draft.id,
        lot=lot.id,
        pour=pour.id,
        taken=scanned(studio),
    )


def scanned(studio: Studio) -> str:
    """Bring a scan of a rod, of which a part was put right."""
    measured = measured_scan(
        stem().export(file_type="stl"),
        file_name="rod.stl",
        name="Plain rod",
        unit="mm",
        gate="lowest",
        materials={},
    )
    right = '[[part]]\nat_mm = [0, 0, 20]\nname = "feed"\nwidth_mm = [3.1, 2.9]\n'
    taken = made(measured, read(right))
    piece = studio.add(taken.text)
    keep_taken(studio, piece.id, "scan", measured, taken, right)
    return piece.id


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pour little enough for a test."""
    monkeypatch.setattr(comparisons, "DRAWS", 40)


def test_no_page_is_left_out_of_the_list(served: Served, known: Known) -> None:
    """Made to fail by each new page: each path is a page, a part of one, or a file."""
    app = make_app(served.studio)
    there = {path for path, acts in app.openapi()["paths"].items() if "get" in acts}

    assert there == {*PAGES, *PARTS, *FILES}
    assert set(PARTS.values()) <= set(PAGES)
    page = browser(app)
    page.follow_redirects = True
    # A stream, what is made by a worker, and what is there after an upload only.
    for path in FILES - {
        "/piece/{piece_id}/progress",
        "/piece/{piece_id}/cells.json",
        "/upload/corrections/{form}",
        "/upload/taken/{piece_id}/picture/{number}",
    }:
        asked = path.format(piece_id=known.poured, pour_id=known.pour)
        found = page.get(f"{asked}?piece={known.waiting}&strips=4")
        assert found.status_code == 200, path
        assert "text/html" not in found.headers["content-type"], path
    for paths in PAGES.values():
        for path in paths:
            asked = path.format(**vars(known))
            found = page.get(asked)
            assert found.status_code == 200, asked
            assert found.headers["content-type"].startswith("text/html"), asked


@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("named", sorted(PAGES))
def test_page_is_open_to_all_silent_and_as_wide_as_its_window(
    window: Opened, served: Served, known: Known, named: str, width: int
) -> None:
    """WCAG 2.0 to 2.2 A and AA and best practice, by axe-core; 1.4.10 for the width."""
    one = window(width)
    page = one.page
    found: list[str] = []
    for path in PAGES[named]:
        asked = path.format(**vars(known))
        page.goto(served.address + asked)
        if "/compare?" in asked:
            expect(page.locator("#c-answer")).to_be_visible(timeout=300_000)
        page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        if page.locator("#since").count():
            page.locator("#since").press("ArrowRight")
            expect(page.locator("#then svg")).to_be_visible(timeout=60_000)
        found += [f"{asked}: {fault}" for fault in one.axe()]
        found += [f"{asked}: {one.overflow()} px too wide"] * (one.overflow() > 0)

    assert found == []
    assert one.said == []


@pytest.mark.parametrize("width", [1280, 360])
def test_page_of_a_fault_and_form_with_faults_are_open_to_all(
    window: Opened, served: Served, known: Known, width: int
) -> None:
    """WCAG 2.2, 3.3.1: what is wrong is told in words; the rest by axe-core."""
    one = window(width)
    page = one.page
    page.goto(f"{served.address}/piece/{'0' * 16}")
    expect(page.locator("h1")).to_be_visible()
    found = one.axe()
    page.goto(f"{served.address}/upload")
    page.set_input_files(
        "#pick", {"name": "x.toml", "mimeType": "text/plain", "buffer": b"name = 1\nwhat = 2\n"}
    )
    page.get_by_role("button", name="Put it on the shelf").click()
    expect(page.get_by_role("alert").first).to_be_visible()
    found += one.axe()
    page.goto(f"{served.address}/piece/{known.waiting}/texts")
    page.fill("textarea", "name = 1")
    page.get_by_role("button", name="Keep this text").click()
    expect(page.get_by_role("alert").first).to_be_visible()
    found += one.axe()

    assert found == []
    assert one.overflow() <= 0
    # The browser itself notes the answers 404 and 422.
    assert all("404" in line or "422" in line for line in one.said)
    one.said.clear()


@pytest.mark.parametrize("width", [1280, 360])
def test_code_for_a_phone_of_a_user_is_open_to_all(
    window: Opened, served: Served, known: Known, width: int
) -> None:
    """The page of the studio once more, on a network, with a code that is shown."""
    with serving(served.studio, hosts=("127.0.0.1",)) as address:
        one = window(width)
        one.page.goto(f"{address}/studio")
        one.page.get_by_role("button", name="Join a phone").click()
        expect(one.page.locator(".qr-box")).to_be_visible()

        assert one.axe() == []
        assert one.overflow() <= 0
        one.asked.clear()  # this server has another port
