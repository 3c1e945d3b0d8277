"""What the documents promise is what the program has."""

import re
import tomllib
from pathlib import Path

import pytest

from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, TOP
from pourcast.sheet.takes import Keys
from tests.outside.write_checks import with_summary

ROOT = Path(__file__).parents[1]
DOCUMENTS = (
    "README.md",
    "CONTRIBUTING.md",
    "CHANGELOG.md",
    "SECURITY.md",
    *sorted(str(path.relative_to(ROOT)) for path in (ROOT / "docs").rglob("*.md")),
)

TITLES: dict[str, Keys] = {
    "Above the first section": TOP,
    **{f"[{name}]": keys for name, keys in SECTIONS.items()},
    **{f"[[{name}]]": keys for name, keys in LISTS.items()},
}
"""Heading of the page of the piece file: the keys that stand under it."""


def _keys_of(text: str) -> set[str]:
    return set(re.findall(r"^\| `(\w+)` \|", text, re.M))


def _sections(document: str) -> dict[str, str]:
    parts = re.split(r"^## (.+)$", document, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


@pytest.mark.parametrize("title", list(TITLES))
def test_page_of_the_piece_file_lists_each_key_that_is_read(title: str) -> None:
    """The keys of the reader and of its page are the same, section by section."""
    page = _sections((ROOT / "docs/piece-file.md").read_text(encoding="utf-8"))
    expected = set(TITLES[title])
    if title == "[kiln]":
        expected |= set(KILN_STEP)

    assert _keys_of(page[title]) == expected


def test_each_dependency_of_a_forecast_has_its_reason() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    page = _sections((ROOT / "docs/dependencies.md").read_text(encoding="utf-8"))
    needed = {re.split(r"[\[<>=]", line)[0] for line in project["dependencies"]}

    explained = set(re.findall(r"^\| ([\w-]+) \|", page["To forecast"], re.M)) - {"library"}

    assert explained == needed


def test_readme_has_a_place_for_the_table_of_outside_numbers() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")

    assert "| stage | checks |" in with_summary(readme, [])


@pytest.mark.parametrize("document", DOCUMENTS)
def test_links_between_documents_lead_somewhere(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")

    links = re.findall(r"\]\((?!\w+:)([^)#]+)\)", text)

    assert [link for link in links if not (ROOT / document).parent.joinpath(link).exists()] == []


@pytest.mark.parametrize("document", DOCUMENTS)
def test_no_document_calls_an_act_safe(document: str) -> None:
    """House rule: the precaution is named, and nothing is called safe."""
    text = (ROOT / document).read_text(encoding="utf-8")

    assert re.findall(r"\b(?:is|are|now|quite) safe\b", text, re.I) == []


def test_the_package_says_that_it_is_typed() -> None:
    """PEP 561: a package whose types count for others holds an empty file py.typed."""
    assert (ROOT / "src" / "pourcast" / "py.typed").read_text() == ""
