"""Writes what is measured into docs/speed.md, and the picture into docs/speed.svg.

Nothing on that page is typed by hand that a machine can measure.  Each block stands
between two marks; the parts that are asked for are measured anew, all if none is named.
On a quiet machine, for other work makes wall times and memory rates false:

    python benchmarks/write_speed.py [machine] [sizes] [rates] [trials] [cells] [threads]
        [calls] [peers]
"""

import cProfile
import os
import platform
import pstats
import re
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path

import numpy as np

sys.path.insert(1, str(Path(__file__).parent.parent))

# isort: split
import bench_size
import peers_table
from bench_voxel import case, kernel_rates
from limits import trials
from rates import rates
from size_picture import drawn
from tests.freeze.voxel_cases import bronze, plain_mould
from tests.scan.make import record, tube_of

import pourcast
from pourcast.forecast.voxel_study import voxel_study
from pourcast.freeze.voxel_grid import build_grid
from pourcast.freeze.voxel_set_up import set_up
from pourcast.learn.solve import learn
from pourcast.scan.solve import solve as solve_scan

DOCS = Path(__file__).parent.parent / "docs"
PAGE, PICTURE = DOCS / "speed.md", DOCS / "speed.svg"


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return a table in Markdown."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def machine() -> str:
    """Return what it was measured on, and how busy that was."""
    import numba

    said = Path("/proc/cpuinfo")
    name = re.search(r"model name\s*: (.+)", said.read_text()) if said.exists() else None
    load = os.getloadavg()[0]
    quiet = "quiet" if load < 0.5 else "shared with other work: wall times and rates are too slow"
    return (
        f"Measured on {time.strftime('%d %B %Y')}: {name[1] if name else platform.processor()},"
        f" {os.cpu_count()} cores, Python {platform.python_version()}, numba"
        f" {numba.__version__}, numpy {np.__version__}. Load at the beginning {load:.1f} ({quiet})."
    )


def sizes() -> str:
    """Return cost against size, and draw the picture."""
    lines = list(bench_size.lines_of())
    PICTURE.write_text(drawn(lines), encoding="utf-8")
    rows = [
        [
            line.stage,
            line.of,
            f"{line.sizes[0]:,.0f} to {line.sizes[-1]:,.0f}",
            f"{1e3 * line.seconds[0]:.3g} to {1e3 * line.seconds[-1]:.3g} ms",
            f"{1e6 * line.seconds[-1] / line.sizes[-1]:.3g} µs",
            f"{line.slope():.2f}",
            f"{line.memory / 1e6:.1f} MB",
        ]
        for line in lines
    ]
    head = ["stage", "size counts", "sizes", "processor time", "for one, at the largest"]
    return table([*head, "slope, upper half", "most memory of numpy"], rows)


def rates_told() -> str:
    """Return what one core does."""
    return table(["one core, at best", ""], [[n, f"{r:.2f}"] for n, r in rates().items()])


def trials_told() -> str:
    """Return the trials with operations done twice."""
    rows = [
        [kernel, kind, str(count), f"{spent:.3f} ms", f"{100 * (ratio - 1):+.0f} %"]
        for kernel, kind, count, spent, ratio in trials()
    ]
    return table(["kernel", "done twice", "places", "a draw", "rise"], rows)


def cells() -> str:
    """Return the rates of the two kernels of the cells over the size of the grid."""
    network, button, block, start = case()
    rows = []
    for voxel in (4e-3, 2e-3, 1.4e-3, 1e-3):
        grid = build_grid(network, button, block, voxel)
        found = kernel_rates(set_up(grid, block, bronze(), plain_mould(), start, 0.7, 1))
        bytes_a_second = 12 * found.cells / found.runs
        rows.append(
            [
                f"{found.cells:,}",
                f"{8e-6 * found.cells:.1f} MB",
                f"{1e9 * found.runs / found.cells:.2f} ns",
                f"{bytes_a_second / 1e9:.0f} of {found.near / 1e9:.0f} GB/s",
                f"{100 * bytes_a_second / found.near:.0f} %",
                f"{found.with_edges / found.runs:.1f}",
                f"{found.metal_cells:,}",
                f"{1e9 * found.stage / found.metal_cells:.2f} ns",
            ]
        )
    head = ["mould cells", "two arrays", "a cell and pass", "of the triad at this size", "share"]
    more = ["with edges and wall, times that", "metal cells", "a metal cell and stage"]
    return table([*head, *more], rows)


def threads() -> str:
    """Return by how much a second thread is faster by the clock."""
    plan = bench_size.brush(40)
    rows = []
    for name, work in (
        ("whole forecast, 400 draws", lambda count: pourcast.forecast(plan, threads=count)),
        (
            "freezing in cells, a minute",
            lambda count: voxel_study(
                plan, voxel=1e-3, until=60.0, memory_limit=4_000_000_000, threads=count
            ),
        ),
    ):
        spent = []
        for count in (1, 2):
            taken = []
            for _ in range(4):
                begun = time.perf_counter()
                work(count)
                taken.append(time.perf_counter() - begun)
            spent.append(min(taken))
        rows.append([name, f"{spent[0]:.2f} s", f"{spent[1]:.2f} s", f"{spent[0] / spent[1]:.2f}"])
    return table(["", "one thread", "two", "times as fast"], rows)


def calls() -> str:
    """Return where the time goes in the stages that are plain Python over libraries."""
    height = np.linspace(0.0, 40.0, 301)
    mesh = record(tube_of(height, np.full(301, 3.0), 120))
    works: dict[str, Callable[[], object]] = {
        f"scan, {len(mesh.faces):,} faces": lambda: solve_scan(mesh, rng=np.random.default_rng(0)),
        "learning, 60 outcomes of two plans": partial(
            learn, bench_size.outcomes_of(60), bank=300, draws=1500
        ),
    }
    rows = [row for name, work in works.items() for row in _heaviest(name, work)]
    return table(["stage", "function", "calls", "own time, share"], rows)


def _heaviest(name: str, work: Callable[[], object]) -> Iterator[list[str]]:
    work()
    profile = cProfile.Profile(time.process_time)
    profile.runcall(work)
    found = pstats.Stats(profile).stats  # type: ignore[attr-defined]
    whole = sum(own for _, _, own, _, _ in found.values())
    heaviest = sorted(found.items(), key=lambda item: -item[1][2])[:6]
    for (file, _, function), (_, count, own, _, _) in heaviest:
        place = re.sub(r".*(site-packages|src)/", "", file)
        told = function if file == "~" else f"{place}: {function}"
        told = told.replace("<", "").replace(">", "").replace("|", "/")
        yield [name, f"`{told}`", f"{count:,}", f"{100 * own / whole:.0f} %"]


def peers() -> str:
    """Return what general solvers take at the same error, and on what machine."""
    rows = list(peers_table.rows())
    return machine() + "\n\n" + table(peers_table.HEAD, rows)


PARTS: dict[str, Callable[[], str]] = {
    "machine": machine,
    "sizes": sizes,
    "rates": rates_told,
    "trials": trials_told,
    "cells": cells,
    "threads": threads,
    "calls": calls,
    "peers": peers,
}


def main() -> None:
    """Measure the parts that are asked for and write each as it is there."""
    asked = sys.argv[1:] or list(PARTS)
    for name in asked:
        if name not in PARTS:
            raise SystemExit(f"there is no part {name!r}; there are {', '.join(PARTS)}")
        begun = time.perf_counter()
        told = PARTS[name]()
        page = PAGE.read_text(encoding="utf-8")
        mark, end = f"<!-- speed: {name} -->\n", "\n<!-- end -->"
        before, found, rest = page.partition(mark)
        if not found or end not in rest:
            raise SystemExit(f"{PAGE} has no place for {name!r}; it must hold {mark.strip()}")
        PAGE.write_text(before + mark + told + end + rest.partition(end)[2], encoding="utf-8")
        print(f"{name}: {time.perf_counter() - begun:.0f} s", flush=True)


if __name__ == "__main__":
    main()
