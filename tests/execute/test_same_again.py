"""The same again: what a forecast hangs on besides its inputs, and how far the rest moves it.

Held against another process of the same program, with other threads, another seed of
Python's hashing, and kernels that are compiled for another processor.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from pourcast.execute.carry import release
from pourcast.execute.made_with import made_with

ROOT = Path(__file__).parents[2]
EXAMPLES = ("larch_twig", "sea_holly")


def forecast(name: str, *, draws: int, threads: int, **given: str) -> dict[str, Any]:
    """Return a forecast as JSON, made by a process of its own, without its times."""
    words = ["-m", "pourcast", "forecast", f"examples/{name}.toml", "--json"]
    words += ["--draws", str(draws), "--threads", str(threads)]
    done = subprocess.run(
        [sys.executable, *words],
        cwd=ROOT,
        env=os.environ | given,
        capture_output=True,
        text=True,
        check=True,
    )
    tree: dict[str, Any] = json.loads(done.stdout)
    del tree["timing_s"]
    return tree


def counted(tree: dict[str, Any]) -> dict[str, float]:
    """Return every count of a forecast, in draws."""
    fill = tree["fill"]
    found = {"all": fill["chance_all"], **fill["outcomes"]}
    for part in fill["parts"]:
        found |= {f"{part['name']}, {key}": part[key] for key in ("chance_full", "chance_weakest")}
    return {what: share * tree["draws"] for what, share in found.items()}


def hours(tree: dict[str, Any]) -> dict[str, float]:
    """Return the hours of dry and clean."""
    spans = {what: tree["burnout"][what] for what in ("dry_h", "clean_h")}
    return {f"{what} {end}": hour for what, span in spans.items() for end, hour in span.items()}


@pytest.mark.parametrize("name", EXAMPLES)
def test_another_process_with_other_threads_says_the_same_to_the_last_digit(name: str) -> None:
    # A process that compiles the kernels itself may round otherwise: docs/same-again.md.
    forecast(name, draws=20, threads=1)

    one = forecast(name, draws=60, threads=1, PYTHONHASHSEED="1")
    other = forecast(name, draws=60, threads=3, PYTHONHASHSEED="2")

    assert one == other


def test_what_it_was_made_with_is_told() -> None:
    """Versions are those that the libraries tell of themselves."""
    import numba
    import numpy as np

    said = made_with()

    assert (said["numpy"], said["numba"]) == (np.__version__, numba.__version__)
    assert said["python"] == ".".join(str(part) for part in sys.version_info[:3])
    assert said["release_sha256"] == release()
    assert re.fullmatch(r"[\w-]+", said["processor"])


@pytest.fixture(scope="module")
def cold(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder for compiled kernels that holds none yet."""
    return tmp_path_factory.mktemp("kernels")


@pytest.mark.long
@pytest.mark.parametrize("name", EXAMPLES)
def test_kernels_for_another_processor_give_the_same_chances(name: str, cold: Path) -> None:
    """Kernels for any x86-64: no AVX, no fused steps, and compiled in the same process.

    Found, 400 pours each: no count moved at all; hours by 7 in 10 000 at most.  Let pass: one
    draw for each count, for a draw may stand on an edge, and 1 % of an hour, ten times what was
    found: the steps of the burnout hang on limits that a last bit can cross.
    """
    here = forecast(name, draws=200, threads=1)
    other = forecast(
        name, draws=200, threads=2, NUMBA_CPU_NAME="generic", NUMBA_CACHE_DIR=str(cold)
    )

    assert other["made_with"]["processor"] == "generic" != here["made_with"]["processor"]
    assert other["inputs_sha256"] == here["inputs_sha256"]
    assert counted(other) == pytest.approx(counted(here), abs=1.0)
    assert hours(other) == pytest.approx(hours(here), rel=0.01)
