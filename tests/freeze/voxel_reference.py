"""One bar, plate or blade in endless mould, by the method of lines and scipy.

Written apart from the solver under test: fine rings (or sheets) of 1/12 of the half
thickness in the metal and from 1/60 of it in the mould, the freezing curve straight
between its knots, LSODA to a relative error of 1e-6.
"""

import math
from functools import cache

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags

from pourcast import units as si

ZERO = si.ZERO_CELSIUS
_TEMPERATURE = np.array([700.0, 798.0, 880.0, 930.0, 960.0, 1000.0, 1200.0])  # °C
_SOLID = np.array([1.0, 1.0, 0.9, 0.7, 0.5, 0.0, 0.0])
_COLD = -300.0  # °C, end of the table


def _curve() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Heat in J/m³, temperature and potential in W/m, finely between the knots."""
    warm = np.unique(np.concatenate([np.linspace(_COLD, 1200.0, 6001), _TEMPERATURE]))
    solid = np.interp(warm, _TEMPERATURE, _SOLID)
    middle = 0.5 * (solid[1:] + solid[:-1])
    step = np.diff(warm)
    heat = 8500.0 * ((middle * 430.0 + (1 - middle) * 495.0) * step - 195e3 * np.diff(solid))
    flow = (middle * 90.0 + (1 - middle) * 40.0) * step
    return (
        np.concatenate([[0.0], np.cumsum(heat)]),
        warm,
        np.concatenate([[0.0], np.cumsum(flow)]),
    )


@cache
def bar(
    size: float, *, round_bar: bool = True, until: float | None = None, hot: float = 1100.0
) -> tuple[float, np.ndarray, np.ndarray]:
    """Return when the middle is solid [s], and places [m] and temperatures [°C] of the mould.

    The second and third are at ``until``, or at the first where that is None.
    """
    heat_of, warm_of, flow_of = _curve()
    rings, half, mould_k, mould_c, film = 12, size / 2, 0.5, 1250.0 * 1050.0, 1500.0
    edges = [half * place / rings for place in range(rings + 1)]
    step = min(half / 30, 1e-4)
    while edges[-1] < half + 45e-3:
        edges.append(edges[-1] + step)
        step *= 1.05
    edge = np.array(edges)
    middle = 0.5 * (edge[1:] + edge[:-1])
    if round_bar:
        volume, area = math.pi * np.diff(edge**2), 2 * math.pi * edge
        gap = np.log(middle[1:] / middle[:-1]) / (2 * math.pi)
        first = math.log(middle[rings] / half) / (2 * math.pi)
    else:
        volume, area = np.diff(edge), np.ones_like(edge)
        gap, first = np.diff(middle), middle[rings] - half
    inside = np.diff(middle[:rings]) / area[1:rings]
    skin = ((half - middle[rings - 1]) / 90.0 + 1 / film) / area[rings] + first / mould_k

    def change(_: float, state: np.ndarray) -> np.ndarray:
        flux = np.zeros(edge.size)
        metal, mould = state[:rings], state[rings:]
        flux[1:rings] = -np.diff(np.interp(metal, heat_of, flow_of)) / inside
        flux[rings] = (np.interp(metal[-1], heat_of, warm_of) - mould[0]) / skin
        flux[rings + 1 : -1] = -mould_k * np.diff(mould) / gap[rings:]
        rate = -np.diff(flux) / volume
        rate[rings:] /= mould_c
        return rate

    solid = float(np.interp(798.0, warm_of, heat_of))

    def frozen(_: float, state: np.ndarray) -> float:
        return float(state[0] - solid)

    frozen.terminal = until is None  # type: ignore[attr-defined]
    start = np.full(middle.size, 550.0)
    start[:rings] = np.interp(hot, warm_of, heat_of)
    scale = np.full(middle.size, 1e-3)
    scale[:rings] = 1e3
    found = solve_ivp(
        change,
        (0.0, until or 400.0),
        start,
        method="LSODA",
        lband=1,
        uband=1,
        rtol=1e-6,
        atol=scale,
        events=frozen,
        max_step=1.0,
    )
    return float(found.t_events[0][0]), middle[rings:], found.y[rings:, -1]


def _sheets(half: float, count: int, out: float) -> np.ndarray:
    edges = [half * place / count for place in range(count + 1)]
    step = half / count
    while edges[-1] < half + out:
        edges.append(edges[-1] + step)
        step = min(step * 1.25, 3e-3)
    return np.array(edges)


@cache
def blade(thickness: float, width: float) -> float:
    """Return when the middle of a long blade is solid [s], a quarter of its section in 2-D."""
    heat_of, warm_of, flow_of = _curve()
    rows, columns, film = 4, 16, 1500.0
    x, y = _sheets(width / 2, columns, 35e-3), _sheets(thickness / 2, rows, 35e-3)
    dx, dy = np.diff(x), np.diff(y)
    shape = (dx.size, dy.size)
    metal = np.zeros(shape, dtype=bool)
    metal[:columns, :rows] = True
    volume = dx[:, None] * dy[None, :]

    def way(side: np.ndarray, area: np.ndarray, inside: np.ndarray) -> np.ndarray:
        half = side[:, None] / 2
        k = np.where(inside, 90.0, 0.5)
        skin = np.where(inside[:-1] != inside[1:], 1 / film, 0.0)
        return np.asarray(area / (half[:-1] / k[:-1] + half[1:] / k[1:] + skin))

    along = way(dx, dy[None, :], metal)
    across = way(dy, dx[None, :], metal.T).T
    both_x, both_y = metal[:-1] & metal[1:], metal[:, :-1] & metal[:, 1:]
    gap_x = dy[None, :] / (0.5 * (dx[:-1] + dx[1:]))[:, None]
    gap_y = dx[:, None] / (0.5 * (dy[:-1] + dy[1:]))[None, :]

    def change(_: float, state: np.ndarray) -> np.ndarray:
        held = state.reshape(shape)
        warm = np.where(metal, np.interp(held, heat_of, warm_of), held)
        flow = np.interp(held, heat_of, flow_of)
        rate = np.zeros(shape)
        flux = np.where(both_x, gap_x * -np.diff(flow, axis=0), along * -np.diff(warm, axis=0))
        rate[:-1] -= flux
        rate[1:] += flux
        flux = np.where(both_y, gap_y * -np.diff(flow, axis=1), across * -np.diff(warm, axis=1))
        rate[:, :-1] -= flux
        rate[:, 1:] += flux
        rate /= volume
        return np.where(metal, rate, rate / (1250.0 * 1050.0)).ravel()

    count = metal.size
    near = diags([1.0, 1.0, 1.0, 1.0, 1.0], [0, 1, -1, dy.size, -dy.size], shape=(count, count))
    solid = float(np.interp(798.0, warm_of, heat_of))

    def frozen(_: float, state: np.ndarray) -> float:
        return float(state[0] - solid)

    frozen.terminal = True  # type: ignore[attr-defined]
    start = np.where(metal, np.interp(1100.0, warm_of, heat_of), 550.0).ravel()
    found = solve_ivp(
        change,
        (0.0, 400.0),
        start,
        method="BDF",
        jac_sparsity=near,
        rtol=1e-4,
        atol=np.where(metal, 1e5, 1e-2).ravel(),
        events=frozen,
        max_step=2.0,
    )
    return float(found.t_events[0][0])
