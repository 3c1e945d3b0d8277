"""How long a caster waits for the pages: the first one, a turned knob, a frame in the round.

Prints medians on this machine, with the pages served to itself and kernels cached, beside
what is aimed at: 0.3 s for a page, 1 s from a knob to its first answer with 500 segments,
30 frames a second with 5000 parts.  The frames are drawn by the browser's own software, on
the processor, as where there is no graphics card.  There is no pass or fail: machines differ.
"""

import re
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import httpx2 as httpx
import uvicorn
from playwright.sync_api import sync_playwright

from pourcast.app.server import make_app
from pourcast.app.studio import Studio

ROOT = Path(__file__).parent.parent
# Eight spines on each bract in the place of four make 538 segments of 394.
HOLLY = (
    (ROOT / "examples" / "sea_holly.toml")
    .read_text(encoding="utf-8")
    .replace("\ncount = 4\n", "\ncount = 8\n")
)
RUNS = 7
FRESH = 3
LONGEST = 120.0  # s that the whole of a forecast may take
PARTS = (500, 5000, 20_000)
DRAWN_BY = "SwiftShader, on the processor"
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
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder,
        Studio(Path(folder)) as studio,
    ):
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


def show(name: str, taken: list[float], aim: float | None = None) -> None:
    """Print a median and the longest of some times [s]."""
    told = "" if aim is None else f"   aim {aim:g} s"
    print(f"{name:<58} {statistics.median(taken):6.3f} s   longest {max(taken):6.3f} s{told}")


def timed(ask: Callable[[], httpx.Response], into: list[float]) -> str:
    """Return the text of an answer, and note how long it took."""
    begun = time.perf_counter()
    answer = ask()
    into.append(time.perf_counter() - begun)
    assert answer.status_code == 200, answer.text[:300]
    return answer.text


def wait_for_all(ask: httpx.Client, path: str) -> None:
    """Wait until the whole forecast of a page is there, so that it takes no time from the next."""
    until = time.monotonic() + LONGEST
    while time.monotonic() < until:
        if 'data-refined="1"' in ask.get(path).text:
            return
        time.sleep(0.5)
    raise SystemExit(f"{path}: the whole forecast did not come within {LONGEST:g} s")


def pages(studio: Studio, address: str) -> None:
    """Print how long pages take over http alone."""
    with httpx.Client(base_url=address, timeout=300, headers={"origin": address}) as ask:
        first = studio.add(HOLLY)
        segments = studio.forecast(HOLLY, draws=1).network.start.size
        ask.get(f"/piece/{first.id}")  # loads the kernels
        new: list[float] = []
        again: list[float] = []
        knob: list[float] = []
        for run in range(RUNS):
            piece = studio.add(HOLLY.replace("temperature_C = 600", f"temperature_C = {601 + run}"))
            path = f"/piece/{piece.id}"
            timed(partial(ask.get, path), new)
            wait_for_all(ask, path)
            page = timed(partial(ask.get, path), again)
            token = re.findall(r'name="token" value="([^"]+)"', page)[0]
            form = {"token": token, "knob": "metal.pour_temperature_C", "value": "1133", "by": "0"}
            turn = partial(ask.post, f"{path}/knob", data=form, follow_redirects=True)
            assert "up to 1133" in timed(turn, knob)
            wait_for_all(ask, path)
        shelf: list[float] = []
        book: list[float] = []
        values: list[float] = []
        for _ in range(RUNS):
            timed(partial(ask.get, "/"), shelf)
            timed(partial(ask.get, "/book"), book)
            timed(partial(ask.get, "/values"), values)
    show(f"shelf of {RUNS + 1} pieces", shelf, 0.3)
    show("book", book, 0.3)
    show("values", values, 0.3)
    show(f"page of a piece nobody has looked at yet, {segments} segments", new)
    show("the same again", again, 0.3)
    show(f"from a turned knob to its first answer, {segments} segments", knob, 1.0)


def fresh() -> None:
    """Print how long the first pages of a program take that was only just started."""
    started: list[float] = []
    shelf: list[float] = []
    piece: list[float] = []
    for _ in range(FRESH):
        with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
            with Studio(Path(folder)) as studio:
                made = studio.add(HOLLY)
            begun = time.perf_counter()
            command = [sys.executable, "-m", "pourcast", "open", "--no-browser", "--data", folder]
            with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as program:
                try:
                    assert program.stdout is not None
                    found = re.search(r"http://[0-9.:]+", program.stdout.readline())
                    assert found is not None
                    with httpx.Client(base_url=found[0], timeout=300) as ask:
                        timed(partial(ask.get, "/"), shelf)
                        started.append(time.perf_counter() - begun)
                        timed(partial(ask.get, f"/piece/{made.id}"), piece)
                finally:
                    program.terminate()
    show("from the command to the first page, the shelf", started)
    show("of it, the request for the shelf", shelf, 0.3)
    show("then the page of a piece, with its kernels to load", piece)


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
        print(f"in the round, drawn by {DRAWN_BY}; aim 30 frames a second with 5000 parts")
        page.goto(f"{address}/piece/{piece.id}")
        scene = page.locator("#scene")
        files = [scene.get_attribute("data-script"), scene.get_attribute("data-three")]
        for count in PARTS:
            built, frame, picked, wide, high = page.evaluate(_FRAMES, [*files, count])
            print(
                f"in the round, {count:6d} parts, {wide} x {high} px: built {built:5.0f} ms, "
                f"a frame {frame:5.1f} ms, {1000 / max(frame, 0.1):4.0f} a second, "
                f"a pick {picked:5.1f} ms"
            )
        browser.close()


def main() -> None:
    """Print a table of times."""
    fresh()
    with served() as (studio, address):
        pages(studio, address)
        frames(studio, address)


if __name__ == "__main__":
    main()
