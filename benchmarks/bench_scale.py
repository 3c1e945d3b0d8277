"""What a second worker is worth, what a task costs, and what a thousand workers would do.

MEASURED, in this one run on this one machine: the time of blocks of pours and of cells of
a sweep on one worker and on more, by threads and by worker processes, and the time of
tasks that do nothing.  The arguments say on how many workers; left out: on two.  The least
of the runs counts.

SIMULATED, from those times alone: a sweep on up to a thousand workers.  One scheduler
gives tasks out one after another and takes each result, which costs it the time of an
empty task; a worker asks for its next task when the last is done.  Not in it: the network,
machines that differ, and workers that are lost.
"""

import heapq
import math
import os
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.execute.works import told

from pourcast.execute import Executor, Threads
from pourcast.execute.cluster import Cluster
from pourcast.forecast.many import BLOCK, Work, follow
from pourcast.forecast.prepare import prepare
from pourcast.sheet import read_plan
from pourcast.sweep.model import Sweep
from pourcast.sweep.over import read_over
from pourcast.sweep.solve import row_of

RUNS = 2
BLOCKS = 2  # for each worker of the largest number
EMPTY = 2000
OVER = ("flask.temperature_C=450:725:25", "assist.vacuum_kPa=30,45,60,85")
CELLS = 1_000_000


def sheet() -> str:
    """Return a piece of some 500 segments whose sheet does not say how large the kiln is."""
    folder = Path(__file__).parent.parent / "examples"
    text = (folder / "sea_holly.toml").read_text(encoding="utf-8")
    before, rest = text.split("[kiln]\n")
    text = before + "[button]\n" + rest.split("[button]\n")[1]
    return text.replace("count = 24", "count = 48")


def best(work: Callable[[], object]) -> float:
    """Return the least time of some runs [s]."""
    took = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        work()
        took.append(time.perf_counter() - begun)
    return min(took)


def measured(name: str, one: float, many: float, workers: int) -> None:
    """Print what more workers are worth."""
    print(
        f"  {name:<36} {one:7.2f} s on 1, {many:7.2f} s on {workers:>2}: "
        f"{one / many:5.2f} times as fast, {100 * one / many / workers:3.0f} % of linear",
        flush=True,
    )


def simulated(durations: np.ndarray, empty: float, workers: int, tasks: int) -> float:
    """Return the time of some tasks on some workers [s]; a heap of when each is free."""
    rng = np.random.default_rng(0)
    drawn = rng.choice(durations, tasks)
    free = [0.0] * workers
    heapq.heapify(free)
    given, last = 0.0, 0.0
    for duration in drawn.tolist():
        given = max(given, free[0]) + empty
        done = max(given, heapq.heappop(free)) + duration
        heapq.heappush(free, done)
        last = max(last, done)
    return last


def _empty(hands: Executor) -> None:
    for _ in hands.map(told, "", range(EMPTY)):
        pass


def main() -> None:
    """Print what was measured, and then what was simulated."""
    text = sheet()
    plan = read_plan(text)
    ready = prepare(plan, None, BLOCK, 0)
    work = Work(
        plan=plan,
        calibration=None,
        draws=1000 * BLOCK,
        seed=0,
        metal=ready.metal,
        ranked=tuple(ready.values),
        steps=None,
        curve=None,
    )
    axes = tuple(read_over(each, plan) for each in OVER)
    cells = Sweep(text=text, axes=axes, draws=400, seed=0)
    follow(work, 0)
    row_of(cells, 0)
    print(
        f"{ready.network.length.size} segments, blocks of {BLOCK} pours, "
        f"{cells.cells} cells of 400; load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores"
    )

    counts = [int(word) for word in sys.argv[1:]] or [2]

    def blocks(hands: Executor) -> float:
        return best(lambda: list(hands.map(follow, work, range(BLOCKS * max(counts)))))

    def sweep(hands: Executor) -> float:
        return best(lambda: list(hands.map(row_of, cells, range(cells.cells))))

    print("MEASURED")
    alone = blocks(Threads(1)), sweep(Threads(1))
    for count in counts:
        many = blocks(Threads(count)), sweep(Threads(count))
        measured("blocks of pours, threads", alone[0], many[0], count)
        measured("cells of a sweep, threads", alone[1], many[1], count)
    with Cluster(workers=1) as hands:
        list(hands.map(row_of, cells, range(1)))
        single = blocks(hands), sweep(hands)
    empty = 0.0
    for count in counts:
        with Cluster(workers=count) as hands:
            list(hands.map(row_of, cells, range(2 * count)))
            many = blocks(hands), sweep(hands)
            empty = best(partial(_empty, hands)) / EMPTY
        measured("blocks of pours, worker processes", single[0], many[0], count)
        measured("cells of a sweep, worker processes", single[1], many[1], count)
        print(f"  an empty task with {count} workers: {1e3 * empty:.2f} ms of the one scheduler")

    each = []
    for cell in range(cells.cells):
        begun = time.perf_counter()
        row_of(cells, cell)
        each.append(time.perf_counter() - begun)
    durations = np.array(each)
    mean = float(durations.mean())
    print(f"SIMULATED: a million cells of {mean:.2f} s; first one cell a task, then 16 in one")
    for workers in (1, 2, 10, 100, 300, 1000):
        said = []
        for packed in (1, 16):
            tasks = min(CELLS // packed, 50 * workers + 2000)
            packs = durations if packed == 1 else np.array(
                [np.random.default_rng(k).choice(durations, packed).sum() for k in range(500)]
            )  # fmt: skip
            took = simulated(packs, empty, workers, tasks)
            share = tasks * packed * mean / took / workers
            hours = CELLS * mean / (workers * share) / 3600.0
            said.append(f"{100 * share:3.0f} % of linear, {hours:8.1f} h")
        print(f"  {workers:>5} workers: {said[0]}   {said[1]}")
    print(f"  one scheduler is full at about {math.floor(mean / empty)} workers of one cell a task")


if __name__ == "__main__":
    main()
