"""The day forecast again: what it must do whatever the numbers are; house rules.

The physics underneath is held against the outside in tests/burnout.
"""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.day.case import DayCase, day_case
from pourcast.day.model import DayEvent, DayForecast, DayLog, DayReading
from pourcast.day.solve import advice, reforecast
from pourcast.day.turns import NO_DIAL, STAYS_OFF
from pourcast.errors import InputError

HOUR = 3600.0


def as_planned(case: DayCase, hours: float, *, off: float = 0.0) -> DayLog:
    """Return a day that goes as planned up to an hour, or so many kelvin off."""
    at = np.arange(0.0, hours * HOUR + 1.0, 900.0)
    heat = np.interp(at, case.planned.time, case.planned.temperature) + off * (at > 0.0)
    return DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=time, temperature=read)
            for time, read in zip(at.tolist(), heat.tolist(), strict=True)
        ),
    )


def by_name(said: DayForecast) -> dict[str, float]:
    hours = {"dry": said.dry_at.p50, "clean": said.clean_at.p50}
    return {name: np.inf if time is None else time for name, time in hours.items()}


def test_a_day_that_goes_as_planned_is_on_time(case: DayCase) -> None:
    """The plan is told by the same particles, so the middles agree to 10 min.

    Tolerance: the futures go on at six paces about the plan.  Found: under 4 min.
    """
    said = reforecast(case, as_planned(case, 5.0))

    assert case.expected.dry is not None
    assert case.expected.clean is not None
    assert by_name(said)["dry"] == pytest.approx(case.expected.dry, abs=600.0)
    assert by_name(said)["clean"] == pytest.approx(case.expected.clean, abs=600.0)


def test_the_same_log_gives_the_same_day_to_the_last_digit(case: DayCase) -> None:
    """It is a pure function of the log: threads, order and doubled readings change nothing."""
    log = as_planned(case, 4.0)
    mixed = DayLog(start=0.0, readings=(log.readings * 2)[::-1])

    first, second = reforecast(case, log), reforecast(replace(case, threads=3), mixed)

    assert first.dry_at == second.dry_at
    assert first.clean_at == second.clean_at
    assert first.chance_clean == second.chance_clean
    assert first.core == second.core


def test_a_day_moved_in_time_is_the_same_day(case: DayCase) -> None:
    """A start at another moment shifts no hour that counts from the start."""
    log = as_planned(case, 4.0)
    later = DayLog(
        start=1e9, readings=tuple(replace(each, at=each.at + 1e9) for each in log.readings)
    )

    assert reforecast(case, later).dry_at == reforecast(case, log).dry_at


def test_a_colder_kiln_is_later_and_a_hotter_one_sooner(case: DayCase) -> None:
    cold, usual, hot = (
        by_name(reforecast(case, as_planned(case, 5.0, off=off))) for off in (-40.0, 0.0, 40.0)
    )

    assert hot["dry"] < usual["dry"] < cold["dry"]


def test_taking_the_flask_out_while_wet_costs_time(case: DayCase) -> None:
    log = as_planned(case, 5.0)
    out = (DayEvent(act="out", at=3.0 * HOUR), DayEvent(act="in", at=4.0 * HOUR))

    assert (
        by_name(reforecast(case, replace(log, events=out)))["dry"]
        > by_name(reforecast(case, log))["dry"] + 600.0
    )


def test_a_core_that_reads_dry_early_draws_the_day_earlier(case: DayCase) -> None:
    """Particles whose core left 100 °C by then weigh more; the others less."""
    log = as_planned(case, 6.0)
    assert case.expected.dry is not None
    early = DayReading(
        place="core", at=case.expected.dry - 1800.0, temperature=si.to_si(220.0, "degC")
    )
    there = DayLog(start=0.0, readings=(*as_planned(case, 6.5).readings, early))

    before, after = reforecast(case, log), reforecast(case, there)

    assert by_name(after)["dry"] < by_name(before)["dry"]
    assert after.alone < before.alone


def test_a_hot_spell_is_told_with_what_can_be_done(case: DayCase) -> None:
    log = as_planned(case, 9.0)
    hot = DayReading(place="kiln", at=9.25 * HOUR, temperature=si.to_si(805.0, "degC"))

    said = reforecast(case, replace(log, readings=(*log.readings, hot)))

    told = [each for each in said.findings if "was over 760 °C" in each.text]
    assert len(told) == 1
    assert "Turn it off now" in told[0].text
    assert "cannot be undone" in told[0].text
    assert not [e for e in reforecast(case, log).findings if "was over" in e.text]


def test_a_power_cut_is_told_and_made_up(case: DayCase) -> None:
    log = as_planned(case, 12.0)
    cold = tuple(
        replace(each, temperature=each.temperature - 120.0)
        if 10.0 * HOUR < each.at < 11.0 * HOUR
        else each
        for each in log.readings
    )

    said = reforecast(case, replace(log, readings=cold))

    (told,) = (each.text for each in said.findings if "under the plan for" in each.text)
    # At 10 h it was clean, so that nothing but the plan asks for more.
    assert "clean already" in told
    assert "hold on" not in told
    assert said.curve.time[-1] > reforecast(case, log).curve.time[-1] + 1800.0


def test_a_questioned_reading_is_kept_and_told_and_counts_for_nothing(case: DayCase) -> None:
    log = as_planned(case, 5.0)
    slip = DayReading(place="kiln", at=4.1 * HOUR, temperature=si.to_si(25.0, "degC"))

    said = reforecast(case, replace(log, readings=(*log.readings, slip)))

    assert any(each.reading == slip and each.doubt == "cold probe" for each in said.readings)
    assert any("does not count" in each.text for each in said.findings)
    assert said.dry_at == reforecast(case, log).dry_at


def test_a_day_without_a_reading_is_the_plan(case: DayCase) -> None:
    said = reforecast(case, DayLog(start=0.0))

    assert case.expected.dry is not None
    assert by_name(said)["dry"] == pytest.approx(case.expected.dry, abs=600.0)
    assert said.turns == ()
    assert "dial" in said.turns_reason


def test_a_turn_since_the_last_reading_says_how_the_dial_stands(case: DayCase) -> None:
    """What was just kept is not asked for again, nor advised once more."""
    cold = DayReading(place="kiln", at=0.0, temperature=293.15)
    hot = tuple(
        DayReading(place="kiln", at=60.0 * minute, temperature=1043.15) for minute in (600, 615)
    )
    up = DayEvent(act="turned", at=0.0, setting=2.0)
    off = DayEvent(act="turned", at=60.0 * 616, setting=0.0)

    _, begun = advice(case, DayLog(start=0.0, readings=(cold,), events=(replace(up, at=60.0),)))
    turns, stays = advice(case, DayLog(start=0.0, readings=(cold, *hot), events=(up, off)))

    assert begun != NO_DIAL
    assert (turns, stays) == ((), STAYS_OFF)


def test_a_flask_that_was_poured_has_no_rest_of_the_plan(case: DayCase) -> None:
    end = float(case.planned.time[-1]) / HOUR
    log = as_planned(case, end)
    poured = (
        DayEvent(act="turned", at=0.0, setting=2.0),
        DayEvent(act="out", at=end * HOUR),
        DayEvent(act="poured", at=end * HOUR + 45.0),
    )

    said = reforecast(case, replace(log, events=poured))

    assert said.curve.time[-1] == pytest.approx(end * HOUR, abs=900.0)
    assert advice(case, replace(log, events=poured))[0] == ()


def test_particles_come_in_whole_futures() -> None:
    with pytest.raises(InputError, match="multiple"):
        day_case(None, particles=10)  # type: ignore[arg-type]


def test_a_longer_hold_is_poured_later_and_no_less_clean(case: DayCase) -> None:
    """Ours to keep: two hours more at the top put the pour off by two hours."""
    log = as_planned(case, 5.0)

    now, longer = reforecast(case, log), reforecast(case, log, longer=7200.0)

    assert longer.pour_at == now.pour_at + 7200.0
    assert longer.chance_clean >= now.chance_clean
    assert longer.dry_at == now.dry_at


def late(said: DayForecast) -> dict[str, float]:
    """Return by how many minutes each hour is told behind its plan."""
    pairs = {
        "dry": (said.dry_at.p50, said.planned_dry),
        "clean": (said.clean_at.p50, said.planned_clean),
        "ready": (said.ready_at.p50, said.planned_ready),
    }
    found = {}
    for name, (here, planned) in pairs.items():
        assert here is not None
        assert planned is not None
        found[name] = (here - planned) / 60.0
    return found


def test_a_day_without_a_reading_is_neither_ahead_nor_behind(case: DayCase) -> None:
    """Nothing was read and nothing happened: on plan to rounding, whoever asks at which hour.

    Casting heat was told 35 min behind from the first minute on: a third of the draws never
    come near it, and the paces of the futures moved the middle of the others.
    """
    begun = reforecast(case, DayLog(start=0.0))
    lit = reforecast(case, DayLog(start=1e9, events=(DayEvent(act="lit", at=1e9 + HOUR),)))

    assert list(late(begun).values()) == pytest.approx([0.0] * 3, abs=1e-6)
    assert list(late(lit).values()) == pytest.approx([0.0] * 3, abs=1e-6)


@pytest.mark.parametrize("hours", [3.0, 9.0, 15.0])
def test_a_day_that_keeps_to_its_plan_stays_on_plan(case: DayCase, hours: float) -> None:
    """Within 8 min in a hold, on a ramp and after all ramps; 8 of 10 draws are within 25 to 40.

    Found: 4.4 min with 96 particles and 6.2 at the casting heat; it was 25 and 36 ahead.
    """
    assert max(map(abs, late(reforecast(case, as_planned(case, hours))).values())) < 8.0


@pytest.mark.parametrize("hours", [6.0, 15.0])
def test_a_day_half_an_hour_late_is_told_half_an_hour_behind(case: DayCase, hours: float) -> None:
    """The plan half an hour later is half an hour behind, in every hour that is told.

    Tolerance 9 min, a quarter of the spread of the draws; found: 23 to 33 min in all four
    examples.
    """
    at = np.arange(0.0, hours * HOUR + 1.0, 900.0)
    heat = np.interp(at - 1800.0, case.planned.time, case.planned.temperature)
    readings = tuple(
        DayReading(place="kiln", at=time, temperature=read)
        for time, read in zip(at.tolist(), heat.tolist(), strict=True)
    )

    said = late(reforecast(case, DayLog(start=0.0, readings=readings)))

    assert list(said.values()) == pytest.approx([30.0] * 3, abs=9.0)


def test_a_late_reading_alone_shows(case: DayCase) -> None:
    """One reading, 100 K under the plan at 4 h, is behind in every hour that is told."""
    planned = float(np.interp(4.0 * HOUR, case.planned.time, case.planned.temperature))
    cold = DayReading(place="kiln", at=4.0 * HOUR, temperature=planned - 100.0)

    assert min(late(reforecast(case, DayLog(start=0.0, readings=(cold,)))).values()) > 30.0
