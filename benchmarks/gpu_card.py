"""How the kernels of a stage are compiled for a graphics card from their own source."""

import time
import types
from collections.abc import Callable
from typing import Any

import numba
import numpy as np
from numba import cuda as untyped_cuda

cuda: Any = untyped_cuda


def rebuilt(function: Any, compiled: Callable[[Any], Any], made: dict[int, Any]) -> Any:
    """Return a kernel, and all that it calls, compiled by something else from the same source."""
    source = function.py_func
    if id(source) in made:
        return made[id(source)]
    names = dict(source.__globals__)
    for name in source.__code__.co_names:
        if hasattr(names.get(name), "py_func"):
            names[name] = rebuilt(names[name], compiled, made)
    copy = types.FunctionType(source.__code__, names, source.__name__, source.__defaults__)
    copy.__module__ = source.__module__
    copy.__qualname__ = source.__qualname__
    made[id(source)] = compiled(copy)
    return made[id(source)]


_ON_CARD: dict[int, Any] = {}


def on_card(function: Any) -> Any:
    """Return a kernel as a function that a thread of the card calls."""
    return rebuilt(function, cuda.jit(device=True), _ON_CARD)


def strict(function: Any) -> Any:
    """Return a kernel for the processor without any re-ordering of sums."""
    return rebuilt(function, numba.njit(nogil=True, error_model="numpy"), {})


@cuda.jit
def triad_on_card(a, b, c, scale):  # type: ignore[no-untyped-def]
    """Write b + scale c into a."""
    i = cuda.grid(1)
    if i < a.size:
        a[i] = b[i] + scale * c[i]


def card_triad_rate(size: int = 300_000_000) -> float:
    """Return the rate of a triad on the card, median of 20 [bytes/s]."""
    a, b, c = (cuda.to_device(np.random.default_rng(i).random(size, np.float32)) for i in range(3))
    times = []
    for _ in range(21):
        cuda.synchronize()
        begun = time.perf_counter()
        triad_on_card[-(-size // 256), 256](a, b, c, np.float32(2.0))
        cuda.synchronize()
        times.append(time.perf_counter() - begun)
    return float(12 * size / np.median(times[1:]))
