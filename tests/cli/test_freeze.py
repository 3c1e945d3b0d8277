"""Freezing in cells as it is typed: what is told, a clean stop, and cells that do not fit."""

import json
from pathlib import Path

import numpy as np
import pytest

from pourcast.cli import freeze as door
from tests.cli.conftest import Typed

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "sea_holly.toml")
COARSE = ("--voxel", "3mm", "--minutes", "1.5", "--threads", "1")


def test_freezing_is_told_with_the_network_beside_it(typed: Typed, tmp_path: Path) -> None:
    said = typed("freeze", EXAMPLE, *COARSE, "--page", "f.html", "--save", "f.npz")

    assert said.status == 0
    assert "By the network" in said.out
    assert "cells of 3" in said.out
    page = (tmp_path / "f.html").read_text(encoding="utf-8")
    assert "The block cut through its axis" in page
    assert "<script" not in page
    with np.load(tmp_path / "f.npz") as kept:
        assert kept.files
    assert (tmp_path / "f.npz").stat().st_size < 5_000_000


def test_json_keeps_heat_and_holds_the_same(typed: Typed) -> None:
    tree = json.loads(typed("freeze", EXAMPLE, *COARSE, "--json").out)

    assert tree["schema"] == "pourcast.freeze/1"
    assert not tree["partial"]
    assert abs(tree["energy_error"]) < 1e-6
    assert {curve["name"] for curve in tree["cooling"]["curves"]} >= {"button", "head"}


def test_a_run_that_is_stopped_keeps_what_there_is_and_says_so(
    typed: Typed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(door._Stop, "goes_on", lambda _, share: share < 0.3)

    said = typed("freeze", EXAMPLE, *COARSE)

    assert said.status == 0
    assert "Stopped after" in said.out


@pytest.mark.parametrize(
    ("side", "told"),
    [("0.02mm", "or more here. It would"), ("0 mm", "voxel"), ("a bit", "a bit"), ("-1mm", "-1")],
)
def test_cells_that_cannot_be_are_refused_before_the_start(
    typed: Typed, side: str, told: str
) -> None:
    said = typed("freeze", EXAMPLE, "--voxel", side)

    assert said.status == 2
    assert told in said.err
