"""What pourcast leans on: each library has its reason written down, and a licence that fits MIT.

A permissive licence lets what uses it stay under MIT (Open Source Initiative, list of
approved licences, from memory).  What is under another one is named here with the reason.
No list of known faults can be asked, since nothing here goes to the network.
"""

import importlib.metadata
import re
import tomllib
from itertools import chain
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
HANDED_OUT = ("scan", "probe", "cluster", "table", "plot", "shared")

PERMISSIVE = re.compile(
    r"\b(MIT|BSD|0BSD|Apache|ISC|PSF|Python Software Foundation|Zlib|CC0|Anthony Scopatz)", re.I
)
OTHERS = {
    "libigl": "MPL-2.0: its own files stay under it; we only call them",
    "psycopg": "LGPL-3.0: loaded from its own wheel, which a user may exchange",
    "psycopg-binary": "LGPL-3.0: as psycopg",
}


def _plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def _licence(name: str) -> str:
    told = importlib.metadata.metadata(name)
    said = [*(told.get_all("License-Expression") or []), *(told.get_all("Classifier") or [])]
    said = [line for line in said if "::" not in line or line.startswith("License")]
    said += [line[:80] for line in told.get_all("License") or []]
    return "; ".join(part for part in said if part)


def _all_needed() -> dict[str, str]:
    """Return every library that a full installation loads, with its licence."""
    found: dict[str, str] = {}
    asked: list[tuple[str, tuple[str, ...]]] = [("pourcast", HANDED_OUT)]
    tried = set()
    while asked:
        name, extras = asked.pop()
        if (name, extras) in tried:
            continue
        tried.add((name, extras))
        found[_plain(name)] = _licence(name)
        for line in importlib.metadata.requires(name) or []:
            need = Requirement(line)
            wanted = need.marker is None or any(
                need.marker.evaluate({"extra": extra}) for extra in (extras or ("",))
            )
            if wanted:
                asked.append((need.name, tuple(sorted(need.extras))))
    return found


def test_licences_fit() -> None:
    """None is under a licence that would bind what is handed out, but those named above."""
    needed = _all_needed()

    strange = {
        name: licence
        for name, licence in needed.items()
        if name not in OTHERS and not PERMISSIVE.search(licence)
    }

    assert strange == {}
    assert len(needed) > 30
    assert set(OTHERS) <= set(needed)


@pytest.mark.parametrize(
    "line", [*PROJECT["dependencies"], *chain(*PROJECT["optional-dependencies"].values())]
)
def test_each_has_its_reason(line: str) -> None:
    """House rule: a library enters with its reason in docs/dependencies.md."""
    name = Requirement(line).name
    if name == "pourcast":
        return
    reasons = (ROOT / "docs" / "dependencies.md").read_text("utf-8")

    assert re.search(rf"\b{re.escape(name)}\b", reasons, re.IGNORECASE)


def test_installed_versions_are_the_ones_asked_for() -> None:
    """Every library and what it needs in turn fits together, as pip's own check has it."""
    wrong = []
    for name in _all_needed():
        for line in importlib.metadata.requires(name) or []:
            need = Requirement(line)
            if need.marker is not None and not need.marker.evaluate({"extra": ""}):
                continue
            if not need.specifier.contains(importlib.metadata.version(need.name), prereleases=True):
                wrong.append(f"{name} needs {line}")

    assert wrong == []


@pytest.mark.parametrize(
    "line", [*PROJECT["dependencies"], *chain(*PROJECT["optional-dependencies"].values())]
)
def test_each_names_the_oldest_version_and_no_newest(line: str) -> None:
    """House rule: a lower bound that was tried, and no lid that keeps mended faults out."""
    need = Requirement(line)
    if need.name == "pourcast":
        return

    assert {part.operator for part in need.specifier} == {">="}


def test_no_library_is_fetched_from_an_address() -> None:
    """Every name is looked up where the installer looks; none is bound to a place."""
    lines = [*PROJECT["dependencies"], *chain(*PROJECT["optional-dependencies"].values())]

    assert [line for line in lines if Requirement(line).url] == []
