"""How long a caster waits for the pages: the first one, a turned knob, a frame in the round.

Prints medians on this machine, with the pages served to itself and kernels cached.  The
frames are drawn by the browser's own software where it finds no graphics card.  There is
no pass or fail: machines differ.
"""

import re
import shutil
import socket
import statistics
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2 as httpx
import uvicorn
from playwright.sync_api import sync_playwright

from pourcast.app.server import make_app
from pourcast.app.studio import Studio

ROOT = Path(__file__).parent.parent
HOLLY = (ROOT / "examples" / "sea_holly.toml").read_text(encoding="utf-8")
RUNS = 7
PARTS = (500, 5000, 20_000)
FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]

_FRAMES = """
async ([script, three, count]) => {
  const made = await import(script);
  const drawn = await import(three);
  const box = document.getElementById("scene");
  box.hidden = false;
  const segments = {start_mm: [], end_mm: [], width_mm: [], thickness_mm: [], across: [],
    flat: [], part: [], chance: []};
  for (let k = 0; k < count; k += 1) {
    const [a, h] = [k * 2.399963, -60 * k / count];
    segments.start_mm.push(5 * Math.cos(a), 5 * Math.sin(a), h);
    segments.end_mm.push(25 * Math.cos(a), 25 * Math.sin(a), h - 4);
    segments.width_mm.push(0.8, 0.3);
    segments.thickness_mm.push(0.8, 0.3);
    segments.across.push(-Math.sin(a), Math.cos(a), 0);
    segments.flat.push(k % 2);
    segments.part.push(0);
    segments.chance.push((k % 100) / 100);
  }
  const data = {segments, parts: ["spine"], solid_s: [1], freeze: null, burnout: null,
    flask_mm: {inside: 76, height: 100, wall: 2},
    button_mm: {diameter: 34, gate: 5, height: 20},
    classes: [{least: 0.5, name: "c1", words: ""}, {least: 0, name: "c5", words: ""}]};
  const begun = performance.now();
  const view = new made.View(box, drawn, data);
  const built = performance.now() - begun;
  const gl = view.renderer.getContext();
  const pixel = new Uint8Array(4);
  const frames = [];
  for (let k = 0; k < 12; k += 1) {
    view.group.rotation.z = k * 0.1;
    const start = performance.now();
    view.renderer.render(view.scene, view.camera);
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    frames.push(performance.now() - start);
  }
  const place = view.canvas.getBoundingClientRect();
  const start = performance.now();
  view.partAt(place.left + place.width / 2, place.top + place.height / 2);
  const picked = performance.now() - start;
  view.renderer.dispose();
  return [built, frames.slice(2).sort((a, b) => a - b)[5], picked, view.canvas.width,
    view.canvas.height];
}
"""


@contextmanager
def served() -> Iterator[tuple[Studio, str]]:
    """Serve an empty studio on a free port."""
    with tempfile.TemporaryDirectory() as folder, Studio(Path(folder)) as studio:
        place = socket.socket()
        place.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(make_app(studio), log_level="error"))
        thread = threading.Thread(target=server.run, args=([place],))
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield studio, f"http://127.0.0.1:{place.getsockname()[1]}"
        server.should_exit = True
        thread.join()


def show(name: str, taken: list[float]) -> None:
    """Print a median and the longest of some times [s]."""
    print(f"{name:<58} {statistics.median(taken):6.3f} s   longest {max(taken):6.3f} s")


def pages(studio: Studio, address: str) -> None:
    """Print how long pages take over http alone."""
    with httpx.Client(base_url=address, timeout=300, headers={"origin": address}) as ask:
        first = studio.add(HOLLY)
        ask.get(f"/piece/{first.id}")  # loads the kernels
        new, again, knob = [], [], []
        for run in range(RUNS):
            text = HOLLY.replace("temperature_C = 600", f"temperature_C = {601 + run}")
            piece = studio.add(text)
            begun = time.perf_counter()
            page = ask.get(f"/piece/{piece.id}").text
            new.append(time.perf_counter() - begun)
            time.sleep(4.0)  # until the whole of it is there
            begun = time.perf_counter()
            page = ask.get(f"/piece/{piece.id}").text
            again.append(time.perf_counter() - begun)
            token = re.findall(r'name="token" value="([^"]+)"', page)[0]
            form = {"token": token, "knob": "metal.pour_temperature_C", "value": "1133", "by": "0"}
            begun = time.perf_counter()
            turned = ask.post(f"/piece/{piece.id}/knob", data=form, follow_redirects=True)
            knob.append(time.perf_counter() - begun)
            assert "up to 1133" in turned.text
            time.sleep(4.0)
        shelf = []
        for _ in range(RUNS):
            begun = time.perf_counter()
            ask.get("/")
            shelf.append(time.perf_counter() - begun)
    show("shelf of 8 pieces", shelf)
    show("page of a piece that nobody has looked at yet, 394 segments", new)
    show("the same again", again)
    show("from a turned knob to its first answer", knob)


def frames(studio: Studio, address: str) -> None:
    """Print how long a frame in the round takes."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        print("No chromium: no frames.")
        return
    piece = studio.add(HOLLY)
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=FLAGS)
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(f"{address}/piece/{piece.id}")
        scene = page.locator("#scene")
        files = [scene.get_attribute("data-script"), scene.get_attribute("data-three")]
        for count in PARTS:
            built, frame, picked, wide, high = page.evaluate(_FRAMES, [*files, count])
            print(
                f"in the round, {count:6d} parts, {wide} x {high} px: built {built:5.0f} ms, "
                f"a frame {frame:5.0f} ms, a pick {picked:5.1f} ms"
            )
        browser.close()


def main() -> None:
    """Print a table of times."""
    with served() as (studio, address):
        pages(studio, address)
        frames(studio, address)


if __name__ == "__main__":
    main()
