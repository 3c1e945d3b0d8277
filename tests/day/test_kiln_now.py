"""What is read of the kiln at this moment, against one normal law of the whole day."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.burnout.kiln import air_of, moved
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.day.judge import judged
from pourcast.day.kiln_now import FADES, JITTER, PULL, READ, kiln_now
from pourcast.day.kilns import plain_kiln, spans_of
from pourcast.day.model import DayEvent, DayLog, DayReading
from pourcast.day.so_far import SoFar, so_far
from pourcast.materials import library

HOUR, ROOM, LOOK = 3600.0, 293.15, 900.0


def one_place() -> SoFar:
    """Return a day that was turned to 2 and stayed there."""
    heat = 20.0 + 600.0 * (1.0 - np.exp(-np.arange(17) / 10.0))
    return day_of(heat, [2.0] * 17)


def day_of(heat: si.Table, dial: list[float]) -> SoFar:
    """Return a day of looks, each a reading in °C and a place of the dial from then on."""
    log = DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=LOOK * look, temperature=si.to_si(each, "degC"))
            for look, each in enumerate(heat.tolist())
        ),
        events=tuple(
            DayEvent(act="turned", at=LOOK * look, setting=each) for look, each in enumerate(dial)
        ),
    )
    return so_far(log, judged(log), ROOM)


def by_hand(day: SoFar, known: KilnFit) -> tuple[si.Table, si.Table]:
    """Return what the readings say of the unknowns, all at once: one normal law, conditioned.

    The unknowns are loss and heatings, then the pull and the air at each reading.  Each column
    of ``noise`` is one independent error, so that their covariance is its square.
    """
    lines, changes, _, spans = spans_of(day, known.body)
    own, count = lines.shape[1], changes.size
    # Unknowns and errors: own, first pull, first air, then of each span its pull and its air.
    errors = np.zeros((own + 2 + 2 * count,) * 2)
    errors[:own, :own] = known.covariance
    errors[own, own], errors[own + 1, own + 1] = PULL**2, READ**2
    pull, air = np.eye(errors.shape[0])[own : own + 2]
    middle_air = day.temperature[0]
    middle = np.array([known.body.loss, *known.body.heating[1:]])
    seen, told = [], []
    for place, span in enumerate(spans.tolist()):
        at = own + 2 + 2 * place
        fade = np.exp(-span / FADES)
        wanders = 2.0 * PULL**2 / FADES
        errors[at, at] = PULL**2 * (1.0 - fade**2)
        errors[at + 1, at + 1] = JITTER * span + wanders * span**3 / 3.0
        errors[at, at + 1] = errors[at + 1, at] = -wanders * span**2 / 2.0
        air = air - span * pull
        air[:own] += lines[place]
        air[at + 1] += 1.0
        pull = fade * pull
        pull[at] += 1.0
        middle_air = middle_air + lines[place] @ middle
        seen.append(air)
        told.append(middle_air)
    rows = np.array(seen)
    last = np.vstack((np.eye(errors.shape[0])[:own], pull, air))
    between = rows @ errors @ rows.T + READ**2 * np.eye(count)
    gain = last @ errors @ rows.T @ np.linalg.inv(between)
    read = day.temperature[day.is_read][1:]
    state = np.concatenate((middle, [0.0, told[-1]])) + gain @ (read - np.array(told))
    return state, last @ errors @ last.T - gain @ rows @ errors @ last.T


def test_reading_by_reading_is_the_normal_law_of_all_of_them_at_once() -> None:
    """Exact: Kalman (1960) against the conditional of one normal law, written out.

    Tolerance 1e-6 of a standard error: rounding.
    """
    plain = plain_kiln(library().kiln, 5, ROOM)
    dial = [1.0, 2, 3, 4, 3, 2, 4, 3, 1, 5]
    heat = air_of(plain.body, LOOK * np.arange(10.0), np.array(dial), ROOM) - 273.15
    day = day_of(heat + 4.0 * np.sin(np.arange(10.0)), dial)

    now = kiln_now(day, plain)

    state, spread = by_hand(day, plain)
    error = np.sqrt(np.diag(spread))
    found = np.array([now.body.loss, *now.body.heating[1:], now.pull, now.air])
    assert (found - state) / error == pytest.approx(np.zeros(found.size), abs=1e-6)
    assert now.spread / np.outer(error, error) == pytest.approx(
        spread / np.outer(error, error), abs=1e-6
    )


def test_bricks_and_block_are_told_apart_from_the_places_of_the_dial() -> None:
    """Made up: a kiln that is known, from which a block begins to take 40 K/h.

    Within two hours it is found by half, and the place that was not used stays as it was
    known; with the records' kiln of old readings forgotten it was taken for a weaker dial.
    """
    plain = plain_kiln(library().kiln, 5, ROOM)
    sure = replace(plain, covariance=1e-4 * plain.covariance)
    air, heat = ROOM, []
    for look in range(25):
        heat.append(air - 273.15)
        taken = 40.0 / HOUR if look >= 16 else 0.0
        push = float(plain.body.heating[2]) - taken
        air = float(moved(plain.body, np.array([air]), np.array([push]), LOOK)[0])

    now = kiln_now(day_of(np.array(heat), [2.0] * 25), sure)

    assert 20.0 / HOUR < now.pull < 45.0 / HOUR
    assert now.body.heating[5] == pytest.approx(plain.body.heating[5], rel=0.02)
    assert now.air == pytest.approx(si.to_si(heat[-1], "degC"), abs=READ)


def test_readings_far_from_what_was_expected_widen_the_doubt() -> None:
    day = one_place()
    plain = plain_kiln(library().kiln, 5, ROOM)
    rough = replace(
        day, temperature=day.temperature + 20.0 * (-1.0) ** np.arange(day.temperature.size)
    )

    assert kiln_now(day, plain).scatter < 1.0
    assert kiln_now(rough, plain).scatter > 1.5


def test_a_kiln_without_readings_is_as_it_was_known() -> None:
    plain = plain_kiln(library().kiln, 5, ROOM)

    now = kiln_now(so_far(DayLog(start=0.0), (), ROOM), plain)

    assert now.pull == 0.0
    assert now.air == ROOM
    assert now.body.heating == pytest.approx(plain.body.heating)
