"""The hand of time on the page of a piece: the burnout hour by hour, the freezing second by second.

What the caster sees is asked of the page itself: its words, and the shades of the picture, counted
dot by dot.  The page as a whole is held against WCAG 2.2 by the rules of axe-core 4.14.1 in
`test_piece`; the rules named here are 2.1.1 (keyboard), 2.2.2 (what runs can be stopped), 2.5.8
(size) and 4.1.2 (a value that is told).  The rest is our own.
"""

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Page, expect

from pourcast.app.look import Look
from tests.app.browser.conftest import Served, Window, one_studio
from tests.app.client import example

Opened = Callable[..., Window]

COLD = 20.0
"""°C of a room, where a burnout begins."""

_SHADES = """(names) => {
  const shade = (name) => {
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    const rect = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    rect.setAttribute("class", name);
    svg.append(rect);
    document.body.append(svg);
    const found = getComputedStyle(rect).fill.match(/[\\d.]+/g).slice(0, 3).map(Number);
    svg.remove();
    return found;
  };
  const drawn = document.querySelector("#scene canvas");
  const copy = document.createElement("canvas");
  [copy.width, copy.height] = [drawn.width, drawn.height];
  const pen = copy.getContext("2d");
  pen.drawImage(drawn, 0, 0);
  const dots = pen.getImageData(0, 0, copy.width, copy.height).data;
  return names.map((name) => {
    const [r, g, b] = shade(name);
    let count = 0;
    for (let k = 0; k < dots.length; k += 4) {
      const off = Math.abs(dots[k] - r) + Math.abs(dots[k + 1] - g) + Math.abs(dots[k + 2] - b);
      if (dots[k + 3] === 255 && off <= 3) count += 1;
    }
    return count;
  });
}"""
"""Counts the dots of a picture that have the shade of a class of the style."""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Serve one studio to all tests here; none keeps what it turns."""
    yield from one_studio(tmp_path_factory.mktemp("studio"))


def shown(one: Window, served: Served, way: str) -> Page:
    """Open a larch twig in one of its ways and wait until nothing more comes in."""
    piece = served.studio.add(example("larch_twig"))
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    page.wait_for_selector('#p-head[data-refined="1"]', state="attached")
    page.check(f'input[value="{way}"]', force=True)
    page.wait_for_selector("#moment")
    expect(page.locator("#scene output")).not_to_be_empty()
    return page


def told(page: Page) -> str:
    return page.locator("#scene output").inner_text()


def dots(page: Page, *names: str) -> list[int]:
    page.wait_for_timeout(300)  # a frame is drawn once, a moment after the last change
    found: list[int] = page.evaluate(_SHADES, list(names))
    return found


def figures(text: str) -> dict[str, float]:
    """Return hour and temperatures that a sentence of the burnout tells."""
    found = re.match(
        r"([\d.]+) h: kiln (-?\d+) °C, wall (-?\d+) °C, core (-?\d+) °C; "
        r"free water left (\d+) in 100, char left (under )?[\d.]+ mg$",
        text,
    )
    assert found is not None, text
    names = ("hour", "kiln", "wall", "core", "water")
    return {name: float(found[k + 1]) for k, name in enumerate(names)}


@pytest.mark.parametrize("width", [1280, 360])
def test_burnout_is_moved_by_keys_and_tells_heat_water_and_hour(
    window: Opened, served: Served, width: int
) -> None:
    """WCAG 2.2, 2.1.1 and 4.1.2: every moment is reached by keys, and the field says its words."""
    one = window(width)
    page = shown(one, served, "burn")
    first = figures(told(page))
    start = dots(page, "h0", "h9")
    page.focus("#moment")
    page.keyboard.press("ArrowRight")
    second = figures(told(page))
    said = page.get_attribute("#moment", "aria-valuetext")
    assert said == told(page)
    hottest, hot_dots = first, start
    for _ in range(24):
        page.keyboard.press("PageUp")
        now = figures(told(page))
        if now["kiln"] > hottest["kiln"] + 20.0:
            hottest, hot_dots = now, dots(page, "h0", "h9")
    page.keyboard.press("End")
    last = figures(told(page))
    page.keyboard.press("Home")

    assert first == figures(told(page))
    assert first["hour"] == 0.0
    assert first["core"] == pytest.approx(COLD, abs=15.0)
    assert first["water"] == 100.0
    assert 0.0 < second["hour"] < 1.0
    assert last["hour"] > 6.0
    assert last["water"] == 0.0
    assert hottest["kiln"] > 600.0
    # Cold, the whole of the piece is the darkest shade; hot, none of it is.
    assert start[0] > 2000
    assert start[1] == 0
    assert hot_dots[0] == 0
    assert one.overflow() <= 0


def test_burnout_is_moved_by_mouse_and_its_curve_goes_along(window: Opened, served: Served) -> None:
    page = shown(window(), served, "burn")
    page.wait_for_selector("#scene .u-over")
    box = page.locator("#moment").bounding_box()
    assert box is not None
    where, hours = [], []
    for share in (0.25, 0.75):
        page.mouse.click(box["x"] + share * box["width"], box["y"] + box["height"] / 2)
        page.wait_for_timeout(100)
        hours.append(figures(told(page))["hour"])
        mark = page.locator("#scene .u-cursor-x").bounding_box()
        assert mark is not None
        where.append(mark["x"])
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + 0.75 * box["width"], middle)
    page.mouse.down()
    page.mouse.move(box["x"] + 0.5 * box["width"], middle, steps=4)
    page.mouse.up()
    dragged = figures(told(page))["hour"]

    assert hours[0] < dragged < hours[1]
    # Three to one in time, and the line in the curve as far along.
    assert hours[1] / hours[0] == pytest.approx(3.0, rel=0.2)
    over = page.locator("#scene .u-over").bounding_box()
    assert over is not None
    assert (where[1] - where[0]) / over["width"] == pytest.approx(0.5, abs=0.1)


def test_freezing_goes_from_all_liquid_to_all_solid(window: Opened, served: Served) -> None:
    one = window()
    page = shown(one, served, "freeze")
    assert told(page) == "0 s after the pour began: nothing is solid"
    set_first, liquid_first = dots(page, "h0", "h7")
    page.focus("#moment")
    page.keyboard.press("End")
    last = told(page)
    set_last, liquid_last = dots(page, "h0", "h7")
    half = page.locator("#moment").bounding_box()
    assert half is not None
    page.mouse.click(half["x"] + 0.6 * half["width"], half["y"] + half["height"] / 2)
    between = told(page)
    set_some, liquid_some = dots(page, "h0", "h7")

    assert set_first == 0
    assert liquid_first > 2000
    assert liquid_last == 0
    assert set_last > 2000
    assert 0 < set_some < set_last
    assert 0 < liquid_some < liquid_first
    names = page.locator(".parts .part-name").all_inner_texts()
    assert all(name in last for name in names)
    assert 0 < sum(name in between for name in names) < len(names)
    assert re.match(r"[\d.]+ (s|min) after the pour began: solid ", between)
    # What the picture says of a part, the table says with its time.
    assert re.search(r"\d", page.locator(".parts tbody tr td").nth(5).inner_text())


@pytest.mark.parametrize("way", ["burn", "freeze"])
def test_time_runs_by_itself_and_is_stopped_by_the_same_button(
    window: Opened, served: Served, way: str
) -> None:
    """WCAG 2.2, 2.2.2: what moves of itself can be stopped; 2.5.8 asks for 24 px, we for 56."""
    one = window(360)
    page = shown(one, served, way)
    before = told(page)
    play = page.get_by_role("button", name="Let it run")
    play.click()
    expect(play).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#scene output")).not_to_have_text(before)
    page.wait_for_timeout(1500)
    play.click()
    expect(play).to_have_attribute("aria-pressed", "false")
    stands = page.input_value("#moment")
    page.wait_for_timeout(800)
    assert page.input_value("#moment") == stands
    assert int(stands) > 2

    page.get_by_role("button", name="Earlier").click()
    assert int(page.input_value("#moment")) == int(stands) - 1
    page.get_by_role("button", name="Later").click()
    assert page.input_value("#moment") == stands
    small = [
        each.bounding_box()
        for each in page.locator("#scene .time button, #moment").all()
        if each.is_visible()
    ]
    assert all(box is not None and box["height"] >= 55.5 for box in small)
    # At its end it stops, and begins anew when it is let run once more.
    page.focus("#moment")
    page.keyboard.press("End")
    play.click()
    expect(play).to_have_attribute("aria-pressed", "true")
    assert int(page.input_value("#moment")) < int(page.get_attribute("#moment", "max") or 0)
    page.check('input[value="plate"]', force=True)
    expect(page.locator("#scene")).to_be_hidden()
    assert one.said == []

    page.emulate_media(reduced_motion="reduce")
    page.check(f'input[value="{way}"]', force=True)
    expect(page.get_by_role("button", name="Later")).to_be_visible()
    expect(page.get_by_role("button", name="Let it run")).to_be_hidden()


def test_a_turned_knob_moves_no_hand(window: Opened, served: Served) -> None:
    """WCAG 2.2, 3.2.2: what is typed elsewhere moves neither the focus nor the time shown."""
    one = window()
    page = shown(one, served, "freeze")
    page.focus("#moment")
    for _ in range(4):
        page.keyboard.press("PageUp")
    stands = page.input_value("#moment")
    page.fill("#k-flask-temperature_C", "640")
    expect(page.locator(".moved")).to_contain_text("640")
    page.focus("#moment")
    page.wait_for_selector('#p-head[data-refined="1"]', state="attached")
    page.wait_for_timeout(800)

    assert page.input_value("#moment") == stands != "0"
    assert page.evaluate("document.activeElement.id") == "moment"
    assert one.said == []


def test_shades_are_told_for_each_way_and_figures_as_chosen(window: Opened, served: Served) -> None:
    """Our own: dark is sure on the plate and cold in the burnout; a comma where it was chosen."""
    served.studio.set_look(Look(decimal="comma"))
    page = shown(window(), served, "burn")
    caption = page.locator("#p-caption")
    expect(caption).to_contain_text("Dark is cold")
    page.focus("#moment")
    page.keyboard.press("ArrowRight")
    assert re.match(r"\d+,\d h: kiln", told(page))
    page.check('input[value="freeze"]', force=True)
    expect(caption).to_contain_text("Dark is solid")
    page.check('input[value="plate"]', force=True)
    expect(caption).to_contain_text("Darker means surer")


def test_without_scripts_burnout_and_freezing_stand_as_pictures_and_figures(
    window: Opened, served: Served
) -> None:
    """Our own: nothing is offered that would do nothing, and the hours stand on the page."""
    piece = served.studio.add(example("larch_twig"))
    page = window(scripts=False).page
    page.goto(f"{served.address}/piece/{piece.id}")

    expect(page.locator("#ways")).to_be_hidden()
    expect(page.locator("#scene")).to_be_hidden()
    assert page.locator("#moment").count() == 0
    expect(page.locator("svg.plate")).to_be_visible()
    for row, unit in (("burn", r"\d ?\u00a0?h\b"), ("freeze", r"\d ?\u00a0?(s|min)\b")):
        expect(page.locator(f"#g-{row} svg").first).to_be_visible()
        assert re.search(unit, page.locator(f"#{row}").inner_text())
    solid = page.locator(".parts tbody tr td:nth-of-type(6)").all_inner_texts()
    assert solid
    assert all(re.search(r"\d", each) for each in solid)
