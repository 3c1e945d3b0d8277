"""The pages that the commands write as one file: forecast, burnout, freezing in cells.

Accessibility is held against WCAG 2.0 to 2.2, A and AA, and best practice by the rules of
axe-core 4.14.1; reflow at 360 px is success criterion 1.4.10.
"""

from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from pourcast.forecast.burnout_study import middle_section, study
from pourcast.forecast.solve import forecast
from pourcast.forecast.voxel_study import voxel_study
from pourcast.page.burnout_page import render_burnout
from pourcast.page.render import render
from pourcast.page.voxel_page import render_voxel
from pourcast.sheet import read_plan
from tests.app.browser.conftest import Window
from tests.app.client import example


@cache
def written(what: str) -> str:
    """Return one of the files, of few draws and large cells."""
    plan = read_plan(example("larch_twig"))
    if what == "forecast":
        return render(forecast(plan, draws=20, rng=0))
    if what == "burnout":
        found = study(plan, draws=4, rng=0)
        return render_burnout(found, middle_section(found))
    return render_voxel(voxel_study(plan, voxel=3e-3, until=60.0, memory_limit=10**9))


@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("what", ["forecast", "burnout", "freezing"])
def test_file_is_open_to_all_silent_and_asks_for_nothing(
    chromium: Browser, tmp_path: Path, what: str, width: int
) -> None:
    path = tmp_path / f"{what}.html"
    path.write_text(written(what), encoding="utf-8")
    device = chromium.new_context(viewport={"width": width, "height": 900})
    one = Window(device.new_page())
    one.page.on("console", lambda message: one.said.append(message.text))
    one.page.on("pageerror", lambda fault: one.said.append(str(fault)))
    one.page.on("request", lambda request: one.asked.append(request.url))
    one.page.goto(path.as_uri())
    one.page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")

    assert one.axe() == []
    assert one.overflow() <= 0
    assert one.said == []
    assert [url for url in one.asked if url != path.as_uri()] == []
    device.close()
