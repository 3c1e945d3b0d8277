"""Heat of a block through a day: our rings beside scipy at the same error.

A dry block of 127 by 178 mm taken as long, conductivity and heat of the burnt tables, with
radiation at its face, in the stepped day of 13 h.  Answer: core and face at 27 moments [K].
Reference: 241 nodes, a third as wide as the finest tried, and Radau with a tolerance of
1e-9, which is none of those compared.

The other is the method of lines on nodes with solve_ivp: BDF, and LSODA with its band of
three; the right side is compiled, so that methods are compared and not Python.  Both are
tried over nodes and tolerances.  Ours also follows water, gypsum, steam and stress, of
which there is none here: that work is in its time.
"""

import sys
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from side_by_side import Try, least_seconds, told

# isort: split
import numba
from scipy.integrate import solve_ivp
from scipy.sparse import diags
from tests.burnout.heat_cases import STEPPED, block

from pourcast.burnout.days import Fineness, heat_days

DRAWS = 40
MOMENTS = 27
RADIATION = 5.670374419e-8  # W/(m²·K⁴), CODATA 2018
CASE = block(DRAWS, free_water=0.0, gypsum=1e-6, height=50.0, set_conductivity=0.42)
DENSITY = CASE.set_density - 1e-6 * 0.20927
LEAD_AT, LEAD = CASE.burnt_conductivity_at, CASE.burnt_conductivity[0]
HEAT_AT, HEAT = CASE.burnt_specific_heat_at, CASE.burnt_specific_heat[0]
TIME, KILN = STEPPED.time, STEPPED.temperature
EMISSIVITY, CONVECTION = float(CASE.emissivity[0]), float(CASE.convection[0])


@numba.njit(fastmath=True)
def slopes(
    time: float, kelvin: Any, radius: Any, lead_at: Any, leads: Any, heat_at: Any, heats: Any
) -> Any:
    """Return the warming of each node [K/s]."""
    nodes, width = radius.size, radius[1]
    lead = np.interp(kelvin, lead_at, leads)
    heat = np.interp(kelvin, heat_at, heats)
    gain = np.empty(nodes)
    before = 0.0
    for i in range(nodes - 1):
        middle = 0.5 * (radius[i] + radius[i + 1])
        flow = middle * 0.5 * (lead[i] + lead[i + 1]) * (kelvin[i + 1] - kelvin[i]) / width
        volume = 0.125 * width**2 if i == 0 else radius[i] * width
        gain[i] = (flow - before) / volume
        before = flow
    air = np.interp(time, TIME, KILN)
    face = CONVECTION * (air - kelvin[-1]) + EMISSIVITY * RADIATION * (air**4 - kelvin[-1] ** 4)
    outer = radius[-1]
    inner = outer - 0.5 * width
    gain[-1] = (outer * face - before) / (0.5 * (outer**2 - inner**2))
    return gain / (DENSITY * heat)


def by_scipy(method: str, nodes: int, tolerance: float) -> np.ndarray:
    """Return core and face at the moments [K], shape (2, moments)."""
    radius = np.linspace(0.0, CASE.radius, nodes)
    more: dict[str, Any] = {"lband": 1, "uband": 1}
    if method != "LSODA":
        ones = np.ones(nodes)
        more = {"jac_sparsity": diags([ones[1:], ones, ones[1:]], [-1, 0, 1])}
    found = solve_ivp(
        slopes,
        (0.0, float(TIME[-1])),
        np.full(nodes, 293.15),
        method=method,
        t_eval=np.linspace(TIME[0], TIME[-1], MOMENTS),
        args=(radius, LEAD_AT, LEAD, HEAT_AT, HEAT),
        rtol=tolerance,
        atol=1e3 * tolerance,
        # Else a long step runs over a corner of the day.
        max_step=900.0,
        **more,
    )
    return np.asarray(found.y[[0, -1]])


def ours(fineness: Fineness | None) -> np.ndarray:
    """Return what `by_scipy` does, of the first of equal draws."""
    days = heat_days(CASE, STEPPED, moments=MOMENTS, fineness=fineness)
    return np.stack([days.core[0], days.wall[0]])


def main() -> None:
    """Print the table."""
    want = by_scipy("Radau", 241, 1e-9)
    moved = float(np.abs(by_scipy("Radau", 121, 1e-9) - want).max())

    def tried(label: str, work: Any, runs: int, share: int = 1) -> Try:
        seconds, kelvin = least_seconds(work, runs)
        error = float(np.abs(kelvin - want).max())
        return Try(label=label, seconds=seconds / share, error=error)

    print(f"Heat of a block through 13 h, time a draw; reference moves by {moved:.3f} K at half")
    print("the nodes.  Largest error of core and face at 27 moments")
    told(
        "K",
        [
            tried("its own steps", partial(ours, None), 3, DRAWS),
            *(
                tried(
                    f"{rings} rings, {warming:g} K",
                    partial(ours, Fineness(rings=rings, warming=warming, longest=longest)),
                    3,
                    DRAWS,
                )
                for rings, warming, longest in ((20, 1.0, 60.0), (40, 1.0, 15.0), (80, 0.3, 5.0))
            ),
        ],
        {
            f"scipy {method}": [
                tried(
                    f"{nodes} nodes, {tolerance:g}",
                    partial(by_scipy, method, nodes, tolerance),
                    1,
                )
                for nodes, tolerance in product((6, 11, 21, 41), (1e-3, 1e-4, 1e-5))
            ]
            for method in ("LSODA", "BDF")
        },
    )


if __name__ == "__main__":
    main()
