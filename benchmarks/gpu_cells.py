"""Freezing in cells on a graphics card: whole steps, measured beside the processor."""

import json
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
from bench_voxel import case
from gpu_card import cuda
from gpu_cell_kernels import (
    clear,
    close,
    conductances,
    faces,
    give,
    metal_stage,
    mould_edge,
    mould_runs,
    wall_of,
)
from tests.freeze.voxel_cases import bronze, plain_mould

from pourcast.freeze.voxel_grid import build_grid
from pourcast.freeze.voxel_march import SET_EVERY, advance
from pourcast.freeze.voxel_metal import stage_table, stages_for
from pourcast.freeze.voxel_set_up import set_up
from pourcast.freeze.voxel_solve import FIRST_STEP, GROWTH
from pourcast.freeze.voxel_state import March

CELLS_BLOCK = 256


def groups(cells: np.ndarray) -> np.ndarray:
    """Return where each run of like places begins, and the end."""
    change = np.flatnonzero(np.diff(cells.astype(np.int64)) != 0) + 1
    return np.concatenate([[0], change, [cells.size]]).astype(np.int64)


class OnCard:
    """A march on the card; stacks are left out, so there must be none."""

    def __init__(self, march: March) -> None:
        if march.graph.shells.first.size:
            raise ValueError("the piece has stacks")
        lists, put = march.lists, cuda.to_device
        self.march, self.time, self.steps, self.stages = march, march.time, 0, 0
        self.u, self.v, self.f = put(march.u), put(march.v), put(march.f)
        self.g = put(march.f)
        self.heat, self.base = put(march.heat), put(march.cells.base)
        self.d1, self.d2 = put(march.d1), put(march.d2)
        self.passed, self.times, self.levels = (
            put(march.passed),
            put(march.times),
            put(march.levels),
        )
        self.mould, self.metal = put(march.mould_row), put(march.metal_row)
        self.k, self.top_kind = put(march.coefficients), put(march.top_kind)
        self.first = put(lists.run_first.astype(np.int64))
        self.last = put(lists.run_last.astype(np.int64))
        self.edge = put(lists.edge)
        self.open_to = put(np.ascontiguousarray(lists.edge_open.T))
        self.wall_cell, self.wall = put(lists.wall_cell), put(lists.wall)
        wall_group = groups(lists.wall_cell)
        self.wall_group = put(wall_group)
        self.wall_warm = put(march.wall_temperature)
        self.lost = put(np.zeros(wall_group.size))
        self.face_skin, self.face_cell = put(lists.face_skin), put(lists.face_cell)
        self.facing, self.face = put(lists.facing), put(march.face)
        skins = lists.skin.size
        self.skin_first = put(
            np.searchsorted(lists.face_skin, np.arange(skins + 1)).astype(np.int64)
        )
        top_at = np.full(skins, -1)
        top_at[lists.top] = np.arange(lists.top.size)
        self.top, self.top_at, self.rate = put(lists.top), put(top_at), put(march.top_rate)
        self.gone = put(np.zeros(max(1, lists.top.size)))
        self.nought = put(np.zeros(8, dtype=np.int64))
        order = np.argsort(lists.face_cell, kind="stable")
        self.face_group, self.order = put(groups(lists.face_cell[order])), put(order)
        skin_of = np.full(lists.metal.size, -1)
        skin_of[lists.skin] = np.arange(skins)
        self.flat, self.skin_of = put(lists.metal), put(skin_of.astype(np.int32))
        self.beside, self.table = put(march.cells.beside), put(march.cells.table)
        self.warm, self.sums = put(march.cells.skin_temperature), put(march.cells.skin_sum)
        self.out = put(march.cells.skin_out)
        self.left = put(np.zeros(1, dtype=np.int32))

    def advance(self, step: float, parts: dict[str, float] | None = None) -> None:
        """Make one step; with ``parts``, add the seconds of each."""
        m, lists = self.march, self.march.lists
        row, layer = lists.shape[2], lists.shape[1] * lists.shape[2]

        def launch(name: str, kernel: Any, count: int, *given: Any) -> None:
            if count == 0:
                return
            if parts is None:
                kernel[-(-count // CELLS_BLOCK), CELLS_BLOCK](*given)
                return
            cuda.synchronize()
            begun = time.perf_counter()
            kernel[-(-count // CELLS_BLOCK), CELLS_BLOCK](*given)
            cuda.synchronize()
            parts[name] = parts.get(name, 0.0) + time.perf_counter() - begun

        faces_count = lists.face_cell.size
        if self.steps % SET_EVERY == 0:
            launch(
                "conductances", conductances, max(lists.wall_cell.size, faces_count), self.u,
                self.wall_cell, self.wall, self.mould, self.metal, self.face_skin,
                self.face_cell, self.facing, self.warm, self.face,
            )  # fmt: skip
        launch(
            "faces", faces, lists.skin.size, self.u, self.mould, self.nought, self.skin_first,
            self.face_cell, self.top_at, self.top_kind, self.warm, self.face, self.out, self.rate,
        )  # fmt: skip
        r = np.float32(step / m.voxel**2)
        if parts is not None:
            cuda.synchronize()
        begun = time.perf_counter()
        mould_runs[(-(-layer // CELLS_BLOCK), lists.shape[0] - 2), CELLS_BLOCK](
            self.u, self.v, r, row, layer, self.first, self.last, self.k
        )
        if parts is not None:
            cuda.synchronize()
            parts["runs"] = parts.get("runs", 0.0) + time.perf_counter() - begun
        launch(
            "edge", mould_edge, lists.edge.size, self.u, self.v, r, row, layer, self.edge,
            self.open_to, self.k,
        )  # fmt: skip
        launch(
            "wall", wall_of, self.wall_group.size - 1, step, self.u, self.v, self.wall_cell,
            self.wall, self.wall_group, self.wall_warm, self.mould, self.lost,
        )  # fmt: skip
        launch("clear", clear, max(m.heat.size, lists.skin.size), self.d1, self.d2, self.sums)
        stages = stages_for(step, m.metal_limit)
        f4, inverse = np.float32, np.float32(1.0 / m.cells.metal[0])
        for mu, nu, weight, share in stage_table(stages, step):
            launch(
                "stages", metal_stage, m.heat.size, f4(mu), f4(nu), f4(weight / m.voxel**2),
                share, m.voxel, inverse, row, layer, self.flat, self.skin_of, self.beside,
                self.base, self.d1, self.d2, self.f, self.g, self.warm, self.sums, self.out,
                self.table,
            )  # fmt: skip
            self.d1, self.d2, self.f, self.g = self.d2, self.d1, self.g, self.f
        launch(
            "close", close, m.heat.size, self.time, step, self.heat, self.d1, self.base,
            self.levels, self.passed, self.times, self.left,
        )  # fmt: skip
        launch(
            "give", give, max(faces_count, lists.top.size), step, self.v, self.mould,
            self.face_skin, self.face_cell, self.order, self.face_group, self.face, self.top,
            self.rate, self.sums, self.gone,
        )  # fmt: skip
        self.u, self.v = self.v, self.u
        self.time += step
        self.steps += 1
        self.stages += stages

    def rates(self, step: float, card_triad: float, launches: int = 100) -> dict[str, float]:
        """Return the rates of the two large kernels, many launches in one go."""
        m, lists = self.march, self.march.lists
        row, layer = lists.shape[2], lists.shape[1] * lists.shape[2]
        r = np.float32(1e-3 * step / m.voxel**2)
        grid = -(-layer // CELLS_BLOCK), lists.shape[0] - 2
        runs = int((lists.run_last.astype(int) - lists.run_first.astype(int)).sum())

        def mould() -> None:
            mould_runs[grid, CELLS_BLOCK](
                self.u, self.v, r, row, layer, self.first, self.last, self.k
            )

        f4, inverse = np.float32, np.float32(1.0 / m.cells.metal[0])

        def stage() -> None:
            metal_stage[-(-m.heat.size // CELLS_BLOCK), CELLS_BLOCK](
                f4(1.0), f4(0.0), f4(0.0), 0.0, m.voxel, inverse, row, layer, self.flat,
                self.skin_of, self.beside, self.base, self.d1, self.d2, self.f, self.g,
                self.warm, self.sums, self.out, self.table,
            )  # fmt: skip

        said = {}
        for name, work, moved in (("runs", mould, 8 * runs), ("stage", stage, 40 * m.heat.size)):
            work()
            before, after = cuda.event(), cuda.event()
            before.record()
            begun = time.perf_counter()
            for _ in range(launches):
                work()
            asked = (time.perf_counter() - begun) / launches
            after.record()
            after.synchronize()
            each = 1e-3 * cuda.event_elapsed_time(before, after) / launches
            said[f"{name}_ms"], said[f"{name}_launch_ms"] = 1e3 * each, 1e3 * asked
            said[f"{name}_bytes_s"] = moved / each
            said[f"{name}_share_of_triad"] = moved / each / card_triad
        return said


def marched(march: March, advance_one: Callable[[float], None], until: float, most: int) -> float:
    """Return the seconds that some steps take, from the start."""
    step, made = min(FIRST_STEP, march.longest), 0.0
    begun = time.perf_counter()
    for _ in range(most):
        if made >= until:
            break
        advance_one(step)
        made += step
        step = min(step * GROWTH, march.longest)
    return time.perf_counter() - begun


def freezing(
    voxel: float, until: float, most: int, cores: int, card_triad: float, *, compile_first: bool
) -> Any:
    """Return all that is measured of one casting in cells."""
    network, button, block, start = case()
    grid = build_grid(network, button, block, voxel)

    def anew(threads: int) -> March:
        return set_up(grid, block, bronze(), plain_mould(), start, 0.7, threads)

    march, card = anew(1), OnCard(anew(1))
    lists = march.lists
    kinds = np.bincount(march.kind, minlength=4)
    cells = int(kinds[1] + kinds[2])
    said: dict[str, Any] = {"cells": cells, "boxes": march.u.size, "metal": lists.metal.size}
    if compile_first:
        compiling = time.perf_counter()
        OnCard(anew(1)).advance(1e-9)
        cuda.synchronize()
        said["compile_and_first_s"] = time.perf_counter() - compiling
        advance(anew(1), 1e-9, None, 1)
    one = marched(march, lambda step: advance(march, step, None, 1), until, most)
    steps = march.steps
    shared = anew(cores)
    with ThreadPoolExecutor(cores - 1) as pool:
        many = marched(shared, lambda step: advance(shared, step, pool, cores), until, most)
    begun = time.perf_counter()
    marched(march, card.advance, until, most)
    cuda.synchronize()
    on = time.perf_counter() - begun
    said |= {"steps": steps, "stages": march.stages, "day_s": march.time}
    said |= {"core_ms_a_step": 1e3 * one / steps, "cores_ms_a_step": 1e3 * many / steps}
    said |= {"card_ms_a_step": 1e3 * on / steps, "times_a_core": one / on, "times_cores": many / on}
    mould = march.kind == 1
    u, heat = card.u.copy_to_host(), card.heat.copy_to_host()
    warm = march.fit.temperature_at(march.u[mould].astype(np.float64))
    warm_card = march.fit.temperature_at(u[mould].astype(np.float64))
    metal = march.metal.temperature_at(march.heat), march.metal.temperature_at(heat)
    lost = float(march.lost.sum()) + march.lost_above
    lost_card = float(card.lost.copy_to_host().sum() + card.gone.copy_to_host().sum())
    times, times_card = march.times.astype(np.float64), card.times.copy_to_host().astype(np.float64)
    both = np.isfinite(times) & np.isfinite(times_card) & (times > 0)
    wall = march.wall_temperature
    said["largest_relative_difference"] = {
        "mould_temperature": float(np.abs(warm_card / warm - 1).max()),
        "mould_heat_over_largest": float(
            np.abs(u[mould] - march.u[mould]).max() / np.abs(march.u[mould]).max()
        ),
        "metal_temperature": float(np.abs(metal[1] / metal[0] - 1).max()),
        "metal_heat": float(np.abs(heat / march.heat - 1).max()),
        "wall_temperature": float(np.abs(card.wall_warm.copy_to_host() / wall - 1).max()),
        "heat_lost": abs(lost_card / lost - 1.0),
        "level_times": float(np.abs(times_card[both] / times[both] - 1).max(initial=0.0)),
        "level_times_not_both": float((np.isfinite(times) != np.isfinite(times_card)).mean()),
    }
    parts: dict[str, float] = {}
    for _ in range(20):
        card.advance(march.longest, parts)
    said["parts_ms"] = {name: 1e3 * seconds / 20 for name, seconds in parts.items()}
    begun = time.perf_counter()
    for _ in range(50):
        card.advance(march.longest)
    cuda.synchronize()
    said["card_ms_longest_step"] = 1e3 * (time.perf_counter() - begun) / 50
    said |= card.rates(march.longest, card_triad)
    print(json.dumps(said, indent=1), flush=True)
    return said
