"""The page of a piece in a browser, from an empty studio to a printed sheet.

What a page must do is our own; where a standard says more, the test names it.
"""

import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import expect

from pourcast.app import cells
from tests.app.browser.conftest import Served, Window, one_studio

HOLLY = Path("examples/sea_holly.toml").read_text(encoding="utf-8")
LARCH = Path("examples/larch_twig.toml").read_text(encoding="utf-8")
SHEET = {
    "name": "Ash key",
    "button.diameter_mm": "30",
    "button.height_mm": "20",
    "part.0.name": "stalk",
    "part.0.length_mm": "25",
    "part.0.diameter_mm": "3.0",
    "flask.inside_diameter_mm": "76",
    "flask.height_mm": "100",
    "flask.temperature_C": "600",
    "metal.pour_temperature_C": "1120",
    "assist.vacuum_kPa": "70",
}
OPEN_ALL = "document.querySelectorAll('details').forEach((each) => { each.open = true; })"
LESS, MORE = "Flask at the pour: less", "Flask at the pour: more"

Opened = Callable[..., Window]


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Serve one studio to all tests here: each turns a piece of its own."""
    yield from one_studio(tmp_path_factory.mktemp("studio"))


def refined(window: Window) -> None:
    window.page.wait_for_selector('#p-head[data-refined="1"]', state="attached")


@pytest.mark.parametrize("width", [1280, 360])
def test_the_whole_way_from_a_new_piece_to_a_printed_sheet(
    window: Opened, served: Served, width: int
) -> None:
    """ISO 216: A4 is 210 mm by 297 mm; WCAG 2.2, 1.4.10: no scrolling sideways at 360 px."""
    one = window(width)
    page = one.page
    page.goto(served.address)
    page.get_by_role("link", name="A new piece").click()
    page.get_by_role("button", name="Begin a sheet of measures").click()
    page.wait_for_url("**/new/*")
    page.wait_for_load_state()
    page.evaluate(OPEN_ALL)
    for name, value in SHEET.items():
        page.fill(f'[name="{name}"]', value)
    page.select_option('[name="part.0.material"]', label="Twig or woody stem")
    page.select_option('[name="metal.alloy"]', index=1)
    # The sheet keeps what is typed a moment later; then it is put on the shelf.
    page.wait_for_timeout(1500)
    page.wait_for_load_state("networkidle")
    page.click('button[name="act"][value="put"]')
    page.wait_for_url(re.compile(r"/piece/[0-9a-z]{16}$|/$"))
    if not page.url.startswith(f"{served.address}/piece/"):
        page.get_by_role("link", name="Ash key").click()
    expect(page.locator("h1")).to_contain_text("In 100 pours")
    refined(one)

    page.fill("#k-flask-temperature_C", "540")
    expect(page.locator(".moved")).to_contain_text("from 600 °C down to 540 °C")
    expect(page.locator("#w-k-flask-temperature_C")).to_have_text("was 600")
    refined(one)
    assert one.overflow() == 0
    pdf = pypdf.PdfReader(io.BytesIO(page.pdf(format="A4", prefer_css_page_size=True)))
    text = " ".join(" ".join(sheet.extract_text().split()) for sheet in pdf.pages)

    assert 2 <= len(pdf.pages) <= 9
    assert float(pdf.pages[0].mediabox.width) == pytest.approx(595, abs=1)
    assert "Ash key" in text
    assert re.search(r"540 °C\s+used", text)
    assert "Take care." in text
    for button in ("Go back", "Set the clock", "Put this plan in the book"):
        assert button not in text


def test_nothing_is_kept_until_keep_is_pressed(window: Opened, served: Served) -> None:
    """Our own rule: "was" is the last kept plan, and only Keep makes a new one."""
    piece = served.studio.add(HOLLY)
    one = window()
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    page.click(f'button[aria-label="{LESS}"]')
    page.click(f'button[aria-label="{LESS}"]')
    expect(page.locator(".moved")).to_contain_text("from 600 °C down to 580 °C")
    assert served.studio.piece(piece.id).text == HOLLY

    page.get_by_role("button", name="Go back").click()
    expect(page.locator(".moved")).to_have_count(0)
    expect(page.locator("#k-flask-temperature_C")).to_have_value("600")
    page.click(f'button[aria-label="{MORE}"]')
    expect(page.locator(".moved")).to_contain_text("up to 610 °C")
    page.fill("#k-investment-mixed_at_C", "24")
    expect(page.locator(".moved")).to_contain_text("You turned 2 knobs")
    page.get_by_role("button", name="Undo the last turn").click()
    expect(page.locator(".moved")).to_contain_text("You turned “Flask at the pour”")
    page.get_by_role("button", name="Keep").click()
    expect(page.locator(".moved")).to_have_count(0)

    kept = served.studio.piece(piece.id).text
    assert kept == HOLLY.replace("temperature_C = 600", "temperature_C = 610")


def test_field_keeps_the_focus_and_a_wrong_value_is_told_beside_it(
    window: Opened, served: Served
) -> None:
    """WCAG 2.2, 3.3.1: an error is told in text at its field; 3.2.2: typing moves no focus."""
    piece = served.studio.add(HOLLY)
    one = window()
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    field = page.locator("#k-metal-pour_temperature_C")
    field.fill("9000")

    expect(page.locator("#f-k-metal-pour_temperature_C .fault")).to_contain_text("1400")
    expect(field).to_be_focused()
    expect(field).to_have_value("9000")
    expect(page.locator(".moved")).to_have_count(0)
    # The browser itself notes the answer 422 of the form.
    assert all("422" in line for line in one.said)
    one.said.clear()
    field.fill("2030 F")
    expect(page.locator(".moved")).to_contain_text("from 2048 °F down to 2030 °F")


def test_the_same_forms_work_without_scripts(window: Opened, served: Served) -> None:
    """Our own rule: with no script the form posts and the page comes back at the row."""
    piece = served.studio.add(HOLLY)
    one = window(scripts=False)
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    page.fill("#k-flask-temperature_C", "560")
    page.press("#k-flask-temperature_C", "Enter")
    page.wait_for_url("**#pour")

    expect(page.locator(".moved")).to_contain_text("down to 560 °C")
    page.click(f'button[aria-label="{LESS}"]')
    expect(page.locator(".moved")).to_contain_text("down to 550 °C")


def test_two_devices_turn_one_piece_and_the_later_is_told(window: Opened, served: Served) -> None:
    """Our own rule: nothing is written over without a word."""
    piece = served.studio.add(HOLLY)
    one, two = window(), window(360)
    for each in (one, two):
        each.page.goto(f"{served.address}/piece/{piece.id}")
    one.page.fill("#k-flask-temperature_C", "550")
    expect(one.page.locator(".moved")).to_contain_text("550")
    two.page.fill("#k-metal-pour_temperature_C", "1150")
    expect(two.page.locator(".moved")).to_contain_text("1150")
    one.page.get_by_role("button", name="Keep").click()
    expect(one.page.locator(".moved")).to_have_count(0)

    two.page.get_by_role("button", name="Keep").click()
    expect(two.page.locator("h1")).to_contain_text("Changed elsewhere")
    assert two.axe() == []
    assert "temperature_C = 550" in served.studio.piece(piece.id).text
    # The browser itself notes the answer 409.
    assert all("409" in line for line in two.said)
    two.said.clear()
    two.page.get_by_role("link", name="Leave what stands").click()
    expect(two.page.locator(".elsewhere")).to_contain_text("changed on another device")
    two.page.get_by_role("button", name="Turn the same knobs on the newer text").click()
    expect(two.page.locator(".elsewhere")).to_have_count(0)
    two.page.get_by_role("button", name="Keep").click()
    expect(two.page.locator(".moved")).to_have_count(0)

    both = served.studio.piece(piece.id).text
    assert "temperature_C = 550" in both
    assert "pour_temperature_C = 1150" in both


def test_five_windows_of_one_device_all_get_their_answer(window: Opened, served: Served) -> None:
    """A browser holds six lines to one host over HTTP/1.1; streams must leave one free."""
    piece = served.studio.add(LARCH)
    one = window()
    device = one.page.context
    pages = [one.page, *(device.new_page() for _ in range(5))]
    for page in pages:
        page.goto(f"{served.address}/piece/{piece.id}", wait_until="commit")
    for page in pages:
        page.wait_for_selector('#p-head[data-refined="1"]', state="attached")

    assert len(pages) == 6


def test_stream_is_shut_while_the_page_is_out_of_sight(window: Opened, served: Served) -> None:
    """Our own rule, see above: a page that is not shown holds no line."""
    # Of no other test, so that its answer is still to be worked out.
    piece = served.studio.add(HOLLY.replace("= 1120", "= 1124"))
    one = window()
    page = one.page
    page.add_init_script(
        "window.opened = []; const plain = EventSource; window.EventSource = class extends plain"
        " {constructor(at) {super(at); window.opened.push(this);}};"
        "Object.defineProperty(document, 'hidden', {get: () => window.away === true});"
    )
    page.route("**/progress", lambda _: None)
    page.goto(f"{served.address}/piece/{piece.id}")
    page.wait_for_function("window.opened.length === 1")
    page.evaluate("window.away = true; document.dispatchEvent(new Event('visibilitychange'))")

    assert page.evaluate("window.opened.map((each) => each.readyState)") == [2]
    page.evaluate("window.away = false; document.dispatchEvent(new Event('visibilitychange'))")
    assert page.evaluate("window.opened.length") == 2


@pytest.mark.parametrize("width", [1280, 360])
def test_page_has_no_fault_of_accessibility(window: Opened, served: Served, width: int) -> None:
    """The default rules of axe-core 4.14.1 (WCAG 2.0 to 2.2, A and AA, and best practice)."""
    piece = served.studio.add(HOLLY)
    one = window(width)
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    page.fill("#k-flask-temperature_C", "540")
    expect(page.locator(".moved")).to_contain_text("540")
    refined(one)
    assert one.axe() == []
    page.check('input[value="burn"]', force=True)
    page.wait_for_selector("#scene .uplot")
    assert one.axe() == []
    page.check('input[value="freeze"]', force=True)
    page.wait_for_selector("#scene output")
    page.evaluate(OPEN_ALL)

    assert one.axe() == []
    assert one.overflow() == 0


def test_what_is_pressed_on_a_phone_is_large_enough_for_gloves(
    window: Opened, served: Served
) -> None:
    """Our own rule: 56 px at 360 px (WCAG 2.2, 2.5.8 asks for 24)."""
    piece = served.studio.add(HOLLY)
    one = window(360)
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    page.fill("#k-flask-temperature_C", "540")
    expect(page.locator(".moved")).to_contain_text("540")
    page.check('input[value="burn"]', force=True)
    page.wait_for_selector("#scene .uplot")
    page.evaluate(OPEN_ALL)
    small = page.evaluate(
        "[...document.querySelectorAll('main button, main input:not([type=hidden]), main select,"
        " main summary, header a, .ways span')].filter((each) => each.offsetHeight > 0 &&"
        " !each.closest('.u-legend')"
        " && each.type !== 'radio').map((each) => [each.outerHTML.slice(0, 80),"
        " each.getBoundingClientRect().height]).filter((each) => each[1] < 55.9)"
    )

    assert small == []


def test_part_is_picked_in_the_picture_and_in_the_table(window: Opened, served: Served) -> None:
    """Our own rule: both ways, and the table says all that the picture says."""
    piece = served.studio.add(HOLLY)
    one = window()
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    refined(one)
    page.check('input[value="chance"]', force=True)
    page.wait_for_selector("#scene canvas")
    page.wait_for_timeout(300)
    page.locator(".parts .pick", has_text="bract").click()
    expect(page.locator("#scene .picked")).to_contain_text("bract: every one fills in")
    expect(page.locator('.parts tr[aria-current="true"]')).to_have_count(1)

    # The stem hangs under the middle of the cup: somewhere on the axis it is hit.
    canvas = page.locator("#scene canvas")
    box = canvas.bounding_box()
    assert box is not None
    found = set()
    for share in (0.30, 0.34, 0.38, 0.42, 0.46):
        canvas.click(position={"x": box["width"] / 2, "y": box["height"] * share})
        found.add(page.locator("#scene .picked").inner_text().partition(":")[0])

    assert {"stem", "head"} & found


def test_drawing_stays_where_the_browser_has_no_webgl(window: Opened, served: Served) -> None:
    """Our own rule: the flat plate says the same."""
    piece = served.studio.add(HOLLY)
    one = window()
    page = one.page
    page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null;")
    page.goto(f"{served.address}/piece/{piece.id}")
    page.check('input[value="chance"]', force=True)

    expect(page.locator("#scene")).to_contain_text("cannot draw in the round")
    expect(page.locator("svg.plate")).to_be_visible()
    one.said.clear()  # three tells the console that it found no WebGL


def test_casting_in_cells_is_turned_round_and_told(
    window: Opened, served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """WCAG 2.2, 1.1.1: what the picture says stands beside it as text, moment by moment."""
    monkeypatch.setattr(cells, "MOST_CELLS", 20_000)
    monkeypatch.setattr(cells, "UNTIL", 120.0)
    monkeypatch.setattr(cells, "SECTIONS", (5.0, 60.0))
    piece = served.studio.add(LARCH)
    one = window(1280)
    page = one.page
    page.goto(f"{served.address}/piece/{piece.id}")
    expect(page.locator("#way-cells")).to_be_hidden()
    page.get_by_role("button", name="Freeze it in cells").click()
    page.wait_for_selector('#p-cells[data-state="done"]', state="attached")
    page.locator("#way-cells").click()
    told = page.locator("#scene output")
    expect(told).to_contain_text("5 s after the pour")
    page.locator("#moment").press("ArrowRight")
    expect(told).to_contain_text("1 min after the pour")
    assert one.axe() == []
    drawn = page.evaluate("document.querySelector('#scene canvas').toDataURL().length")
    assert drawn > 5_000
    assert one.said == []
