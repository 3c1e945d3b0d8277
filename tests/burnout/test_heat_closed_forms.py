"""Heat of the block against closed forms: cylinder, ramp, drying front, energy and water."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.special import erf, erfc, j0, j1

from pourcast import units as si
from pourcast.burnout import steam
from pourcast.burnout.block_pack import working_radius
from pourcast.burnout.days import Fineness, heat_days, heat_days_with_account
from tests.burnout.heat_cases import RAMP, STEPPED, block, curve, plain
from tests.outside.record import record

FINE = Fineness(rings=40, warming=1.0, longest=10.0)


def series(place: float, fourier: float, biot: float) -> float:
    """Return the difference left at a share of the radius after a step of the air."""
    roots = []
    for number in range(60):
        low, high = max(number * math.pi - 0.5 * math.pi, 1e-9), number * math.pi + math.pi
        grid = np.linspace(low, high, 60)
        values = grid * j1(grid) - biot * j0(grid)
        for a, b, fa, fb in zip(grid, grid[1:], values, values[1:], strict=False):
            if fa * fb < 0.0:
                roots.append(brentq(lambda x: x * j1(x) - biot * j0(x), a, b))
    found = sorted({round(root, 9) for root in roots})
    return float(
        sum(
            2.0 * biot * j0(root * place) * math.exp(-root * root * fourier)
            / ((root * root + biot * biot) * j0(root))
            for root in found
        )
    )  # fmt: skip


@pytest.mark.parametrize("minutes", [20.0, 60.0, 120.0])
def test_step_of_the_kiln_agrees_with_the_series_of_the_cylinder(minutes: float) -> None:
    """Published: Carslaw and Jaeger (1959), Conduction of Heat in Solids, 7.7.

    A long cylinder of 50 mm radius, its air 200 K hotter from one moment on, Biot number
    2.5.  Tolerance 0.4 K of 200: rings of 1.25 mm and steps of 10 s err by that (see
    the order tests).  Found: 0.03 to 0.23 K.
    """
    case = plain()
    days = heat_days(case, curve((0, 220), (3, 220)), moments=181, fineness=FINE)
    index = round(minutes)
    fourier = 0.5 / (1300.0 * 1000.0) * 60.0 * minutes / 0.05**2

    for name, place, got in (
        ("core", 0.0, days.core[0, index]),
        ("wall", 1.0, days.wall[0, index]),
        ("piece", 0.4, days.piece[0, index]),
    ):
        want = 493.15 - 200.0 * series(place, fourier, 2.5)
        record(
            "burnout",
            f"{name} of a dry cylinder {minutes:g} min after a step of the kiln",
            "Carslaw and Jaeger (1959), 7.7",
            got,
            want,
            "K",
            0.4,
            kind="closed form",
        )
        assert got == pytest.approx(want, abs=0.4)


def ramp_lag(rings: int, longest: float = 30.0) -> float:
    """Return by how much the core lags the kiln late in a steady ramp of 100 K/h [K]."""
    case = plain()
    days = heat_days(
        case,
        curve((0, 20), (8, 820)),
        moments=3,
        fineness=Fineness(rings=rings, warming=50.0, longest=longest),
    )
    return float(days.kiln[0, -1] - days.core[0, -1])


def exact_lag() -> float:
    """Return b R²/4α (1 + 2/Bi) of that ramp [K]."""
    diffusivity, biot = 0.5 / 1.3e6, 25.0 * 0.05 / 0.5
    return 100.0 / 3600.0 * 0.05**2 / (4.0 * diffusivity) * (1.0 + 2.0 / biot)


def test_lag_of_the_core_in_a_ramp_agrees_with_the_closed_form() -> None:
    """Published: b R²/4α, and its film; Carslaw and Jaeger (1959), 7.9.

    Tolerance 0.3 %: rings of 2.5 mm, whose error falls fourfold at half the width (next test).
    Found: 0.16 % high.
    """
    got, want = ramp_lag(20), exact_lag()

    record(
        "burnout", "lag of the core in a ramp", "Carslaw and Jaeger (1959), 7.9",
        got, want, "K", 3e-3 * want,
     kind="closed form",)  # fmt: skip
    assert got == pytest.approx(want, rel=3e-3)


def heat_held(rings: int) -> float:
    """Return the mean temperature over the core in a steady ramp [K], from heat taken up."""
    case = plain()
    fine = Fineness(rings=rings, warming=50.0, longest=30.0)
    days, account = heat_days_with_account(case, curve((0, 20), (8, 820)), moments=3, fineness=fine)
    mass = math.pi * 0.05**2 * 5e4 * 1300.0
    mean = 293.15 + float(account.kept[0]) / (mass * 1000.0)
    return float(days.kiln[0, -1]) - mean


def test_error_falls_with_the_square_of_the_width_of_the_rings() -> None:
    """Published: the mean lags the air by b R²/8α (1 + 4/Bi) in a steady ramp; order 2.

    The order is that of finite volumes (Patankar 1980).  Tolerance 0.2 as in the
    house rules; the last error is bound as well.
    """
    want = 100.0 / 3600.0 * 0.05**2 / (8.0 * 0.5 / 1.3e6) * (1.0 + 4.0 / 2.5)
    errors = [abs(heat_held(rings) - want) for rings in (5, 10, 20, 40)]

    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))

    assert orders == pytest.approx(2.0, abs=0.2)
    assert errors[-1] < 1e-3 * want


def test_error_falls_with_the_step() -> None:
    """Order 1 in the step, that of an implicit step (Patankar 1980); against the series.

    Carslaw and Jaeger (1959), 7.7, at the core an hour after a step of the kiln.  The
    steps start short and grow, which is why the order is measured between coarse steps;
    tolerance 0.2.
    """
    case = plain()
    fourier = 0.5 / 1.3e6 * 3600.0 / 0.05**2
    want = 493.15 - 200.0 * series(0.0, fourier, 2.5)

    def error(longest: float) -> float:
        fine = Fineness(rings=160, warming=1e3, longest=longest)
        days = heat_days(case, curve((0, 220), (1, 220)), moments=2, fineness=fine)
        return abs(float(days.core[0, -1]) - want)

    errors = [error(longest) for longest in (240.0, 120.0, 60.0)]
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))

    assert orders == pytest.approx(1.0, abs=0.2)
    assert errors[-1] < 2.0


def test_drying_front_agrees_with_neumann() -> None:
    """Published: Neumann's solution, Carslaw and Jaeger (1959), 11.2, two phases.

    Front near the face of a block so wide that it is flat; the steam that goes out through
    the dry part takes heat up, which shifts the argument of the error function as the
    change of volume does there.  Open pores, so water boils at one temperature.
    Tolerance 3 %: 400 rings of 2.5 mm over a front of 51 mm, on a radius of 1 m, where half of
    depth over radius, 2.5 %, is bend.  Found: 1.6 % deep.
    """
    k_wet, k_dry, water, heat, density = 1.0, 0.4, 400.0, 1000.0, 1300.0
    hot, start, boils = 673.15, 343.15, steam.BOILING
    case = plain(
        conductivity=k_dry, heat=heat, density=density, radius=1.0, free_water=water,
        wet_conductivity=k_wet, convection=1e5, permeability=1e-9, start_temperature=start,
        porosity=0.4 + 1e-9,
    )  # fmt: skip
    hours = 4.0
    fine = Fineness(rings=400, warming=2.0, longest=20.0)
    days = heat_days(case, curve((0, hot - 273.15), (hours, hot - 273.15)), fineness=fine)
    depth = 1.0 - float(days.dry_radius[0, -1])

    dry = k_dry / (density * heat)
    wet_heat = density * heat + water * steam.LIQUID_HEAT
    wet = k_wet / wet_heat
    latent = water * steam.BOILING_HEAT
    wet_share = math.sqrt(dry / wet)

    def balance(front: float) -> float:
        shift = front * water * steam.STEAM_HEAT / (density * heat)
        span = float(erf(front + shift) - erf(shift))
        into = k_dry * (hot - boils) * math.exp(-((front + shift) ** 2)) / span
        on = k_wet * (boils - start) * wet_share * math.exp(-((front * wet_share) ** 2))
        on /= float(erfc(front * wet_share))
        return (into - on) / math.sqrt(math.pi * dry) - latent * front * math.sqrt(dry)

    front = float(brentq(balance, 1e-4, 2.0))
    want = 2.0 * front * math.sqrt(dry * 3600.0 * hours)

    record(
        "burnout", "depth of the drying front after 4 h, flat block",
        "Neumann; Carslaw and Jaeger (1959), 11.2", 1e3 * depth, 1e3 * want, "mm", 0.03e3 * want,
     kind="closed form",)  # fmt: skip
    assert depth == pytest.approx(want, rel=0.03)


@pytest.mark.parametrize("wall", ["bare", "perforated", "solid"])
@pytest.mark.parametrize("day", [RAMP, STEPPED])
def test_energy_and_water_are_kept_to_rounding(wall: str, day: object) -> None:
    """Conservation: heat through the face is kept or leaves with steam; water is boiled or left.

    Tolerance 1e-10 of the heat: a thousand steps of double precision.  Found: 2e-15.
    """
    case = block(
        3,
        wall=wall,
        open_share=np.array([0.1, 0.2, 0.4]),
        hole_diameter=np.full(3, 0.01),
        flask_gap=np.array([5e-6, 15e-6, 5e-5]),
        contact_conductance=500.0,
    )
    days, account = heat_days_with_account(case, day)  # type: ignore[arg-type]

    left_over = account.through_face - account.kept - account.with_steam
    assert np.abs(left_over).max() < 1e-10 * account.through_face.min()
    volume = math.pi * case.radius**2 * case.height
    water = case.free_water * volume
    assert account.boiled + days.free_water[:, -1] * water == pytest.approx(water, rel=1e-10)
    assert days.free_water[:, -1].tolist() == [0.0, 0.0, 0.0]
    bound = case.gypsum * volume * 0.20927 * (1.0 - days.bound_water[:, -1])
    assert account.bound == pytest.approx(bound, rel=1e-9)


def test_heat_kept_is_that_of_a_dry_block_at_the_heat_of_the_kiln() -> None:
    """Conservation: what stays depends on where the block ends, not on its way there.

    Heat of the burnt block from 20 to 700 °C by the table of its specific heat (trapezia),
    less what its water and gypsum held.  Tolerance 1e-6: the block is that near the kiln.
    """
    case = block(2, wall="solid", flask_gap=np.full(2, 2e-5), permeability=np.array([3e-14, 5e-13]))
    days, account = heat_days_with_account(case, curve((0, 20), (6, 700), (40, 700)))
    at = np.union1d(case.burnt_specific_heat_at, [293.15, 973.15])
    heat = np.interp(at, case.burnt_specific_heat_at, case.burnt_specific_heat[0])
    inside = (at >= 293.15) & (at <= 973.15)
    solid = float(np.trapezoid(heat[inside], at[inside]))
    water = case.gypsum * 0.20927
    burnt = case.set_density - water
    cold = 293.15 - steam.BASE
    at_base = float(np.interp(steam.BASE, case.burnt_specific_heat_at, case.burnt_specific_heat[0]))
    bound_heat = (float(case.gypsum_specific_heat[0]) - (1.0 - 0.20927) * at_base) / 0.20927
    taken = case.first_heat[0] + case.second_heat[0] * (1.0 - 0.75 * 0.20927)
    before = water * (steam.STEAM_BASE + bound_heat * cold) - case.gypsum * taken
    before += float(case.free_water[0]) * steam.LIQUID_HEAT * cold

    volume = math.pi * case.radius**2 * case.height
    assert account.kept == pytest.approx(volume * (burnt * solid - before), rel=1e-6)
    assert days.bound_water[:, -1] == pytest.approx(0.0, abs=1e-9)


def test_heat_agrees_with_a_general_solver() -> None:
    """Against scipy: method of lines on nodes, BDF; another cut of the same equation.

    A dry block whose conductivity and heat change with temperature, with radiation at
    its face, in the stepped day.  Tolerance 1 K: the tables are read every 20 K and
    bend between.  Found: 0.3 K.
    """
    case = block(free_water=0.0, gypsum=1e-6, height=50.0, set_conductivity=0.42)
    fine = Fineness(rings=40, warming=1.0, longest=15.0)
    days = heat_days(case, STEPPED, moments=27, fineness=fine)
    nodes = 61
    radius = np.linspace(0.0, case.radius, nodes)
    width = radius[1]
    density = case.set_density - 1e-6 * 0.20927

    def slopes(time: float, kelvin: si.Kelvins) -> si.KelvinsPerSecond:
        lead = np.interp(kelvin, case.burnt_conductivity_at, case.burnt_conductivity[0])
        heat = np.interp(kelvin, case.burnt_specific_heat_at, case.burnt_specific_heat[0])
        middle = 0.5 * (radius[1:] + radius[:-1])
        flow = middle * 0.5 * (lead[1:] + lead[:-1]) * np.diff(kelvin) / width
        gain = np.zeros(nodes)
        gain[0] = flow[0] / (0.125 * width**2)
        gain[1:-1] = np.diff(flow) / (radius[1:-1] * width)
        air = np.interp(time, STEPPED.time, STEPPED.temperature)
        face = 8.0 * (air - kelvin[-1])
        face += float(case.emissivity[0]) * 5.670374419e-8 * (air**4 - kelvin[-1] ** 4)
        outer = radius[-1]
        inner = outer - 0.5 * width
        gain[-1] = (outer * face - flow[-1]) / (0.5 * (outer**2 - inner**2))
        return np.asarray(gain / (density * heat))

    found = solve_ivp(
        slopes, (0.0, float(days.time[-1])), np.full(nodes, 293.15), method="BDF",
        t_eval=days.time, rtol=1e-7, atol=1e-4, max_step=120.0,
    )  # fmt: skip

    miss_core = np.abs(found.y[0] - days.core[0]).max()
    miss_wall = np.abs(found.y[-1] - days.wall[0]).max()
    record(
        "burnout", "dry block in a stepped day, largest miss of core and wall",
        "scipy solve_ivp, nodes and BDF", max(miss_core, miss_wall), 0.0, "K", 1.0,
     kind="reference library",)  # fmt: skip
    assert max(miss_core, miss_wall) < 1.0


@pytest.mark.parametrize("shape", [0.3, 0.7, 1.4, 5.0])
def test_working_radius_gives_the_lag_of_the_finite_block(shape: float) -> None:
    """Against a direct solution of Poisson's equation in the finite cylinder, even sources.

    Carslaw and Jaeger (1959), 8.3, has the series; here it is solved on a grid by
    relaxation of the modes along the height, sin series: u(0) = Σ 4/(π n) (1 - 1/I0(λ R))/λ².
    Tolerance 0.1 %.
    """
    from scipy.special import i0e

    radius, height = 1.0, 2.0 * shape
    centre = 0.0
    for n in range(1, 4001, 2):
        wave = n * math.pi / height
        inverse = math.exp(-wave) / float(i0e(wave)) if wave < 700.0 else 0.0
        sign = 1.0 if n % 4 == 1 else -1.0
        centre += sign * 4.0 / (math.pi * n) * (1.0 - inverse) / wave**2

    got = working_radius(radius, height) ** 2 / 4.0

    assert got == pytest.approx(centre, rel=1e-3)


def test_a_long_block_works_with_its_own_radius() -> None:
    """Limit: ends far away do not matter."""
    assert working_radius(0.05, 1.0) == pytest.approx(0.05, rel=1e-6)
