"""Filling: a front that runs, cools and stops in one rod; our march beside scipy at the same error.

A level rod of 2 mm, a wide cup 0.1 m deep, metal of 0.05 Pa·s so that the flow is laminar;
open block, no skin.  State: way, speed, age of the wall that the tip touches, heat of the
tip.  The equations are those that pour/flow.py and pour/cool.py state:

    ρ x dv/dt = ρ g h - ½ ρ v² (1 + entry loss) - 32 μ x v / d²                (1)
    dτ/dt = 1 - v τ / d,   dH/dt = -4 h (T(H) - T_mould) / (ρ d (1 + ½ h R(τ)))  (2)

and the front stops when 2 % of the tip is solid: so early that no crystals behind it
thicken the flow, which the closed system does not have.  Answer: how far it came [mm], in pours
of different metal and mould temperatures.  Reference: Radau of scipy with a tolerance of
1e-10.  The other is solve_ivp with its right side compiled, so that methods are compared
and not Python; its steps and its search for the stop are Python and stay in.

Ours gives the new front a wet length of 0.2 bore, as (1) cannot start at x = 0; so does the
other.  Ours also keeps count of cup, gas, pores and heat behind the front, which no
closed system of four needs: that work is in its time.
"""

import math
import sys
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from side_by_side import Try, least_seconds, told

# isort: split
import numba
from scipy.integrate import solve_ivp
from tests.pour.cases import bar, case
from tests.pour.ideal import NO_GAS, NO_SURFACE, wide_cup

from pourcast.pour.model import Steps
from pourcast.pour.solve import solve

DRAWS = 60
BORE, LENGTH, HEAD, VISCOSITY, LOSS = 2e-3, 0.6, 0.1, 0.05, 0.5
DENSITY, GRAVITY, TIP_STOP = 7550.0, 9.80665, 0.02
LIQUIDUS, HALF, SPECIFIC, LATENT = 1244.15, 1208.15, 517.0, 108e3
FILM, CONDUCTIVITY, DIFFUSIVITY = 1200.0, 0.42, 3.2e-7
UPPER = SPECIFIC * (LIQUIDUS - HALF) + 0.5 * LATENT
STOP_HEAT = -2.0 * TIP_STOP * UPPER
METAL = np.linspace(1290.0, 1390.0, DRAWS)  # K
MOULD = np.linspace(700.0, 950.0, DRAWS)[np.random.default_rng(0).permutation(DRAWS)]  # K


@numba.njit(fastmath=True)
def slope(_: float, state: Any, mould: float) -> Any:
    """Return the right sides of equations 1 and 2, down to half solid."""
    front, speed, age, heat = state
    wet = max(front, 0.2 * BORE)
    push = DENSITY * GRAVITY * HEAD - 0.5 * (1.0 + LOSS) * DENSITY * speed * speed
    push -= 32.0 * VISCOSITY * wet * speed / (BORE * BORE)
    warm = heat / SPECIFIC if heat >= 0.0 else heat / UPPER * (LIQUIDUS - HALF)
    radius = 0.5 * BORE
    soak = math.sqrt(math.pi * DIFFUSIVITY * max(age, 0.0)) / radius
    resistance = radius / CONDUCTIVITY * math.log(1.0 + soak)
    loss = 4.0 * FILM * (LIQUIDUS + warm - mould) / (DENSITY * BORE)
    return np.array(
        [
            speed,
            push / (DENSITY * wet),
            1.0 - speed * age / BORE,
            -loss / (1.0 + 0.5 * FILM * resistance),
        ]
    )


def _stopped(_: float, state: Any, __: float) -> float:
    return float(state[3]) - STOP_HEAT


_stopped.terminal = True  # type: ignore[attr-defined]


def by_scipy(method: str, tolerance: float) -> np.ndarray:
    """Return how far each front came [mm]."""
    came = np.empty(DRAWS)
    for draw in range(DRAWS):
        start = np.array([0.0, 0.0, 0.0, SPECIFIC * (METAL[draw] - LIQUIDUS)])
        found = solve_ivp(
            slope,
            (0.0, 20.0),
            start,
            method=method,
            events=_stopped,
            args=(float(MOULD[draw]),),
            rtol=tolerance,
            atol=tolerance * np.array([1e-2, 1.0, 1e-2, 1e5]),
        )
        came[draw] = found.y_events[0][0][0]
    return 1e3 * came


def main() -> None:
    """Print the table."""
    network = bar(LENGTH, BORE, 60)
    physics = {**NO_GAS, **NO_SURFACE, **wide_cup(HEAD), "viscosity": VISCOSITY}
    physics |= {"conductivity": CONDUCTIVITY, "entry_loss": LOSS, "tip_stop": TIP_STOP}
    physics |= {"temperature": MOULD, "metal_temperature": METAL, "roughness": 0.0}
    physics |= {"metal_conductivity": 0.0}
    pour = case(network, DRAWS, **physics)

    def ours(steps: Steps) -> np.ndarray:
        result = solve(network, pour, steps=steps)
        return np.asarray(1e3 * (result.filled * network.length).sum(axis=1))

    want = by_scipy("Radau", 1e-10)

    def tried(label: str, work: Any, runs: int = 3) -> Try:
        seconds, came = least_seconds(work, runs)
        return Try(label=label, seconds=seconds, error=float(np.abs(came - want).max()))

    print(
        f"Filling of a rod with loss of heat: {DRAWS} pours that stop at {want.min():.0f} to",
        end="",
    )
    print(f" {want.max():.0f} mm; largest error, time a pour")
    usual = Steps()
    told(
        "mm",
        [
            tried(
                "its own steps" if part == 1 else f"steps over {part}",
                partial(
                    ours,
                    Steps(
                        share=usual.share / part,
                        longest=usual.longest / part,
                        lengthening=usual.lengthening / part,
                    ),
                ),
            )
            for part in (1, 4, 16)
        ],
        {
            f"scipy {method}": [
                tried(f"tolerance {tolerance:g}", partial(by_scipy, method, tolerance), 1)
                for tolerance in (1e-2, 1e-3, 1e-4, 1e-6)
            ]
            for method in ("RK45", "LSODA", "BDF")
        },
        each=DRAWS,
    )


if __name__ == "__main__":
    main()
