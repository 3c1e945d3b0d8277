"""One problem of metal and mould, four programs: seconds at the same error.

A plate of metal stands in the middle of a closed box of mould, an eighth of its width, in
cells of 1 mm (in a flask metal is about a thirtieth).  The metal starts at 1050 °C and
freezes from 1000 to 900 °C, the mould starts at 550 °C; 20 s.  All solve it in three
dimensions, though the answer changes along one: so the answer is known from one
dimension, by the method of lines on cells of 0.05 mm and LSODA of scipy, which is none
of the four.  The error is the root mean square over the middles of the cells along that
direction, at the end.

Ours runs with the steps that it takes by itself, a hundredth of the time that has passed; each
other with a falling step until its error is no more than 1.1 times that of ours, or no
longer falls, or a run takes a minute, or the list of steps ends.  Ours with coarser steps is
shown and not compared: what its steps miss and what its cells miss are of opposite sign here,
so that the sum falls while the steps grow, which is luck.  Time is that of the processor, one
thread, without compiling.  What is not installed is left out and said.  One argument: cells
along a side (32).
"""

# ruff: noqa: E402
import os

# The numerical libraries count their threads when they are loaded.
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS"):
    os.environ[_name] = "1"
os.environ["FIPY_SOLVERS"] = "scipy"

import importlib
import importlib.util
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags
from scipy.sparse.linalg import cg

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.freeze.voxel_cases import ALMOST_NONE, ZERO, marched, nothing, plain_mould

from pourcast.freeze.solid import knots_of
from pourcast.freeze.voxel_distance import FAR
from pourcast.freeze.voxel_grid import BUTTON, METAL, MOULD, Grid
from pourcast.freeze.voxel_march import advance
from pourcast.freeze.voxel_model import VoxelMetal
from pourcast.freeze.voxel_passes import best_step
from pourcast.freeze.voxel_solve import FIRST_STEP, GROWTH

COUNT = int(sys.argv[1]) if len(sys.argv) > 1 else 32
SIDE, PLATE, UNTIL = 1e-3, COUNT // 8, 20.0
HOT, COLD, LIQUIDUS, SOLIDUS = 1050.0, 550.0, 1000.0, 900.0
METAL_K, METAL_C, LATENT = 60.0, 8500.0 * 430.0, 8500.0 * 195e3
MOULD_K, MOULD_C = 0.5, 1250.0 * 1050.0
FIRST, LAST = (COUNT - PLATE) // 2, (COUNT + PLATE) // 2

Answer = tuple[float, np.ndarray]
"""Seconds of the processor; profile in °C, one number a cell."""


def heat_of(warm: np.ndarray) -> np.ndarray:
    """Heat of the metal [J/m³]."""
    molten = np.clip((warm - SOLIDUS) / (LIQUIDUS - SOLIDUS), 0.0, 1.0)
    return np.asarray(METAL_C * warm + LATENT * molten)


def warm_of(heat: np.ndarray) -> np.ndarray:
    """Temperature of the metal [°C]."""
    low, high = METAL_C * SOLIDUS, METAL_C * LIQUIDUS + LATENT
    between = SOLIDUS + (heat - low) / (high - low) * (LIQUIDUS - SOLIDUS)
    return np.where(
        heat < low, heat / METAL_C, np.where(heat > high, (heat - LATENT) / METAL_C, between)
    )


def reference(parts: int = 20) -> np.ndarray:
    """Return the profile by the method of lines in one dimension, and scipy."""
    count, side = COUNT * parts, SIDE / parts
    metal = np.zeros(count, dtype=bool)
    metal[FIRST * parts : LAST * parts] = True
    k = np.where(metal, METAL_K, MOULD_K)
    way = 1.0 / (side / 2 / k[:-1] + side / 2 / k[1:])

    def change(_: float, state: np.ndarray) -> np.ndarray:
        warm = np.where(metal, warm_of(state * MOULD_C), state)
        flux = way * -np.diff(warm)
        rate = np.zeros(count)
        rate[:-1] -= flux
        rate[1:] += flux
        # Heat over one capacity for all, so that one tolerance serves both.
        return rate / side / MOULD_C

    start = np.where(metal, heat_of(np.array(HOT)) / MOULD_C, COLD)
    found = solve_ivp(
        change, (0.0, UNTIL), start, method="LSODA", lband=1, uband=1, rtol=1e-7, atol=1e-5
    )
    state = found.y[:, -1]
    warm = np.where(metal, warm_of(state * MOULD_C), state)
    return np.asarray(warm.reshape(COUNT, parts).mean(axis=1))


def ours(share: float) -> Answer:
    """Return ours, with steps of a share of the time that has passed."""
    kind = np.zeros((COUNT + 2,) * 3, dtype=np.uint8)
    kind[1:-1, 1:-1, 1:-1] = MOULD
    kind[1 + FIRST : 1 + LAST, 1:-1, 1:-1] = METAL
    place = np.abs(np.arange(-1, COUNT + 1) - (COUNT - 1) / 2) - PLATE / 2
    away = np.broadcast_to(place[:, None, None] * SIDE, kind.shape).astype(np.float32)
    passages, rods = nothing(SIDE)
    grid = Grid(
        voxel=SIDE,
        origin=np.zeros(3),
        kind=kind,
        owner=np.full(kind.shape, BUTTON, dtype=np.int64),
        distance=away,
        thin_distance=np.full(kind.shape, FAR, dtype=np.float32),
        passages=passages,
        rods=rods,
    )
    curve = tuple(LIQUIDUS + ZERO - 100 * solid for solid in (0.0, 0.5, 0.7, 0.9, 1.0))
    metal = VoxelMetal(
        density=8500.0,
        knots=knots_of((curve[0], curve[1], curve[2], curve[3], curve[4]), 430.0, 430.0, 195e3),
        solid_conductivity=METAL_K,
        liquid_conductivity=METAL_K,
        interface_heat_transfer=ALMOST_NONE,
    )

    def once() -> Answer:
        march = marched(grid, metal, plain_mould(), HOT, COLD)
        begun = time.process_time()
        while march.time < UNTIL * (1 - 1e-12):
            most = min(share * (march.time + FIRST_STEP / (GROWTH - 1)), UNTIL - march.time)
            advance(march, best_step(most, march.longest), None, 1)
        spent = time.process_time() - begun
        warm = march.fit.temperature_at(march.u.astype(float))
        warm[march.lists.metal] = march.metal.temperature_at(march.heat)
        middle = COUNT // 2
        return spent, warm.reshape(kind.shape)[1:-1, middle, middle] - ZERO

    once()  # compiles
    return min((once() for _ in range(5)), key=lambda answer: answer[0])


def by_py_pde() -> Iterator[tuple[str, Callable[[], Answer]]]:
    """Explicit steps of py-pde; the rate is a compiled loop of our own with harmonic means."""
    import numba

    pde: Any = importlib.import_module("pde")

    k = np.full(COUNT, MOULD_K)
    k[FIRST:LAST] = METAL_K
    way = 1.0 / (SIDE / 2 / k[:-1] + SIDE / 2 / k[1:]) / SIDE
    low, high = METAL_C * SOLIDUS, METAL_C * LIQUIDUS + LATENT
    square = SIDE * SIDE

    @numba.njit(fastmath=True)
    def rate(state: Any, _: float) -> Any:
        warm, out = np.empty_like(state), np.empty_like(state)
        for x in range(COUNT):
            for y in range(COUNT):
                for z in range(COUNT):
                    heat = state[x, y, z]
                    if x < FIRST or x >= LAST:
                        warm[x, y, z] = heat / MOULD_C
                    elif heat < low:
                        warm[x, y, z] = heat / METAL_C
                    elif heat > high:
                        warm[x, y, z] = (heat - LATENT) / METAL_C
                    else:
                        warm[x, y, z] = SOLIDUS + (heat - low) / (high - low) * (LIQUIDUS - SOLIDUS)
        for x in range(COUNT):
            for y in range(COUNT):
                for z in range(COUNT):
                    own = warm[x, y, z]
                    gain = 0.0
                    if x > 0:
                        gain += way[x - 1] * (warm[x - 1, y, z] - own)
                    if x < COUNT - 1:
                        gain += way[x] * (warm[x + 1, y, z] - own)
                    beside = 0.0
                    if y > 0:
                        beside += warm[x, y - 1, z] - own
                    if y < COUNT - 1:
                        beside += warm[x, y + 1, z] - own
                    if z > 0:
                        beside += warm[x, y, z - 1] - own
                    if z < COUNT - 1:
                        beside += warm[x, y, z + 1] - own
                    out[x, y, z] = gain + k[x] * beside / square
        return out

    class Box(pde.PDEBase):  # type: ignore[misc]
        """Heat in the box."""

        def evolution_rate(self, state: Any, t: float = 0) -> Any:
            return pde.ScalarField(state.grid, rate(state.data, t))

        def make_evolution_rate(self, *_: Any, **__: Any) -> Any:
            return rate

        def make_pde_rhs_numba(self, *_: Any, **__: Any) -> Any:
            return rate

        _make_pde_rhs_numba = make_pde_rhs_numba

    grid = pde.CartesianGrid([[0, COUNT * SIDE]] * 3, [COUNT] * 3)
    start = np.full((COUNT,) * 3, COLD * MOULD_C)
    start[FIRST:LAST] = heat_of(np.array(HOT))
    plain = SIDE * SIDE * METAL_C / (6 * METAL_K)

    def solve(step: float, until: float) -> tuple[float, Any]:
        begun = time.process_time()
        found = Box().solve(
            pde.ScalarField(grid, start), t_range=until, dt=step, backend="numba", tracker=None
        )
        return time.process_time() - begun, found.data

    for share in (0.95, 0.5, 0.25):

        def timed(step: float = share * plain) -> Answer:
            # It compiles in every solve: taken off by a second run of a tenth of the steps,
            # the least of three each, as compiling takes longer than the steps.
            solve(step, 4 * step)
            short = min(solve(step, UNTIL / 10)[0] for _ in range(3))
            whole, data = min((solve(step, UNTIL) for _ in range(3)), key=lambda run: run[0])
            heat = data[:, COUNT // 2, COUNT // 2]
            warm = heat / MOULD_C
            warm[FIRST:LAST] = warm_of(heat[FIRST:LAST])
            # Not a number: the machine was too busy to tell the steps from compiling.
            return (whole - short) / 0.9 if whole > short else np.nan, warm

        yield f"step {1e3 * share * plain:.1f} ms", timed


def secant(warm: np.ndarray, old: np.ndarray) -> np.ndarray:
    """Heat capacity of the metal between two temperatures [J/(m³·K)]."""
    rise = warm - old
    slope = METAL_C + np.where(
        (warm > SOLIDUS) & (warm < LIQUIDUS), LATENT / (LIQUIDUS - SOLIDUS), 0.0
    )
    far = np.abs(rise) > 1e-3
    return np.where(far, (heat_of(warm) - heat_of(old)) / np.where(far, rise, 1.0), slope)


def by_fipy() -> Iterator[tuple[str, Callable[[], Answer]]]:
    """Implicit finite volumes of FiPy, harmonic means, secant capacity in two sweeps."""
    fipy: Any = importlib.import_module("fipy")
    solvers: Any = importlib.import_module("fipy.solvers.scipy")

    mesh = fipy.Grid3D(nx=COUNT, ny=COUNT, nz=COUNT, dx=SIDE, dy=SIDE, dz=SIDE)
    x = np.asarray(mesh.cellCenters.value[0])
    metal = (x > FIRST * SIDE) & (x < LAST * SIDE)
    k = fipy.CellVariable(mesh=mesh, value=np.where(metal, METAL_K, MOULD_K))
    near = (np.asarray(mesh.cellCenters.value[1]) < SIDE) & (
        np.asarray(mesh.cellCenters.value[2]) < SIDE
    )

    for step in (2.0, 1.0, 0.5, 0.25):

        def timed(step: float = step) -> Answer:
            warm = fipy.CellVariable(mesh=mesh, value=np.where(metal, HOT, COLD), hasOld=True)
            capacity = fipy.CellVariable(mesh=mesh, value=np.where(metal, METAL_C, MOULD_C))
            equation = fipy.TransientTerm(coeff=capacity) == fipy.DiffusionTerm(
                coeff=k.harmonicFaceValue
            )
            solver = solvers.LinearCGSolver(tolerance=1e-6, iterations=1000)
            begun = time.process_time()
            for _ in range(round(UNTIL / step)):
                warm.updateOld()
                old = np.array(warm.value)
                for _ in range(2):
                    now = np.array(warm.value)
                    capacity.setValue(np.where(metal, secant(now, old), MOULD_C))
                    equation.sweep(warm, dt=step, solver=solver)
            return time.process_time() - begun, np.array(warm.value)[near]

        yield f"step {step:g} s", timed


def by_skfem() -> Iterator[tuple[str, Callable[[], Answer]]]:
    """Trilinear elements of scikit-fem, lumped heat, backward steps, conjugate gradients."""
    skfem: Any = importlib.import_module("skfem")
    forms: Any = importlib.import_module("skfem.helpers")
    dot, grad = forms.dot, forms.grad

    axis = np.linspace(0, COUNT * SIDE, COUNT + 1)
    mesh = skfem.MeshHex.init_tensor(axis, axis, axis)
    basis = skfem.Basis(mesh, skfem.ElementHex1())
    middle = mesh.p[0][mesh.t].mean(axis=0)
    metal = (middle > FIRST * SIDE) & (middle < LAST * SIDE)
    flat = basis.with_element(skfem.ElementHex0())
    k = flat.interpolate(np.where(metal, METAL_K, MOULD_K))
    stiff = skfem.BilinearForm(lambda u, v, w: w.k * dot(grad(u), grad(v))).assemble(basis, k=k)
    stiff = stiff.tocsr()
    of_metal, of_mould = (
        np.asarray(
            skfem.LinearForm(lambda v, w: w.here * v).assemble(
                basis, here=flat.interpolate(np.where(metal, one, 1.0 - one))
            )
        )
        for one in (1.0, 0.0)
    )

    for step in (2.0, 1.0, 0.5, 0.25, 0.1):

        def timed(step: float = step) -> Answer:
            # A node on the plate's face starts at the mean by heat of both sides.
            share = of_metal / (of_metal + of_mould)
            warm = np.where(share > 0.99, HOT, COLD)
            both = (share > 0.01) & (share < 0.99)
            grid = np.linspace(COLD, HOT, 20001)
            held = 0.5 * heat_of(grid) + 0.5 * MOULD_C * grid
            mixed = 0.5 * float(heat_of(np.array(HOT))) + 0.5 * MOULD_C * COLD
            warm[both] = np.interp(mixed, held, grid)
            begun = time.process_time()
            for _ in range(round(UNTIL / step)):
                old, now = warm.copy(), warm
                for _ in range(2):
                    capacity = (of_metal * secant(now, old) + of_mould * MOULD_C) / step
                    matrix = stiff + diags(capacity)
                    now, _ = cg(
                        matrix,
                        capacity * old,
                        x0=now,
                        rtol=1e-6,
                        M=diags(1.0 / matrix.diagonal()),
                    )
                warm = now
            spent = time.process_time() - begun
            line = np.flatnonzero((mesh.p[1] < 1e-9) & (mesh.p[2] < 1e-9))
            line = line[np.argsort(mesh.p[0][line])]
            return spent, 0.5 * (warm[line][1:] + warm[line][:-1])

        yield f"step {step:g} s", timed


def main() -> None:
    """Print the table."""
    want = reference()
    coarse = float(np.sqrt(((reference(10) - want) ** 2).mean()))
    print(f"reference: cells of 0.05 mm; it moves by {coarse:.3f} K when they are twice as large")

    def miss(profile: np.ndarray) -> float:
        return float(np.sqrt(((profile - want) ** 2).mean()))

    spent, profile = ours(GROWTH - 1)
    error = miss(profile)
    print(f"pourcast    by itself      {spent:8.3f} s  error {error:6.2f} K")
    fine = ours(0.1 * (GROWTH - 1))[1]
    for share in (0.02, 0.04, 0.08):
        took, coarse_steps = ours(share)
        alone = float(np.sqrt(((coarse_steps - fine) ** 2).mean()))
        print(
            f"pourcast    share {share:<8g} {took:8.3f} s  error {miss(coarse_steps):6.2f} K,"
            f" {alone:.2f} K by its steps: not compared",
            flush=True,
        )
    for name, module, peer in (
        ("py-pde", "pde", by_py_pde),
        ("FiPy", "fipy", by_fipy),
        ("scikit-fem", "skfem", by_skfem),
    ):
        if importlib.util.find_spec(module) is None:
            print(f"{name}: not installed, left out")
            continue
        last = np.inf
        for label, timed in peer():
            took, found = timed()
            its = miss(found)
            print(
                f"{name:<11} {label:<14} {took:8.3f} s  error {its:6.2f} K"
                f"  {took / spent:7.1f} times ours",
                flush=True,
            )
            if its <= 1.1 * error or its > 0.98 * last or took > 60.0:
                break
            last = its


if __name__ == "__main__":
    main()
