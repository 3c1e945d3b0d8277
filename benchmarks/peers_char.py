"""Char that burns in a flask: our steps beside scipy at the same error.

Powder in a solid flask at a steady 560 °C, three flasks in a small kiln, 8 h: the problem
of tests/burnout/test_fate.py.  State: char and the oxygen of the kiln; the oxygen in the
cavity is what makes diffusion and burning equal, found by Newton's rule in each call.
Answer: char at the moments after the pyrolysis, over all there was [%].  Reference: Radau
of scipy with a tolerance of 1e-10; the others are solve_ivp with LSODA and BDF and their
right side compiled, so that methods are compared and not Python.

Ours follows wax, pyrolysis and the day before as well, and the classes of thickness that
a powder does not need: that work is in its time.
"""

import math
import sys
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from dataclasses import replace

from side_by_side import Try, least_seconds, told

# isort: split
import numba
from scipy.integrate import solve_ivp
from tests.burnout.fate_cases import HOUR, block, burning, day, matter

from pourcast import units as si
from pourcast.burnout.fate import followed
from pourcast.burnout.fate_pack import matter_radius
from pourcast.burnout.oxygen import AIR_OXYGEN
from pourcast.burnout.oxygen_room import ROOM_SHARES
from pourcast.burnout.oxygen_way import block_ways

DRAWS = 40
KELVIN = 833.15
FLASKS = 3


@numba.njit(fastmath=True)
def slope(_: float, state: Any, numbers: Any, shares: Any, ways: Any) -> Any:
    """Return how char [kg/s] and oxygen of the kiln [1/s] change."""
    whole, gate, gas, free, pace, order, air, held = numbers
    char, x = max(state[0], 0.0), max(state[1], 1e-12)
    way = np.interp(np.array([char / whole]), shares, ways)[0] + gate
    conductance = gas * free * way
    uptake = char * pace / si.CARBON_MOLAR
    inside = x
    for _pass in range(60):
        rate = uptake * (inside / 0.20) ** order
        off = conductance * (x - inside) - rate
        change = off / (conductance + order * rate / max(inside, 1e-300))
        # Not below a tenth in one go, so that it stays above 0.
        after = max(inside + change, 0.1 * inside)
        if abs(after - inside) <= 1e-14 * x:
            break
        inside = after
    flow = conductance * (x - inside)
    return np.array([-flow * si.CARBON_MOLAR, (air * (AIR_OXYGEN - x) - FLASKS * flow) / held])


def main() -> None:
    """Print the table."""
    own, lump = block(DRAWS, wall="solid"), matter(DRAWS, dry=8e-3)
    kiln = replace(
        burning(DRAWS, litres=15.0, changes=4.0, flasks=FLASKS),
        char_density=None,
        char_openness=None,
    )
    heat = day((0.0, 560.0), (8.0, 560.0), draws=DRAWS, every=600.0)

    def ours(longest: float | None) -> Any:
        if longest is None:
            return followed(own, lump, kiln, heat)[0]
        return followed(own, lump, kiln, heat, longest=longest)[0]

    # From the same state on: that of ours with the finest steps, when pyrolysis is over.
    start = ours(1.0)
    first = int(np.flatnonzero(start.dry_mass[0] <= 0.0)[0])
    whole = float((lump.dry_mass[0] * (lump.char_yield[0] - lump.ash_fraction[0])).sum())
    pores = own.porosity / kiln.tortuosity
    ways = block_ways(own, matter_radius(own, lump), np.zeros(1), pores)[0]
    pressure = si.STANDARD_ATMOSPHERE / si.GAS_CONSTANT
    numbers = np.array(
        [
            whole,
            math.pi / 4.0 * own.gate_diameter**2 / (0.5 * own.height),
            pressure / KELVIN,
            2e-5 * (KELVIN / 293.15) ** 1.75,
            10.0 ** kiln.char_log10_rate[0]
            * math.exp(-kiln.char_activation[0] / (si.GAS_CONSTANT * KELVIN)),
            float(kiln.char_order[0]),
            4.0 / HOUR * 0.015 * pressure / 293.15,
            0.015 * pressure / KELVIN,
        ]
    )

    def by_scipy(method: str, tolerance: float) -> np.ndarray:
        found = solve_ivp(
            slope,
            (heat.time[first], heat.time[-1]),
            [start.char[0, first], start.kiln_oxygen[0, first]],
            method=method,
            t_eval=heat.time[first:],
            args=(numbers, np.asarray(ROOM_SHARES), ways),
            rtol=tolerance,
            atol=tolerance * np.array([whole, AIR_OXYGEN]),
        )
        return np.asarray(found.y[0])

    def char_of(longest: float | None) -> np.ndarray:
        return np.asarray(ours(longest).char[0, first:])

    want = by_scipy("Radau", 1e-10)

    def tried(label: str, work: Any, share: int = 1) -> Try:
        seconds, char = least_seconds(work)
        error = 100.0 * float(np.abs(char - want).max()) / whole
        return Try(label=label, seconds=seconds / share, error=error)

    print(
        f"Char of a flask through {(heat.time[-1] - heat.time[first]) / HOUR:.1f} h, time a draw;"
    )
    print(f"from {100 * want[0] / whole:.0f} % of the char to none; largest error")
    if want[-1] > 1e-6 * whole:
        raise SystemExit(f"{want[-1]:.3g} kg of char are left")
    told(
        "%",
        [tried("its own steps", partial(char_of, None), DRAWS)]
        + [
            tried(f"steps of {longest:g} s", partial(char_of, longest), DRAWS)
            for longest in (10.0, 3.0)
        ],
        {
            f"scipy {method}": [
                tried(f"tolerance {tolerance:g}", partial(by_scipy, method, tolerance))
                for tolerance in (1e-2, 1e-3, 1e-4, 1e-5)
            ]
            for method in ("LSODA", "BDF")
        },
    )


if __name__ == "__main__":
    main()
