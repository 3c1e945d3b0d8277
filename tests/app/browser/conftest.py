"""A real server on a free port with an empty folder, and a browser that tells what it says."""

import shutil
import socket
import threading
import time
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect, sync_playwright

from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.forecast.solve import forecast
from pourcast.sheet import new_sheet, read_plan

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = ("--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
AXE = Path(__file__).parents[1] / "vendor" / "axe.min.js"
expect.set_options(timeout=60_000)
PATIENCE = 90_000.0
"""ms a page may take on a busy machine; kernels may have to be compiled first."""


@dataclass
class Served:
    """A studio that is being served."""

    studio: Studio
    address: str


@dataclass
class Window:
    """A window of a device, with all that it has said to its console."""

    page: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def axe(self) -> list[str]:
        """Return what the checker of accessibility finds, one line each."""
        # The policy of the page lets no other script in; this one comes through the debugger.
        self.page.evaluate(AXE.read_text(encoding="utf-8"))
        found: Any = self.page.evaluate("axe.run()")
        return [
            f"{each['id']}: {node['target']} {node['failureSummary']}"
            for each in found["violations"]
            for node in each["nodes"]
        ]

    def overflow(self) -> int:
        """Return by how much the page is wider than its window [px]."""
        wide: int = self.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        return wide


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("chromium is not installed: the pages were not looked at in a browser")
    # Kernels that must be compiled first would take longer than a window waits.
    forecast(read_plan(new_sheet("any")), draws=1)
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        yield browser
        browser.close()


def one_studio(folder: Path) -> Iterator[Served]:
    """Serve a studio in a folder, for a fixture of a test or of all tests of a file."""
    with Studio(folder) as studio, serving(studio) as address:
        yield Served(studio, address)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    yield from one_studio(tmp_path / "studio")


class serving:  # noqa: N801  (used like a function in a with)
    """Serve a studio on a free port of this machine."""

    def __init__(self, studio: Studio, hosts: Collection[str] = ()) -> None:
        app = make_app(studio, hosts=hosts)
        config = uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=2)
        self._socket = socket.socket()
        self._socket.bind(("127.0.0.1", 0))
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, args=([self._socket],))

    def __enter__(self) -> str:
        self._thread.start()
        while not self._server.started:
            time.sleep(0.01)
        return f"http://127.0.0.1:{self._socket.getsockname()[1]}"

    def __exit__(self, *fault: object) -> None:
        self._server.should_exit = True
        self._thread.join()
        self._socket.close()


@pytest.fixture
def window(chromium: Browser, served: Served) -> Iterator[Callable[..., Window]]:
    """Return how to open a window; each one is a device of its own."""
    opened: list[Window] = []

    def make(width: int = 1280, *, scripts: bool = True) -> Window:
        device = chromium.new_context(
            viewport={"width": width, "height": 900}, java_script_enabled=scripts
        )
        device.set_default_timeout(PATIENCE)
        made = Window(device.new_page())
        made.page.on("console", lambda message: made.said.append(message.text))
        made.page.on("pageerror", lambda fault: made.said.append(str(fault)))
        made.page.on("request", lambda request: made.asked.append(request.url))
        opened.append(made)
        return made

    yield make
    for each in opened:
        each.page.context.close()
        assert each.said == []
        foreign = [
            url for url in each.asked if not url.startswith((served.address, "data:", "blob:"))
        ]
        assert foreign == []
