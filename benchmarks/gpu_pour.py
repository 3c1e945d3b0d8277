"""Filling draws on a graphics card: one thread a draw, measured beside the processor."""

import json
import math
import time
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
from gpu_card import cuda, on_card, strict

from pourcast.pour.draws import pour_draws
from pourcast.pour.model import Steps
from pourcast.pour.pack import pack
from pourcast.pour.solve import room

ROOM_ON_CARD = 50e9  # bytes of work areas
LONGEST = 60.0  # s; a size that would take longer on the card is left out

_pour = on_card(pour_draws)


@cuda.jit
def pour_fastest(count, shared, rows, out, work):  # type: ignore[no-untyped-def]
    """Pour a draw a thread; the draw is the fastest index of the work areas."""
    at = cuda.grid(1)
    if at >= count:
        return
    (
        section,
        length,
        width,
        thickness,
        height,
        share,
        start,
        ways,
        way_of,
        ends,
        vents,
        marks,
        limits,
        char,
    ) = shared
    scale, entry, parameters = rows
    filled, cause, when, warm, solid, shut, end = out
    w = work
    _pour(
        at, at + 1, section, length, width, thickness, height, share, scale, entry, start,
        ways, way_of, ends, vents, marks, parameters, limits, char,
        filled, cause, when, warm, solid, shut, end,
        w[0][:, :, at], w[1][:, :, at], w[2][:, :, at], w[3][:, :, at], w[4][:, at],
        w[5][:, at], w[6][:, at], w[7][:, at], w[8][:, at], w[9][:, at], w[10][:, at],
        w[11][:, at], w[12][:, at], w[13][:, at], w[14][:, :, at], w[15][:, :, at],
        w[16][:, :, at], w[17][:, :, at], w[18][:, at],
    )  # fmt: skip


@cuda.jit
def pour_slowest(count, shared, rows, out, work):  # type: ignore[no-untyped-def]
    """Pour a draw a thread; each draw has its work area to itself."""
    at = cuda.grid(1)
    if at >= count:
        return
    (
        section,
        length,
        width,
        thickness,
        height,
        share,
        start,
        ways,
        way_of,
        ends,
        vents,
        marks,
        limits,
        char,
    ) = shared
    scale, entry, parameters = rows
    filled, cause, when, warm, solid, shut, end = out
    w = work
    _pour(
        at, at + 1, section, length, width, thickness, height, share, scale, entry, start,
        ways, way_of, ends, vents, marks, parameters, limits, char,
        filled, cause, when, warm, solid, shut, end,
        w[0][at], w[1][at], w[2][at], w[3][at], w[4][at], w[5][at], w[6][at], w[7][at],
        w[8][at], w[9][at], w[10][at], w[11][at], w[12][at], w[13][at], w[14][at],
        w[15][at], w[16][at], w[17][at], w[18][at],
    )  # fmt: skip


class Pours:
    """Tables of a case, and outputs of its draws, on the processor and on the card."""

    def __init__(self, network: Any, made: Any) -> None:
        self.tables = pack(network, made, Steps())
        t, n = self.tables, network
        self.draws = t.parameters.shape[0]
        self.segments, self.runs, self.nodes = n.length.size, t.marks.shape[0], t.ways.size - 1
        self.shared = (
            n.section, n.length, n.width, n.thickness, t.height, t.share, n.start, t.ways,
            t.way_of, t.ends, t.vents, t.marks, t.limits, t.char,
        )  # fmt: skip
        self.rows = (
            np.ascontiguousarray(made.section_scale[:, n.member]),
            np.ascontiguousarray(made.entry_factor[:, n.member]),
            t.parameters,
        )

    def outputs(self, draws: int) -> list[np.ndarray]:
        """Return room for the outputs of some draws."""
        s = self.segments
        out = [np.zeros((draws, s)) for _ in range(5)] + [np.zeros((draws, s), np.bool_)]
        out[1] = np.zeros((draws, s), np.int64)
        out[2][:] = np.nan
        return [*out, np.zeros((draws, 5))]

    def on_cores(self, draws: int, threads: int, kernel: Any = pour_draws) -> Any:
        """Return outputs, and seconds by the clock."""
        (
            section,
            length,
            width,
            thickness,
            height,
            share,
            start,
            ways,
            way_of,
            ends,
            vents,
            marks,
            limits,
            char,
        ) = self.shared
        scale, entry, parameters = self.rows
        out = self.outputs(draws)

        def some(first: int, last: int) -> None:
            kernel(
                first, last, section, length, width, thickness, height, share, scale, entry,
                start, ways, way_of, ends, vents, marks, parameters, limits, char, *out,
                *room(self.runs, self.segments, self.nodes),
            )  # fmt: skip

        edges = np.linspace(0, draws, threads * 4 + 1).astype(int).tolist()
        begun = time.perf_counter()
        if threads == 1:
            some(0, draws)
        else:
            with ThreadPoolExecutor(threads) as pool:
                list(pool.map(some, edges[:-1], edges[1:]))
        return out, time.perf_counter() - begun

    def bytes_a_draw(self) -> int:
        """Return the size of the work area of a draw."""
        return sum(array.nbytes for array in room(self.runs, self.segments, self.nodes))

    def on_gpu(
        self, draws: int, *, fastest: bool, block: int, order: np.ndarray | None = None
    ) -> Any:
        """Return outputs of the last batch, and seconds: first batch, all, and copies back."""
        cuda.current_context().deallocations.clear()
        most = int(ROOM_ON_CARD / self.bytes_a_draw()) // 1024 * 1024
        batch = min(draws, most, self.draws)
        pick = np.arange(batch) if order is None else order[:batch]
        shared = tuple(cuda.to_device(np.ascontiguousarray(array)) for array in self.shared)
        layout = np.asfortranarray if fastest else np.ascontiguousarray
        rows = tuple(cuda.to_device(layout(array[pick])) for array in self.rows)
        out = tuple(cuda.to_device(layout(array)) for array in self.outputs(batch))
        work = tuple(
            cuda.device_array(
                (*array.shape, batch) if fastest else (batch, *array.shape), array.dtype
            )
            for array in room(self.runs, self.segments, self.nodes)
        )
        kernel = pour_fastest if fastest else pour_slowest

        def run(count: int) -> float:
            begun = time.perf_counter()
            kernel[-(-count // block), block](count, shared, rows, out, work)
            cuda.synchronize()
            return time.perf_counter() - begun

        first = run(min(batch, 32))
        left, seconds = draws, 0.0
        while left > 0:
            seconds += run(min(left, batch))
            left -= batch
        begun = time.perf_counter()
        host = [array.copy_to_host() for array in out]
        back = time.perf_counter() - begun
        used = {
            "registers": max(kernel.get_regs_per_thread().values()),
            "local_bytes": max(kernel.get_local_mem_per_thread().values()),
        }
        return host, {"first_s": first, "s": seconds, "copy_back_s": back, "batch": batch} | used


NAMES = ("filled", "cause", "fill_time", "temperature", "solid_fraction", "cold_shut", "end")


def difference(got: list[np.ndarray], want: list[np.ndarray]) -> dict[str, Any]:
    """Return how far outputs are apart."""
    said: dict[str, Any] = {}
    for name, a, b in zip(NAMES, got, want, strict=True):
        a = np.asarray(a[: b.shape[0]], dtype=np.float64)
        b = np.asarray(b, dtype=np.float64)
        both = np.isfinite(a) & np.isfinite(b)
        apart = np.abs(a - b)
        if name == "end":
            largest = np.maximum(np.abs(b).max(axis=0), 1e-300)
            said["end_by_column"] = (apart / largest).max(axis=0).tolist()
            said["steps_differ"] = float((a[:, 1] != b[:, 1]).mean())
            continue
        relative = apart[both] / np.maximum(np.abs(b[both]), 1e-12)
        said[name] = {
            "largest_relative": float(relative.max(initial=0.0)),
            "share_over_1e-6": float((relative > 1e-6).mean()),
            "not_both_numbers": float((np.isfinite(a) != np.isfinite(b)).mean()),
        }
        if name in ("filled", "cause"):
            same = relative <= 1e-6
            draws_same = np.ones(a.shape, bool)
            draws_same[both] = same
            said[name]["draws_that_differ"] = float((~draws_same.all(axis=1)).mean())
    full = np.asarray(got[0][: want[0].shape[0]]) >= 1.0, want[0] >= 1.0
    said["chance_by_segment_largest_change"] = float(
        np.abs(full[0].mean(axis=0) - full[1].mean(axis=0)).max()
    )
    said["chance_all"] = [float(each.all(axis=1).mean()) for each in full]
    said["mean_filled"] = [float(np.mean(got[0][: want[0].shape[0]])), float(want[0].mean())]
    return said


def filling(name: str, network: Any, made: Any, sizes: tuple[int, ...], cores: int) -> Any:
    """Return all that is measured of one plant."""
    pours = Pours(network, made)
    said: dict[str, Any] = {"segments": pours.segments, "work_bytes": pours.bytes_a_draw()}
    pours.on_cores(1, 1)
    few = min(1000, pours.draws)
    want, one = pours.on_cores(few, 1)
    one = min(one, pours.on_cores(few, 1)[1])
    many = min(16000, pours.draws)
    said["core_draws_s"] = few / one
    said["cores_draws_s"] = many / min(pours.on_cores(many, cores)[1] for _ in range(2))
    said["mean_steps"] = float(want[6][:, 1].mean())
    if name == "plant":
        other, _ = pours.on_cores(few, 1, strict(pour_draws))
        said["core_without_reordering_against_core"] = difference(other, want)
    print(name, json.dumps({k: v for k, v in said.items() if not isinstance(v, dict)}), flush=True)
    said["card"] = {}
    for fastest in (True, False):
        got, rate = None, math.inf
        for draws in sizes:
            if draws / rate > LONGEST:
                said["card"][f"{draws} left out"] = f"would take {draws / rate:.0f} s"
                continue
            for block in (32, 128) if draws == 10_000 else (64,):
                key = f"{'fastest' if fastest else 'slowest'} {draws} block {block}"
                try:
                    got, times = pours.on_gpu(draws, fastest=fastest, block=block)
                except Exception as fault:
                    said["card"][key] = repr(fault)[:300]
                    print(key, repr(fault)[:600], flush=True)
                    continue
                times["draws_s"] = rate = draws / times["s"]
                times["times_a_core"] = times["draws_s"] / said["core_draws_s"]
                times["times_cores"] = times["draws_s"] / said["cores_draws_s"]
                if draws == sizes[0]:
                    times["difference"] = difference(got, want)
                said["card"][key] = times
                print(name, key, {k: v for k, v in times.items() if k != "difference"}, flush=True)
        if got is not None and pours.draws / rate < LONGEST:
            got, _ = pours.on_gpu(pours.draws, fastest=fastest, block=64)
            order = np.argsort(got[6][:, 1])
            _, times = pours.on_gpu(pours.draws, fastest=fastest, block=64, order=order)
            times["times_a_core"] = times["batch"] / times["s"] / said["core_draws_s"]
            said["card"][f"{'fastest' if fastest else 'slowest'} sorted by steps"] = times
            print(name, "sorted", times, flush=True)
    return said
