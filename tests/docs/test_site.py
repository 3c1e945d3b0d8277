"""The built site: whole, without a network, every link leading somewhere.

House rules, so no outside number is held against them.
"""

import functools
import re
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag

import pytest

from tests.docs.conftest import DOCS, ROOT

PACKAGE = ROOT / "src" / "pourcast"

LOADS = {
    "audio": "src",
    "embed": "src",
    "iframe": "src",
    "image": "href",
    "img": "src",
    "link": "href",
    "object": "data",
    "script": "src",
    "source": "src",
    "use": "href",
    "video": "src",
}
"""Element: the attribute by which a browser fetches something without being asked."""

STAGES = ("piece", "mould", "burnout", "melt", "pour", "freeze", "finish", "forecast")
BESIDE = ("gating", "change", "sweep", "day", "scan", "photo", "learn")
"""Told to the caster on the pages of commands."""


class Page(HTMLParser):
    """What one page holds and where it leads."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.loads: list[str] = []
        self.elements: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.elements.add(tag)
        if given.get("id"):
            self.ids.append(given["id"])
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        if given.get(LOADS.get(tag, "")):
            self.loads.append(given[LOADS[tag]])
        if "srcset" in given:
            self.loads.append(given["srcset"])


@functools.cache
def page(path: Path) -> Page:
    return Page(path.read_text(encoding="utf-8"))


def pages(site: Path) -> list[Path]:
    return sorted(path for path in site.rglob("*.html") if "_static" not in path.parts)


def test_no_page_loads_anything_from_elsewhere(site: Path) -> None:
    """A page is read in a shed: scripts, styles, pictures and letters lie beside it."""
    found = {
        f"{path.name}: {load[:80]}"
        for path in pages(site)
        for load in page(path).loads
        if re.match(r"\w+:|//", load) and not load.startswith("data:image/")
    }

    assert found == set()


def test_no_style_or_script_loads_anything_from_elsewhere(site: Path) -> None:
    """Neither a url(), nor an import, nor a fetch of an address that begins with a scheme."""
    away = re.compile(
        r"""(?:url\(\s*|@import\s+|fetch\(\s*|import\(\s*|\.src\s*=\s*)["']?(?:https?:)?//""",
        re.I,
    )
    files = [path for path in site.rglob("*") if path.suffix in (".css", ".js", ".html")]

    found = {path.name for path in files if away.search(path.read_text(encoding="utf-8"))}

    assert len(files) > 50
    assert found == set()


def test_each_link_and_anchor_of_the_site_leads_somewhere(site: Path) -> None:
    broken = []
    for path in pages(site):
        for link in page(path).links:
            if re.match(r"\w+:|//", link):
                continue
            place, anchor = urldefrag(link)
            aim = (path.parent / unquote(place)).resolve() if place else path
            asked = anchor and aim.suffix == ".html"
            if not aim.exists() or (asked and unquote(anchor) not in page(aim).ids):
                broken.append(f"{path.name}: {link}")

    assert broken == []


def test_no_page_has_an_anchor_twice(site: Path) -> None:
    """Two headings of one name, or two forecasts in one notebook, would lead to the first."""
    found = {
        path.name: sorted({name for name in held if held.count(name) > 1})
        for path in pages(site)
        if len(set(held := page(path).ids)) < len(held)
    }

    assert found == {}


@pytest.mark.parametrize("stage", STAGES)
def test_each_stage_has_a_chapter_for_the_caster(site: Path, stage: str) -> None:
    assert (site / "caster" / f"{stage}.html").exists()


@pytest.mark.parametrize("stage", [*STAGES, *BESIDE])
def test_each_stage_has_a_chapter_for_the_engineer(site: Path, stage: str) -> None:
    engineer = site / "engineer" / f"{stage}.html"

    text = engineer.read_text(encoding="utf-8")
    for part in ("Equations", "Left out, and which way it errs", "Checked against"):
        assert f">{part}<" in text
    assert "math" in page(engineer).elements


@pytest.mark.parametrize("stage", BESIDE)
def test_what_holds_an_equation_is_there(stage: str) -> None:
    """Each row of *Where each is held* names files and tests, and they are there."""
    text = (DOCS / "engineer" / f"{stage}.md").read_text(encoding="utf-8")
    rows = text.partition("## Where each is held")[2].partition("\n## ")[0]
    files = re.findall(r"`([a-z_]+/\w+\.py)`", rows)
    tests = re.findall(r"`tests/([\w/]+\.py)::(\w+)`", rows)

    assert files
    assert [name for name in files if not (PACKAGE / name).exists()] == []
    assert [
        f"{path}::{name}"
        for path, name in tests
        if f"def {name}(" not in (ROOT / "tests" / path).read_text(encoding="utf-8")
    ] == []
    assert len(tests) >= rows.count("\n| ") - 2


def test_every_page_of_the_folder_is_on_the_site(site: Path) -> None:
    """No chapter is forgotten in the list of the first page."""
    written = {path.relative_to(DOCS).with_suffix(".html") for path in DOCS.rglob("*.md")}
    first = {(site / link).resolve() for link in page(site / "index.html").links}

    assert len(written) > 40
    assert {str(path) for path in written if not (site / path).exists()} == set()
    left_out = {path for path in written if (site / path).resolve() not in first}
    assert {str(path) for path in left_out} <= {"index.html"}
