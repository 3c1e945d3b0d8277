"""Two plans side by side in a browser.

Accessibility is held against WCAG 2.2 by the rules of axe-core 4.14.1; reflow at 360 px is
success criterion 1.4.10, work by keyboard alone 2.1.1.
"""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from pourcast.app import comparisons
from tests.app.browser.conftest import Served, Window
from tests.app.client import example

Opened = Callable[..., Window]

LONGEST = 300_000.0
"""ms; kernels may have to be compiled first, beside other work."""


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pour little enough for a test."""
    monkeypatch.setattr(comparisons, "DRAWS", 40)


@pytest.fixture
def two(served: Served) -> tuple[str, str]:
    """Put two pieces on the shelf."""
    studio = served.studio
    return studio.add(example()).id, studio.add(example("larch_twig")).id


@pytest.mark.parametrize("width", [1280, 360])
def test_two_pieces_are_chosen_by_keyboard_and_told_to_all(
    window: Opened, served: Served, two: tuple[str, str], width: int
) -> None:
    one = window(width)
    page = one.page
    page.goto(f"{served.address}/compare")
    before = one.axe()
    page.focus("#one")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.locator("#c-answer")).to_contain_text("whole in 100 pours", timeout=LONGEST)
    expect(page.locator("#c-differs + table tbody tr").first).to_be_visible()
    assert before == []
    assert one.axe() == []
    assert one.overflow() <= 0


def test_without_scripts_and_on_paper(window: Opened, served: Served, two: tuple[str, str]) -> None:
    one = window(scripts=False)
    one.page.goto(f"{served.address}/compare?one={two[0]}&other={two[1]}")
    one.page.locator("noscript a").click(timeout=LONGEST)
    expect(one.page.locator("#c-answer")).to_be_visible(timeout=LONGEST)
    one.page.emulate_media(media="print")

    expect(one.page.locator("form.compare")).to_be_hidden()
    expect(one.page.locator("#c-differs + table")).to_be_visible()
