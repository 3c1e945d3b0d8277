"""What to change first, in a browser, in a studio that ranked nothing before.

A studio keeps a ranking for its text: one made of a few draws for another test would stay.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.app.browser.conftest import Served, Window

LARCH = Path("examples/larch_twig.toml").read_text(encoding="utf-8")

Opened = Callable[..., Window]


@pytest.mark.usefixtures("anew")
def test_link_of_what_to_change_first_leads_to_its_knob(window: Opened, served: Served) -> None:
    """Our own rule: it jumps to the knob, focuses it and does not turn it."""
    piece = served.studio.add(LARCH)
    one = window()
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    link = page.locator(".first a[data-to]").first
    link.wait_for()
    # Rows change places until all draws are poured: ask which one was clicked.
    page.evaluate(
        "addEventListener('click', (e) => { window.goal = e.target.closest('a').dataset.to; }, 1)"
    )
    link.click()
    goal = page.evaluate("window.goal")

    expect(page.locator(f"#{goal}")).to_be_focused()
    expect(page.locator(".moved")).to_have_count(0)
