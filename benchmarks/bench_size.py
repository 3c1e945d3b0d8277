"""How the cost of each stage grows with the size of what it is given, over two decades.

Prints, for each stage, processor time at each size, the slope of its logarithm over the
upper half of the sizes (1: twice as large costs twice as much), and the most memory that
numpy held at the largest size.  The least of three runs counts; kernels are compiled
before.  With ``--svg FILE`` the lines are drawn as well (benchmarks/size_picture.py).
"""

import argparse
import sys
import tracemalloc
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from limits import work_of
from rates import least
from size_picture import Line, drawn
from tests.learn.studios import plans
from tests.scan.make import record, tube_of

import pourcast
from pourcast.finish.solve import solve as solve_finish
from pourcast.forecast.burn import burn, planned_curve
from pourcast.forecast.document import document
from pourcast.forecast.finish_case import finish_case
from pourcast.forecast.freeze_case import freeze_case
from pourcast.forecast.prepare import case_of, prepare
from pourcast.forecast.slurry_case import slurry
from pourcast.forecast.voxel_study import voxel_study
from pourcast.freeze.solve import solve as solve_freeze
from pourcast.learn.model import PartSeen, PourSeen
from pourcast.learn.solve import learn
from pourcast.page.render import render
from pourcast.piece.network import build
from pourcast.pour.solve import solve as solve_pour
from pourcast.scan.solve import solve as solve_scan
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

RUNS = 3
DRAWS = 20
SPINES = (4, 12, 40, 120, 400)
"""Of a brush; each has about eight segments."""

BRUSH = """\
name = "Brush"
invented = true
[metal]
alloy = "C87300"
pour_temperature_C = 1120
[flask]
inside_diameter_mm = 100
height_mm = 140
wall = "perforated"
temperature_C = 600
[assist]
kind = "vacuum"
vacuum_kPa = 70
[kiln]
litres = 60
kW = 3
control = "programmed"
[[kiln.step]]
to_C = 150
ramp_C_per_h = 100
hold_h = 3
[[kiln.step]]
to_C = 700
ramp_C_per_h = 150
hold_h = 6
[[kiln.step]]
to_C = 600
ramp_C_per_h = 100
hold_h = 1
[button]
diameter_mm = 34
height_mm = 20
gate_diameter_mm = 8
[[part]]
name = "stem"
shape = "rod"
length_mm = 60
diameter_mm = [6, 4]
material = "beeswax"
"""
SPINE = """\
[[part]]
name = "spine {number}"
on = "stem"
shape = "rod"
length_mm = 20
diameter_mm = 1.2
at = [0.1, 0.95]
count = {count}
angle_deg = 60
turn_step_deg = 137.5
material = "beeswax"
"""


def brush(spines: int, parts: int = 1) -> Plan:
    """Return the plan of a stem with spines, shared out over some parts."""
    each = max(1, spines // parts)
    text = BRUSH + "".join(SPINE.format(number=k, count=each) for k in range(parts))
    return read_plan(text)


def measure(line: Line, size: float, work: Callable[[], object], runs: int = RUNS) -> None:
    """Add one size to a line."""
    line.sizes.append(size)
    line.seconds.append(max(least(work, runs), 1e-6))


def with_memory(line: Line, work: Callable[[], object]) -> None:
    """Note the most memory that a run holds."""
    tracemalloc.start()
    work()
    line.memory = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()


def over_segments() -> Iterator[Line]:
    """Yield the stages whose size is the number of segments."""
    lines = {
        name: Line(name, f"segments, {DRAWS} draws")
        for name in ("network", "slurry", "pour", "freeze", "finish")
    }
    works: dict[str, Callable[[], object]] = {}
    for spines in SPINES:
        plan = brush(spines)
        ready = prepare(plan, None, DRAWS, 0)
        case = case_of(plan, ready, None)
        poured = solve_pour(ready.network, case)
        frost = freeze_case(ready, case, covered=False)
        done = finish_case(plan, ready, case)
        works = {
            "network": partial(build, plan.piece),
            "slurry": partial(slurry, plan, ready, case),
            "pour": partial(solve_pour, ready.network, case),
            "freeze": partial(solve_freeze, ready.network, frost, poured),
            "finish": partial(solve_finish, ready.network, ready.measures, ready.metal, done),
        }
        for name, work in works.items():
            measure(lines[name], ready.network.length.size, work)
    for name, work in works.items():
        with_memory(lines[name], work)
    yield from lines.values()


def over_parts() -> Iterator[Line]:
    """Yield the stages whose size is the number of parts."""
    lines = [Line("sheet", "parts"), Line("page", "parts"), Line("document", "parts")]
    for parts in (2, 6, 20, 60, 200):
        text = BRUSH + "".join(SPINE.format(number=k, count=1) for k in range(parts))
        said = pourcast.forecast(read_plan(text), draws=DRAWS)
        works: tuple[Callable[[], Any], ...] = (
            partial(read_plan, text),
            partial(render, said),
            partial(document, said, version="0"),
        )
        for line, work in zip(lines, works, strict=True):
            measure(line, parts + 1, work)
    for line, work in zip(lines, works, strict=True):
        with_memory(line, work)
    yield from lines


def over_draws() -> Iterator[Line]:
    """Yield burnout and whole forecast over the number of draws."""
    plan = brush(12)
    whole, burnt = Line("whole forecast", "draws"), Line("burnout", "draws")
    for draws in (10, 32, 100, 320, 1000):
        ready = prepare(plan, None, draws, 0)
        curve = planned_curve(plan, ready)
        measure(burnt, draws, partial(burn, plan, ready, curve), 1)
        measure(whole, draws, partial(pourcast.forecast, plan, draws=draws), 1)
    with_memory(whole, lambda: pourcast.forecast(plan, draws=1000))
    with_memory(burnt, lambda: burn(plan, prepare(plan, None, 1000, 0), curve))
    for kernel in ("day", "fate"):
        alone = Line(f"{kernel} alone", "draws")
        for draws in (10, 32, 100, 320, 1000):
            work = work_of(kernel, draws)
            measure(alone, draws, work, 1)
        with_memory(alone, work)
        yield alone
    yield burnt
    yield whole


def over_cells() -> Iterator[Line]:
    """Yield the freezing in cells: one minute of it."""
    plan = brush(12)
    line = Line("freeze in cells", "cells, a minute")

    def run(side: float) -> int:
        study = voxel_study(plan, voxel=side, until=60.0, memory_limit=4_000_000_000)
        return study.fields.cell_count

    for side in (4e-3, 2.8e-3, 1.9e-3, 1.3e-3, 0.9e-3):
        measure(line, run(side), partial(run, side), 1)
    with_memory(line, lambda: run(0.9e-3))
    yield line


def over_faces() -> Iterator[Line]:
    """Yield the reading of a scan over its faces."""
    line = Line("scan", "faces")
    for rings, sides in ((40, 24), (80, 48), (160, 72), (300, 120), (640, 180)):
        height = np.linspace(0.0, 40.0, rings + 1)
        mesh = record(tube_of(height, np.full(rings + 1, 3.0), sides))
        rng = np.random.default_rng(0)
        measure(line, len(mesh.faces), partial(solve_scan, mesh, rng=rng), 1)
    with_memory(line, lambda: solve_scan(mesh, rng=np.random.default_rng(0)))
    yield line


def outcomes_of(count: int) -> list[PourSeen]:
    """Return outcomes of two plans by turns, one in three of them short."""
    both = plans()[:2]
    return [
        PourSeen(
            name=f"pour {number}",
            plan=both[number % 2],
            parts=tuple(
                PartSeen(name=part, full=number % 3 > 0) for part in ("stem", "floret", "twig")
            ),
        )
        for number in range(count)
    ]


def over_outcomes() -> Iterator[Line]:
    """Yield learning over the outcomes, with 300 pours of each plan and 1500 draws."""
    line = Line("learning", "outcomes, two plans")
    for outcomes in (2, 6, 20, 60, 200):
        work = partial(learn, outcomes_of(outcomes), bank=300, draws=1500)
        measure(line, outcomes, work, 1)
    with_memory(line, work)
    yield line


def lines_of() -> Iterator[Line]:
    """Yield all lines, each when it is there."""
    yield from over_parts()
    yield from over_segments()
    yield from over_draws()
    yield from over_cells()
    yield from over_faces()
    yield from over_outcomes()


def told(line: Line) -> str:
    """Return a line of the table."""
    costs = "  ".join(
        f"{size:.0f}: {1e3 * seconds:.3g}"
        for size, seconds in zip(line.sizes, line.seconds, strict=True)
    )
    memory = f"{line.memory / 1e6:.1f} MB"
    return f"{line.stage:<16} {line.of:<24} slope {line.slope():5.2f}  {memory:>9}   ms at {costs}"


def main() -> None:
    """Print the table, line by line as it comes."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--svg", type=Path)
    asked = parser.parse_args()
    print("Processor time by size; slope over the upper half; memory of numpy at the largest")
    found = []
    for line in lines_of():
        found.append(line)
        print(told(line), flush=True)
    if asked.svg:
        asked.svg.write_text(drawn(found), encoding="utf-8")


if __name__ == "__main__":
    main()
