"""Inches and a decimal comma reach the piece page and the printed sheet.

That no millimetre is left is our own rule; 25.4 mm to the inch is exact (NIST SP 811).
"""

import io
import re
from html.parser import HTMLParser
from pathlib import Path

from pypdf import PdfReader

from pourcast.app.look import Look
from tests.app.client import EXAMPLES, browser, opened

FERN = (EXAMPLES / "fern_crozier.toml").read_text("utf-8")


class _Read(HTMLParser):
    """What a person reads of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.text: list[str] = []
        self._hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002
        self._hidden += tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        self._hidden -= tag in ("script", "style")

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self.text.append(data)


def _read(page: str) -> str:
    reader = _Read()
    reader.feed(page)
    return " ".join(reader.text).replace("\u00a0", " ")


def test_piece_page_in_inches_with_a_comma(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(FERN).id
        usual = _read(browser(app).get(f"/piece/{piece}").text)
        studio.set_look(Look(lengths="in", decimal="comma"))
        told = _read(browser(app).get(f"/piece/{piece}").text)

    assert re.search(r"\d mm\b", usual)
    assert re.findall(r".{30}\d mm\b(?![²³/]).{10}", told) == []
    assert re.search(r"0,\d+ in\b", told)
    assert re.findall(r".{20}\b\d+\.\d+\b(?!\.).{10}", told.replace("0.1.0", "")) == []


def test_printed_sheet_in_inches(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(FERN).id
        studio.set_look(Look(lengths="in"))
        answer = browser(app).get(f"/piece/{piece}/run-sheet.pdf")

    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages)
    text = text.replace("\u00a0", " ")
    assert re.findall(r".{20}\d mm\b(?![²³/])", text) == []
    assert re.search(r"\d in\b", text)
