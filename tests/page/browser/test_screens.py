"""The page in a browser: no wider than its window, its style let through, on A4."""

import html
import re
import shutil
import subprocess
import zlib
from pathlib import Path

import pytest

from pourcast.page.render import render
from tests.page import sample

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="chromium is not installed: the page was not looked at in a browser"
)

LONG = "W" * 300


def _run(file: Path, *options: str) -> str:
    assert CHROMIUM is not None
    profile = file.parent / "profile"
    done = subprocess.run(
        [
            CHROMIUM,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--hide-scrollbars",
            f"--user-data-dir={profile}",
            *options,
            file.as_uri(),
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def _width(text: str, folder: Path, window: int) -> tuple[int, int]:
    """Return the widths of a frame and of the page in it.

    The browser opens no window under 500 px, so the page is put into a frame.
    """
    frame = (
        f'<iframe id="f" width="{window}" frameborder="0" srcdoc="{html.escape(text)}"></iframe>'
    )
    script = (
        "<script>f.onload = () => {document.title = f.contentWindow.innerWidth + ' ' + "
        "f.contentDocument.documentElement.scrollWidth;};</script>"
    )
    file = folder / "frame.html"
    whole = f"<!doctype html><meta charset=utf-8><title></title>{frame}{script}"
    file.write_text(whole, encoding="utf-8")
    shown = _run(file, "--window-size=1600,900", "--dump-dom")
    inner, page = re.findall(r"<title>(\d+) (\d+)</title>", shown)[0]
    return int(inner), int(page)


@pytest.mark.parametrize("window", [360, 700, 1280])
@pytest.mark.parametrize("name", ["Sea-holly head, no. 14", LONG])
def test_page_is_no_wider_than_its_window(tmp_path: Path, window: int, name: str) -> None:
    """WCAG 2.2, 1.4.10 (reflow): no scrolling sideways; 360 is the narrowest phone we name."""
    inner, page = _width(render(sample.named(name, name)), tmp_path, window)

    assert inner == window
    assert page <= window


def _first_pixel(picture: bytes) -> tuple[int, ...]:
    """Return the first pixel of a PNG; no filter changes it (PNG specification, 9.2)."""
    data = b""
    place = 8
    while place < len(picture):
        size = int.from_bytes(picture[place : place + 4])
        if picture[place + 4 : place + 8] == b"IDAT":
            data += picture[place + 8 : place + 8 + size]
        place += size + 12
    return tuple(zlib.decompress(data)[1:4])


def test_browser_lets_the_style_through_and_no_other(tmp_path: Path) -> None:
    """CSP level 3: a style that differs from its hash by one letter is refused.

    The first pixel is the paper of the page, #F7F2E6, or the white of a page without style.
    """
    text = render(sample.forecast())
    pixels = []
    for name, shown in (
        ("kept", text),
        ("changed", text.replace("body{margin:0", "body{margin:1")),
    ):
        file = tmp_path / f"{name}.html"
        file.write_text(shown, encoding="utf-8")
        picture = tmp_path / f"{name}.png"
        _run(file, "--window-size=360,400", f"--screenshot={picture}")
        pixels.append(_first_pixel(picture.read_bytes()))

    assert pixels == [(0xF7, 0xF2, 0xE6), (255, 255, 255)]


def test_page_prints_on_a_few_sheets_of_a4(tmp_path: Path) -> None:
    """ISO 216: A4 is 210 mm by 297 mm, 595 by 842 points; the sample takes about three sheets."""
    file = tmp_path / "page.html"
    file.write_text(render(sample.forecast()), encoding="utf-8")
    printed = tmp_path / "page.pdf"

    _run(file, "--no-pdf-header-footer", f"--print-to-pdf={printed}")

    sheets = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", printed.read_bytes())
    assert 2 <= len(sheets) <= 4
    for wide, high in sheets:
        assert float(wide) == pytest.approx(595, abs=1)
        assert float(high) == pytest.approx(842, abs=1)
