"""Entries of a kiln day in a real browser: what is refused is told, and nothing is lost."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from tests.app.browser.conftest import Served, Window
from tests.app.client import example

Opened = Callable[..., Window]


EXPECTED = ("422", "htmx:", "ERR_FAILED")
"""What a browser says of an answer that is a refusal, and of one that never comes."""


@pytest.fixture
def page(served: Served, window: Opened) -> Iterator[Page]:
    """Open the page of a day that began two hours ago."""
    piece = served.studio.add(example("larch_twig"))
    served.studio.keep_in_book(piece.id)
    made = window(360)
    opened = made.page
    opened.goto(f"{served.address}/day")
    began = datetime.now().astimezone() - timedelta(hours=2)
    opened.fill("#start", began.strftime("%Y-%m-%dT%H:%M"))
    opened.click("form.stack button")
    expect(opened.locator("#day")).to_be_visible()
    yield opened
    assert [said for said in made.said if not any(each in said for each in EXPECTED)] == []
    made.said.clear()


def write(page: Page, line: str) -> None:
    page.fill("#line", line)
    page.locator("form", has=page.locator("#line")).locator("button").click()


def test_what_is_refused_is_told_in_sight_and_stays_in_its_box(page: Page) -> None:
    """Once the whole page was put into itself, and the reason stood far above the box."""
    page.fill("#ago2", "20")

    write(page, "kiln hot")

    expect(page.locator("#fault")).to_contain_text("entry is kiln hot")
    expect(page.locator("#fault")).to_be_in_viewport()
    expect(page.locator("main")).to_have_count(1)
    expect(page.locator("#line")).to_have_value("kiln hot")
    expect(page.locator("#ago2")).to_have_value("20")


def test_what_is_kept_leaves_its_boxes_and_the_fault_goes(page: Page) -> None:
    """A time ago that was left standing would go with the next act as well."""
    write(page, "kiln hot")
    expect(page.locator("#fault")).to_contain_text("kiln hot")
    page.fill("#setting", "2")
    page.fill("#ago2", "20")

    page.click("button[value=turned]")

    expect(page.locator("#ago2")).to_have_value("")
    expect(page.locator("#setting")).to_have_value("")
    expect(page.locator("#fault")).to_be_empty()


def test_an_entry_that_waited_and_is_refused_then_is_told(page: Page) -> None:
    """What was written out of reach of the laptop is kept or told, never dropped in silence."""
    page.route("**/entry", lambda route: route.abort())
    write(page, "kiln hot")
    expect(page.locator("#lost")).to_be_visible()

    page.unroute("**/entry")

    expect(page.locator("#fault")).to_contain_text("entry is kiln hot", timeout=15_000)
    expect(page.locator("#lost")).to_be_hidden()


def test_a_day_begun_on_the_wrong_piece_is_taken_back_and_set_right(page: Page) -> None:
    """Two presses, the first of which only asks; all that was read is still there."""
    write(page, "kiln 60 C")
    expect(page.locator("#now")).to_contain_text("kiln 60")

    page.click("#mistake summary")
    page.click("#mistake button")

    expect(page.locator("h1")).to_have_text("Begun by mistake")
    expect(page.locator("main")).to_contain_text("kiln 60")
    page.click("section[aria-labelledby=right] button")
    expect(page.locator("#day")).to_be_visible()
    expect(page.locator("#now")).to_contain_text("kiln 60")


def test_a_word_that_takes_the_day_back_leads_to_its_page(page: Page) -> None:
    """Typed among the entries, whose answer else goes into the page that is there."""
    write(page, "wrong piece")

    expect(page.locator("h1")).to_have_text("Begun by mistake")
    expect(page.locator("main")).to_have_count(1)
