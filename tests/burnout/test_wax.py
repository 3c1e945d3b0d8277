"""Wax: out of the gate, into the block, up in smoke."""

import math
from dataclasses import replace

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.fate import fates, followed
from pourcast.burnout.wax import drain_rate, share_over
from tests.burnout.fate_cases import HOUR, block, burning, day, matter, values

RAMP = ((0.0, 20.0), (6.0, 700.0), (7.0, 700.0))


def test_drain_is_slow_flow_under_its_own_weight() -> None:
    """Published: friction factor 64/Re of laminar flow, through the open package fluids.

    The speed at which friction takes one metre of head a metre.  Tolerance: rounding.
    """
    bore, density, viscosity = 2e-3, 820.0, 0.03

    speed = drain_rate(bore, density, viscosity) / (density * math.pi / 4.0 * bore**2)

    reynolds = fluids.Reynolds(V=speed, D=bore, rho=density, mu=viscosity)
    drop = fluids.friction_laminar(reynolds) / bore * 0.5 * density * speed**2
    assert reynolds < 2000.0
    assert drop == pytest.approx(density * si.GRAVITY)


def test_wax_runs_out_as_its_end_of_melting_is_passed() -> None:
    """Definition: the share that does not soak in runs out; a wide gate takes seconds."""
    own = matter(dry=0.0, wax=20e-3)
    heat = day(*RAMP, every=60.0)

    fate = fates(block(), own, burning(), heat)

    melted = np.interp(own.wax_melt_end[0], heat.piece[0], heat.time)
    soaked = 20e-3 * own.wax_soak[0]
    before, after = heat.time < melted, heat.time > melted + 60.0
    assert fate.wax[0, before] == pytest.approx(20e-3)
    assert fate.wax[0, after].max() == pytest.approx(soaked)
    assert fate.wax_drained[0] == pytest.approx(1.0 - own.wax_soak[0])


def test_narrow_gate_takes_the_minutes_that_its_bore_says() -> None:
    """Exact: 17 g through a gate at a steady rate; a step of the clock is the tolerance."""
    own = matter(dry=0.0, wax=20e-3)
    held = day((0.0, 100.0), (3.0, 100.0), every=60.0)
    gate = replace(block(), gate_diameter=1.0e-3)

    fate = fates(gate, own, burning(), held)

    rate = drain_rate(1.0e-3, float(own.wax_melt_density[0]), float(own.wax_viscosity[0]))  # type: ignore[index]
    minutes = 17e-3 / rate / 60.0
    over = np.flatnonzero(fate.wax[0] <= 3e-3 * (1.0 + 1e-9))[0]
    assert 10.0 < minutes < 100.0
    assert over == pytest.approx(minutes, abs=1.5)


def test_soaked_wax_goes_between_its_two_temperatures() -> None:
    """Definition: half of it is gone half way up; all of it at the end."""
    own = matter(dry=0.0, wax=20e-3)
    heat = day(*RAMP, every=60.0)

    fate = fates(block(), own, burning(), heat)

    soaked = 20e-3 * own.wax_soak[0]
    middle = 0.5 * (own.wax_boil_start[0] + own.wax_boil_end[0])
    half = np.interp(middle, heat.piece[0], fate.wax[0])
    assert half == pytest.approx(0.5 * soaked, rel=0.02)
    end = np.interp(own.wax_boil_end[0], heat.piece[0], heat.time)
    assert fate.wax_gone_at[0] == pytest.approx(end, abs=60.0)
    assert fate.wax[0, -1] == 0.0


def test_wax_vapour_takes_its_oxygen_and_leaves_its_char() -> None:
    """Formula C25H52: 3.45 kg of oxygen a kilogram, char and vapour together.  Rounding."""
    own = matter(dry=0.0, wax=20e-3)

    fate, account = followed(block(), own, burning(changes=40.0), day(*RAMP))

    soaked = 20e-3 * own.wax_soak[0]
    assert account[0, at.SMOKE] == 0.0
    assert fate.oxygen_used[0] == pytest.approx(own.wax_oxygen[0] * soaked, rel=1e-6)
    assert account[0, at.TO_CHAR] * 12.011e-3 == pytest.approx(0.01 * soaked, rel=1e-6)


def test_a_cool_day_leaves_the_wax() -> None:
    """Refused to guess: what does not get hot enough is not gone, and says so."""
    fate = fates(block(), matter(dry=0.0, wax=20e-3), burning(), day((0.0, 20.0), (4.0, 60.0)))

    assert np.isnan(fate.wax_gone_at[0])
    assert fate.wax[0, -1] == pytest.approx(20e-3)
    assert fate.wax_drained[0] == 0.0


def test_wax_that_soaks_nowhere_is_gone_when_it_has_run_out() -> None:
    """Limit: a block that takes up nothing is free of wax before it is hot."""
    own = replace(matter(dry=0.0, wax=20e-3), wax_soak=values(1, 0.0))

    fate = fates(block(), own, burning(), day((0.0, 20.0), (2.0, 120.0)))

    assert 0.0 < fate.wax_gone_at[0] < 2.0 * HOUR
    assert fate.wax[0, -1] == 0.0


def test_without_wax_none_is_gone_late() -> None:
    fate = fates(block(), matter(dry=1e-3), burning(), day(*RAMP))

    assert fate.wax_gone_at[0] == 0.0
    assert fate.wax_drained[0] == 0.0


@given(soak=st.floats(0.0, 1.0), wax=st.floats(1e-4, 0.2), gate=st.floats(3e-4, 1e-2))
def test_wax_only_ever_leaves(soak: float, wax: float, gate: float) -> None:
    """Property: never more than before, never below nothing, drained at most what melts free."""
    own = replace(matter(dry=0.0, wax=wax), wax_soak=values(1, soak))
    heat = day((0.0, 20.0), (2.0, 300.0), (2.5, 200.0), (5.0, 600.0), every=600.0)

    fate = fates(replace(block(), gate_diameter=gate), own, burning(), heat)

    assert (np.diff(fate.wax[0]) <= 1e-15).all()
    assert fate.wax[0, -1] >= 0.0
    assert -1e-12 <= fate.wax_drained[0] <= 1.0 - soak + 1e-12


def test_share_between_two_temperatures_is_straight() -> None:
    assert [share_over(kelvin, 500.0, 700.0) for kelvin in (400.0, 500.0, 550.0, 900.0)] == [
        0.0,
        0.0,
        0.25,
        1.0,
    ]
