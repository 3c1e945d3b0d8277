"""About: what is there is named with the version that its own metadata gives.

Held against importlib.metadata of Python's own library.
"""

import importlib.metadata
import json

import pytest

from pourcast import __version__
from tests.cli.conftest import Typed


def test_versions_are_those_that_are_installed(typed: Typed) -> None:
    said = json.loads(typed("about", "--json").out)

    assert said["version"] == __version__
    assert said["libraries"]["numpy"] == importlib.metadata.version("numpy")
    assert "pourcast" not in said["libraries"]
    assert "trimesh" in said["extras"]["scan"]
    assert said["values"] > 600
    assert said["made_with"]["numba"] == importlib.metadata.version("numba")
    assert len(said["made_with"]["release_sha256"]) == 64


def test_library_that_is_not_there_is_missing(
    typed: Typed, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made to fail: one library is hidden."""
    known = importlib.metadata.version

    def hidden(name: str) -> str:
        if name == "trimesh":
            raise importlib.metadata.PackageNotFoundError(name)
        return known(name)

    monkeypatch.setattr(importlib.metadata, "version", hidden)

    said = typed("about")

    assert said.status == 0
    assert "[scan] is not whole: trimesh missing." in said.out
