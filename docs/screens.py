"""Write pictures of every page, 1280 and 360 px wide, into docs/screens."""

import io
import shutil
import socket
import tempfile
import threading
import time
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import uvicorn
from PIL import Image
from playwright.sync_api import Page, sync_playwright

from pourcast.app.pages import has_router, nav
from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import keep_first_outcome
from pourcast.book.settings import change_settings, put_flask
from pourcast.book.stock import buy

ROOT = Path(__file__).parent.parent
SCREENS = ROOT / "docs" / "screens"
EXAMPLES = ("larch_twig", "fern_crozier", "dragonfly", "sea_holly")
WIDTHS = (1280, 360)
HIGH = {1280: 1000, 360: 800}
COLOURS = 128
"""Kept in a picture, so that it stays small; edges of letters take most of them."""

READ = (("95", "180"), ("150", "120"), ("152", "60"), ("205", "5"))
"""Of the kiln on the day that is shown, °C, and how many minutes ago; invented."""

FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]


def keep(page: Page, name: str) -> None:
    """Write what a window shows as a small PNG."""
    width = page.viewport_size["width"]
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    path = SCREENS / f"{name}-{width}.png"
    shot.quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    print(f"{path.relative_to(ROOT)}  {path.stat().st_size // 1000} kB")


def refined(page: Page) -> None:
    """Wait until the whole of a forecast is there."""
    page.wait_for_selector('#p-head[data-refined="1"]', state="attached", timeout=300_000)


def piece(page: Page, at: str) -> None:
    """Show a piece as it stands, with a knob turned, and in the round."""
    page.goto(at, timeout=300_000)
    refined(page)
    page.wait_for_selector('#p-first[data-complete="1"]', state="attached", timeout=240_000)
    page.wait_for_timeout(500)
    page.evaluate("scrollTo(0, 0)")
    keep(page, "piece")
    page.fill("#k-flask-temperature_C", "480")
    page.wait_for_selector(".moved", timeout=300_000)
    refined(page)
    page.locator("#pour").scroll_into_view_if_needed()
    page.evaluate("document.getElementById('pour').scrollIntoView()")
    keep(page, "piece-knobs")
    page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
    page.locator(".moved").scroll_into_view_if_needed()
    keep(page, "piece-moved")
    for way, name in (("chance", "round"), ("burn", "burnout"), ("freeze", "freezing")):
        page.check(f'input[value="{way}"]', force=True)
        page.wait_for_selector("#scene canvas")
        moment = page.locator("#moment")
        if moment.count():
            moment.fill(str(int(0.55 * int(moment.get_attribute("max") or 0))))
        page.wait_for_timeout(900)
        page.evaluate("document.querySelector('.shown-piece').scrollIntoView()")
        keep(page, f"piece-{name}")


def furnished(studio: Studio, ids: list[str]) -> None:
    """Give the studio what fills its pages: outcome, lots, a flask; all of it invented."""
    now = datetime.now(UTC)
    kept = studio.keep_in_book(ids[1])
    short = PartOutcome(part=kept.parts[-1].name, state="short", members_short=2)
    keep_first_outcome(
        studio.book,
        kept.id,
        [short],
        poured=(now + timedelta(days=1)).date(),
        seen=(now + timedelta(days=1)).date(),
        at=now + timedelta(days=1),
    )
    studio.keep_in_book(ids[0])
    change_settings(studio.book, currency="EUR", least_mg={"metal": 500_000})
    for name, mass, price in (("Ingots of March", 2_500_000, "84.50"), ("Sprues", 640_000, "0")):
        buy(
            studio.book,
            "metal",
            "si_bronze_c87300",
            mass_mg=mass,
            price=Decimal(price),
            bought=now.date(),
            at=now,
            name=name,
        )
    put_flask(studio.book, "Small", inside_diameter_mm=76.0, height_mm=100.0)


def day(page: Page, address: str) -> None:
    """Show a kiln day that is under way, with what was read; it is begun by the first window."""
    page.goto(f"{address}/day", timeout=300_000)
    going = page.locator("a.big-l")
    if going.count():
        going.first.click()
    else:
        began = datetime.now().astimezone() - timedelta(hours=4)
        page.fill("#start", began.strftime("%Y-%m-%dT%H:%M"))
        page.click("form.stack button")
        for number, ago in READ:
            page.fill("#r", number)
            page.locator("details", has=page.locator("#ago")).evaluate("each => each.open = true")
            page.fill("#ago", ago)
            page.click("form.enter button[type=submit]")
            page.get_by_text(f"kiln {number}").first.wait_for(timeout=300_000)
        page.reload(timeout=300_000)
    page.wait_for_selector("#now", timeout=300_000)
    page.wait_for_timeout(500)
    # What comes in late would push the page down under a window that is held where it was.
    page.wait_for_load_state("networkidle")
    page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
    page.wait_for_timeout(300)
    keep(page, "day")


def others(page: Page, address: str, piece_id: str) -> None:
    """Show every other page that is there."""
    paths = {name: path for name, path in nav() if name not in ("shelf", "piece", "day")}
    paths |= {"shelf": "/", "texts": f"/piece/{piece_id}/texts"}
    if has_router("new"):
        paths["new"] = "/new"
    if has_router("upload"):
        paths["upload"] = "/upload"
    if has_router("breakout"):
        paths["breakout-piece"] = f"/break-out/{piece_id}"
    for name, path in sorted(paths.items()):
        answer = page.goto(address + path, timeout=300_000)
        page.wait_for_timeout(800)
        if answer is None or not answer.ok:
            print(f"{name}: {path} gave no page")
            continue
        keep(page, name)
    if has_router("new"):
        page.goto(f"{address}/new")
        page.get_by_role("button", name="Begin a sheet of measures").click()
        page.wait_for_timeout(500)
        keep(page, "new-sheet")


def compared(page: Page, address: str, ids: list[str]) -> None:
    """Show two texts of one piece side by side."""
    page.goto(f"{address}/compare?one={ids[0]}.1&other={ids[0]}", timeout=300_000)
    page.wait_for_selector("#c-answer", timeout=300_000)
    page.wait_for_timeout(300)
    keep(page, "compare")


def main() -> None:
    """Serve a studio with the examples and write all pictures."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        raise SystemExit("chromium is not installed: no pictures were written")
    SCREENS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, Studio(Path(folder)) as studio:
        ids = [
            studio.add((ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8")).id
            for name in EXAMPLES
        ]
        text = studio.piece(ids[0]).text
        changed = text.replace("\ntemperature_C = 560", "\ntemperature_C = 610", 1)
        studio.save(ids[0], changed, base=1)
        furnished(studio, ids)
        place = socket.socket()
        place.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(make_app(studio), log_level="error"))
        thread = threading.Thread(target=server.run, args=([place],))
        thread.start()
        while not server.started:
            time.sleep(0.01)
        address = f"http://127.0.0.1:{place.getsockname()[1]}"
        try:
            with sync_playwright() as play:
                browser = play.chromium.launch(executable_path=chromium, args=FLAGS)
                for width in WIDTHS:
                    page = browser.new_page(viewport={"width": width, "height": HIGH[width]})
                    piece(page, f"{address}/piece/{ids[0]}")
                    others(page, address, ids[0])
                    compared(page, address, ids)
                    day(page, address)
                    page.close()
                browser.close()
        finally:
            server.should_exit = True
            thread.join()


if __name__ == "__main__":
    main()
