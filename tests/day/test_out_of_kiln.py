"""A flask out of the kiln, against the closed forms of a lumped body and of a plate."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from pourcast.day.out_of_kiln import HotBlock, air_drawn, cooling, minutes_until
from pourcast.errors import InputError
from tests.outside.record import record

ROOM, HOT = 293.15, 873.15


def block(**more: float | bool) -> HotBlock:
    made: dict[str, float | bool] = {
        "radius": 0.03,
        "height": 0.1,
        "conductivity": 0.5,
        "capacity": 1.2e6,
        "convection": 30.0,
        "emissivity": 0.0,
        "room": ROOM,
    }
    return HotBlock(**(made | more))  # type: ignore[arg-type]


def plate(place: float, time: float) -> float:
    """Return the excess of a plate over that at the start; Carslaw and Jaeger 1959, sec. 3.11."""
    thick, diffusivity = 0.03, 0.5 / 1.2e6
    biot = 30.0 * thick / 0.5
    total = 0.0
    for term in range(60):
        low = term * math.pi
        root = brentq(lambda z: z * math.tan(z) - biot, low + 1e-9, low + 0.5 * math.pi - 1e-9)
        weight = 4.0 * math.sin(root) / (2.0 * root + math.sin(2.0 * root))
        decay = math.exp(-(root**2) * diffusivity * time / thick**2)
        total += weight * math.cos(root * place / thick) * decay
    return total


@pytest.mark.parametrize("minutes", [5, 15, 30, 60])
def test_plate_cools_as_the_series_says(minutes: int) -> None:
    """Published: Carslaw and Jaeger (1959), Conduction of Heat in Solids, sec. 3.11.

    Tolerance 0.5 % of the first excess: rings and implicit steps of 5 s.  Found: 0.12 %.
    """
    time, inside, face = cooling(block(is_plate=True), HOT, 0.01, 3600.0)
    place = round(60.0 * minutes / 5.0)

    got = (inside[place] - ROOM) / (HOT - ROOM)

    record(
        "day",
        f"plate 60 mm thick, 10 mm off its middle, after {minutes} min",
        "Carslaw and Jaeger 1959, sec. 3.11",
        got,
        plate(0.01, 60.0 * minutes),
        "-",
        5e-3,
        kind="closed form",
    )
    assert time[place] == 60.0 * minutes
    assert got == pytest.approx(plate(0.01, 60.0 * minutes), abs=5e-3)
    assert (face[place] - ROOM) / (HOT - ROOM) == pytest.approx(
        plate(0.03, 60.0 * minutes), abs=5e-3
    )


def test_conducting_block_cools_as_one_body() -> None:
    """Published: lumped body, Incropera and DeWitt, eq. 5.6; area over volume is 2/R.

    Tolerance 0.2 %: implicit steps.  Found: 0.06 %.
    """
    _, inside, _ = cooling(block(conductivity=1e4), HOT, 0.01, 1800.0)

    got = (inside[-1] - ROOM) / (HOT - ROOM)

    want = math.exp(-30.0 * 2.0 / 0.03 * 1800.0 / 1.2e6)
    record(
        "day",
        "block that conducts without end, after 30 min",
        "Incropera and DeWitt, eq. 5.6",
        got,
        want,
        "-",
        2e-3,
        kind="closed form",
    )
    assert got == pytest.approx(want, abs=2e-3)


def test_twice_the_rings_move_no_minute_by_more_than_two_in_a_hundred() -> None:
    hot = block(radius=0.05, conductivity=0.42, emissivity=0.85, convection=8.0)
    found = []
    for rings in (24, 48):
        time, inside, _ = cooling(hot, HOT, 0.02, 3600.0, rings=rings)
        found.append(minutes_until(time, inside, HOT - 30.0))

    assert None not in found
    assert found[0] == pytest.approx(found[1], rel=0.02)


def test_air_that_is_drawn_through_cools_it_and_still_air_outside_keeps_it() -> None:
    there = cooling(block(), HOT, 0.01, 1800.0)[1][-1]

    assert cooling(block(drawn=1e-4), HOT, 0.01, 1800.0)[1][-1] < there
    assert cooling(block(convection=0.0), HOT, 0.01, 1800.0)[1][-1] == pytest.approx(HOT)


def test_air_drawn_through_a_column_is_darcys() -> None:
    """Exact: a small pressure drop makes it Darcy's law of a liquid, k A Δp / (μ L)."""
    got = air_drawn(
        permeability=1e-13, radius=0.05, length=0.1, air=1e5, below=10.0, temperature=600.0
    )

    density = (1e5 - 5.0) / (287.0 * 600.0)
    want = density * 1e-13 * math.pi * 0.05**2 * 10.0 / (3.3e-5 * 0.1)
    assert got == pytest.approx(want, rel=1e-9)


def test_minutes_are_found_between_two_moments() -> None:
    time, falls = np.array([0.0, 10.0, 20.0]), np.array([100.0, 90.0, 80.0])

    assert minutes_until(time, falls, 85.0) == pytest.approx(15.0)
    assert minutes_until(time, falls, 100.5) == 0.0
    assert minutes_until(time, falls, 10.0) is None


def test_impossible_blocks_are_refused() -> None:
    with pytest.raises(InputError, match="radius"):
        cooling(block(radius=0.0), HOT, 0.0, 60.0)
    with pytest.raises(InputError, match="permeability"):
        air_drawn(permeability=0.0, radius=1.0, length=1.0, air=1e5, below=0.0, temperature=300.0)
