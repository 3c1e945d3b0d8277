"""The day once more: its slider moved by keys, by buttons, by itself, and without scripts.

Accessibility is held against WCAG 2.2 by the rules of axe-core 4.14.1; the rest is our own rule.
"""

import re
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from tests.app.browser.conftest import Served, Window
from tests.app.client import example

Opened = Callable[..., Window]


@pytest.fixture
def day(served: Served, window: Opened) -> str:
    """Return the address of a day that began two hours ago, with two readings."""
    piece = served.studio.add(example("larch_twig"))
    served.studio.keep_in_book(piece.id)
    page = window().page
    page.goto(f"{served.address}/day")
    began = datetime.now().astimezone() - timedelta(hours=2)
    page.fill("#start", began.strftime("%Y-%m-%dT%H:%M"))
    page.click("form.stack button")
    expect(page.locator("#day")).to_be_visible()
    for number, ago in (("40", "90"), ("80", "30")):
        page.fill("#r", number)
        page.locator("details", has=page.locator("#ago")).evaluate("each => each.open = true")
        page.fill("#ago", ago)
        page.click("form.enter button[type=submit]")
        expect(page.locator("#now")).to_contain_text(f"kiln {number}")
    return page.url


def looked_at(page: Page) -> str:
    found = re.search(r"\d\d:\d\d", page.locator("#then b").inner_text())
    assert found is not None
    return found[0]


@pytest.mark.parametrize("width", [1280, 360])
def test_slider_shows_the_day_as_it_was_known_then(day: str, window: Opened, width: int) -> None:
    opened = window(width)
    page = opened.page
    page.goto(day)
    page.click("#again summary")
    expect(page.locator("#then")).to_contain_text("As it looked at")
    expect(page.locator("#then svg")).to_be_visible()
    expect(page.locator("#then")).not_to_contain_text("kiln 80")
    first = looked_at(page)

    page.focus("#since")
    page.keyboard.press("ArrowRight")
    expect(page.locator("#then b")).not_to_contain_text(first)
    second = looked_at(page)
    page.click("[data-move='-1']")
    expect(page.locator("#then b")).to_contain_text(first)
    page.focus("#since")
    page.keyboard.press("End")
    expect(page.locator("#then")).to_contain_text("kiln 80")

    assert second != first
    assert re.search(r"\d+ h \d\d", page.get_attribute("#since", "aria-valuetext") or "")
    assert opened.axe() == []
    assert opened.overflow() <= 0
    assert opened.said == []


def test_day_runs_by_itself_only_where_that_is_welcome_and_answers_without_scripts(
    day: str, window: Opened
) -> None:
    page = window().page
    page.goto(day)
    page.click("#again summary")
    expect(page.locator("#then svg")).to_be_visible()

    page.click("#play")
    expect(page.locator("#play")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#since")).not_to_have_value("0")
    page.click("#play")
    expect(page.locator("#play")).to_have_attribute("aria-pressed", "false")
    stands = page.input_value("#since")
    page.wait_for_timeout(2000)
    assert page.input_value("#since") == stands

    page.emulate_media(reduced_motion="reduce")
    expect(page.locator("#play")).to_be_hidden()

    page = window(scripts=False).page
    page.goto(day)
    page.click("#again summary")
    form = page.locator("#again-f")
    asked = f"{day.rpartition('/day')[0]}{form.get_attribute('action')}?since=7000"
    assert form.get_attribute("method") == "get"
    expect(form.locator("button[type=submit]")).to_be_visible()
    assert "kiln 80" in page.request.get(asked).text()
