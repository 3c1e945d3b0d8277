"""Particles weighed by heat alone, and their fates worked out behind it."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.burnout.model import BurnoutCase
from pourcast.burnout.solve import ended, solve
from pourcast.day import weighed as under_test
from pourcast.day.case import DayCase
from pourcast.day.judge import judged
from pourcast.day.model import DayLog, DayReading
from pourcast.day.particles import along, log_weights, rows_of, weights_of
from pourcast.day.solve import reforecast
from pourcast.day.weighed import weighed
from tests.day.test_solve import as_planned

HALVES = 2


def core_of(case: DayCase, row: int, off: si.Kelvin) -> DayLog:
    """Return seven hours as planned with a core like that of one particle, so much hotter."""
    heat = solve(
        BurnoutCase(
            block=rows_of(case.block, np.array([row])),
            matter=rows_of(case.matter, np.array([row])),
            burning=rows_of(case.burning, np.array([row])),
            curve=case.planned,
        )
    ).heat
    log = as_planned(case, 7.0)
    read = tuple(
        DayReading(
            place="core", at=at, temperature=off + float(np.interp(at, heat.time, heat.core[0]))
        )
        for at in np.arange(1800.0, 25_201.0, 1800.0).tolist()
    )
    return replace(log, readings=(*log.readings, *read))


def test_heat_first_and_fate_after_are_the_whole_burnout_to_the_last_digit(case: DayCase) -> None:
    """Against `pourcast.burnout.solve.solve`, which goes both ways at once."""
    log = as_planned(case, 3.0)
    curves = [case.planned] * HALVES

    results, weights, renewed = weighed(
        (case.block, case.matter, case.burning), curves, judged(log), 0.0, seed=0, threads=1
    )

    assert not renewed
    assert weights == pytest.approx(np.full(weights.size, 1.0 / weights.size))
    half = weights.size // HALVES
    whole = solve(
        BurnoutCase(
            block=rows_of(case.block, np.arange(half)),
            matter=rows_of(case.matter, np.arange(half)),
            burning=rows_of(case.burning, np.arange(half)),
            curve=case.planned,
        )
    )
    assert np.array_equal(results[0].heat.core, whole.heat.core)
    assert np.array_equal(results[0].fate.char, whole.fate.char)
    assert np.array_equal(results[0].ready_at, whole.ready_at, equal_nan=True)


def test_drawn_anew_only_those_that_go_on_are_burnt_out(
    case: DayCase, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made to fail: fates were worked out for the particles that were left behind as well."""
    asked: list[int] = []

    def counted(burnout: BurnoutCase, heat: object) -> object:
        asked.append(burnout.block.free_water.size)
        return ended(burnout, heat)  # type: ignore[arg-type]

    monkeypatch.setattr(under_test, "ended", counted)

    said = reforecast(case, core_of(case, 0, 40.0))

    assert said.renewed
    assert sum(asked) == said.particles


def test_weights_are_those_of_the_sum_written_out(case: DayCase) -> None:
    """Equation (1) of `pourcast.day.particles`, term by term."""
    log = core_of(case, 1, 0.0)  # one with many near it, so that none are drawn anew
    results, weights, renewed = weighed(
        (case.block, case.matter, case.burning),
        [case.planned] * HALVES,
        judged(log),
        0.0,
        seed=0,
        threads=1,
    )
    heats = [each.heat for each in results]
    assert not renewed
    seen = [each for each in log.readings if each.place == "core"]
    total = np.zeros(weights.size)
    for each in seen:
        near = sum(abs(other.at - each.at) <= 900.0 for other in seen)
        before, said, after = (
            np.concatenate([along(heat.time, heat.core, moment) for heat in heats])
            for moment in (each.at - 600.0, each.at, each.at + 600.0)
        )
        moved = 0.5 * np.median(np.abs(after - before))
        total -= 0.5 / near * (each.temperature - said) ** 2 / (15.0**2 + moved**2)

    assert log_weights(heats, judged(log), 0.0) == pytest.approx(total - total.max(), abs=1e-9)
    assert weights == pytest.approx(weights_of(total), abs=1e-12)
