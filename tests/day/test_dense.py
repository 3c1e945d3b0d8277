"""Dense readings: judged in runs, and what was known by a moment."""

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.day.judge import _doubt, _fits, judged
from pourcast.day.model import DayEvent, DayLog, DayReading, Doubt, Judged, until
from pourcast.day.so_far import MOST_POINTS, so_far


def one_by_one(log: DayLog) -> list[Judged]:
    """Return the readings of the kiln judged each by itself, without runs."""
    readings = sorted(set(log.readings), key=lambda each: (each.at, each.temperature))
    opened = sorted(e.at for e in log.events if e.act in ("out", "blew", "in", "sealed"))
    said = {e.at: e.act for e in log.events if e.act in ("right", "wrong")}
    right, wrong = ({at for at in said if said[at] == act} for act in ("right", "wrong"))
    found: list[Judged] = []
    last: DayReading | None = None
    jumped: int | None = None
    for reading in readings:
        if reading.at in wrong:
            found.append(Judged(reading=reading, doubt="said wrong"))
            continue
        doubt: Doubt | None = None
        if last is not None and reading.at not in right and not _fits(last, reading, opened):
            doubt = _doubt(last, reading)
        if (
            jumped is not None
            and doubt in (None, "jump")
            and _fits(found[jumped].reading, reading, opened)
        ):
            found[jumped] = replace(found[jumped], doubt=None, expected=None)
            doubt = None
        if last is None or doubt is None:
            found.append(Judged(reading=reading))
            last, jumped = reading, None
            continue
        found.append(Judged(reading=reading, doubt=doubt, expected=last.temperature))
        jumped = len(found) - 1 if doubt == "jump" else jumped
    return found


@settings(max_examples=300)
@given(
    steps=st.lists(
        st.tuples(st.integers(0, 900), st.sampled_from((0, 1, 5, -5, 24, 60, -60, 400, -400))),
        max_size=60,
    ),
    acts=st.lists(
        st.tuples(st.sampled_from(("out", "in", "right", "wrong")), st.integers(0, 60)), max_size=6
    ),
)
def test_regression_readings_judged_in_runs_are_those_judged_one_by_one(
    steps: list[tuple[int, int]], acts: list[tuple[str, int]]
) -> None:
    """Ours against ours: the short way over readings that all fit changes no answer."""
    at, heat, readings = 0.0, 400.0, []
    for span, change in steps:
        at, heat = at + span, max(heat + change, 250.0)
        readings.append(DayReading(place="kiln", at=at, temperature=heat))
    events = tuple(
        DayEvent(act=act, at=readings[which % len(readings)].at)  # type: ignore[arg-type]
        for act, which in acts
        if readings
    )
    log = DayLog(start=0.0, readings=tuple(readings), events=events)

    assert list(judged(log)) == one_by_one(log)


def test_readings_of_each_second_are_one_for_each_minute() -> None:
    """Exact: the mean of a minute of a straight ramp is what it was in the middle of it."""
    at = np.arange(0.0, 2.0 * MOST_POINTS)
    log = DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=t, temperature=300.0 + 0.01 * t) for t in at.tolist()
        ),
    )

    day = so_far(log, judged(log), 293.15)

    assert day.is_read.sum() <= at.size / 60.0 + 2
    inner = (day.time > 60.0) & (day.time < at[-1] - 60.0)
    # 60 readings of a minute have their middle half a second before that of the minute.
    assert np.abs(day.temperature - 300.0 - 0.01 * day.time)[inner].max() <= 0.01


def test_by_a_moment_only_what_was_before_it_is_known() -> None:
    log = DayLog(
        start=0.0,
        readings=tuple(DayReading(place="kiln", at=100.0 * n, temperature=300.0) for n in range(5)),
        events=(DayEvent(act="turned", at=150.0, setting=2.0), DayEvent(act="out", at=350.0)),
    )

    then = until(log, 200.0)

    assert [each.at for each in then.readings] == [0.0, 100.0, 200.0]
    assert [each.act for each in then.events] == ["turned"]
    assert until(log, 1e9) == log
