"""Day view: all that the page of a kiln day shows, from the day as it stands."""

import math
import time
from collections.abc import Iterable
from typing import Any

from pourcast import units as si
from pourcast.app.day_next import at_clock, expected, minutes_told, next_acts
from pourcast.app.day_room import DayNow, DayRoom
from pourcast.app.gauges import Waits
from pourcast.app.keep import replace_text
from pourcast.app.studio import Studio
from pourcast.book.days import readings_of
from pourcast.book.kiln_days import events_of
from pourcast.book.model import Pour, Reading
from pourcast.book.words import BEGAN, GAUGE
from pourcast.burnout.places import place_told
from pourcast.day.gauge import low_gauge
from pourcast.day.judge import questioned
from pourcast.day.model import DayForecast, Judged
from pourcast.findings import Finding
from pourcast.materials import library
from pourcast.page import words_day, words_pour_day
from pourcast.page.cautions import LAST_WORD, Caution, named
from pourcast.page.figures import degrees
from pourcast.page.svg_day import day_so_far
from pourcast.runsheet.clock import wall
from pourcast.sheet.model import Plan
from pourcast.speech import Speech

UNITS = {"degC": "°C", "F": "°F", "K": "K"}
ACTS = ("out", "blew", "in", "sealed", "lit", "molten", "poured", "quenched")
STEPS = (-50, -10, -1, 50, 10, 1)
"""Degrees of the step keys."""

MOST_LINES = 400
"""Readings that the page lists one by one; own choice."""

_UNIT = "day_unit.txt"
_SAME_DAY = 12.0 * 3600.0  # s
_ROW = dict.fromkeys(("time", "name", "was", "low", "high", "done", "here", "none"), "")


def last_unit(studio: Studio) -> str:
    """Return the unit of the last reading that was typed; "" where none was."""
    try:
        kept = (studio.folder / _UNIT).read_text("utf-8")
    except FileNotFoundError:
        return ""
    return kept if kept in UNITS else ""


def note_unit(studio: Studio, unit: str) -> None:
    """Keep the unit of a reading for the next one."""
    if unit in UNITS and unit != last_unit(studio):
        replace_text(studio.folder / _UNIT, unit)


def day_values(room: DayRoom, studio: Studio, pour: Pour) -> dict[str, Any]:
    """Return all that the page of a day shows."""
    now = time.time()
    day = room.now(pour)
    found = day.forecast
    coming = next_acts(day, now)
    speech = day.plan.speech
    in_inches = studio.look.lengths == "in" or speech.degrees == "F"
    unit = last_unit(studio) or ("F" if in_inches else "degC")
    wanted = expected(day, now)
    gauge = readings_of(studio.book, pour.id, GAUGE)
    low = _low_gauge(day, gauge)
    return {
        "pour_id": pour.id,
        "day": day,
        "now_clock": at_clock(day, now),
        "next": coming[0] if coming else None,
        "next_clock": at_clock(day, coming[0].at) if coming else "",
        "next_far": _far(day, coming[0].at, now) if coming else "",
        "then": [(at_clock(day, act.at), act.text) for act in coming[1:4]],
        "unit": unit,
        "units": UNITS,
        "expected": round(si.from_si(wanted, unit)),
        "expected_told": degrees(wanted, speech),
        "age": words_day.age_told(found, now, speech=speech),
        "shift": _shift(day),
        "hours": _hours(day, now),
        "words": (words_day.now_told(found, speech), words_day.pour_told(found, day.zone)),
        "can_hold": not any(act.act in ("sealed", "poured") for act in day.log.events),
        "turns_told": words_day.turn_told(found, day.zone, now),
        "asked": _asked(day, found.readings),
        "out_asked": words_pour_day.out_asked(found, day.zone, now),
        "findings": low + _heeded(day, found),
        "such_line": _such_line(day.plan),
        "under_gauge": _under_gauge(room, day, gauge) if low else "",
        "acts": [words_pour_day.act_told(act, found.start, day.zone) for act in day.acts],
        "metal": words_pour_day.melt_told(day.melt, speech),
        "flask": words_pour_day.flask_told(day.flask, speech),
        "curve": day_so_far(found, day.zone, stop=_stop(), speech=speech),
        "ended_after": STEP * math.ceil(found.known_until / STEP),
        "slider_step": STEP,
        "buttons": ACTS,
        "steps": STEPS,
        "cautions": _cautions(coming[0].key if coming else "kiln", in_kiln=found.ended is None),
        "last_word": LAST_WORD,
        "log_lines": _log_lines(studio, day, gauge),
    }


STEP = 300
"""s, from one place of the slider to the next; own choice."""


def then_values(room: DayRoom, pour_id: str, since: si.Second) -> dict[str, Any]:
    """Return what the page shows of a day as it looked at a moment.

    Parameters
    ----------
    room : DayRoom
    pour_id : str
    since : float [s]
        From the start.
    """
    at = room.now(pour_id).log.start + since
    day, found = room.then(pour_id, at)
    speech = day.plan.speech
    return {
        "clock": at_clock(day, at),
        "curve": day_so_far(found, day.zone, stop=_stop(), speech=speech),
        "said": (
            words_day.age_told(found, at, speech=speech),
            words_day.answer(found, day.zone),
            words_day.now_told(found, speech),
            words_day.pour_told(found, day.zone),
            words_day.turn_told(found, day.zone, at),
        ),
        "findings": _heeded(day, found),
    }


def _heeded(day: DayNow, found: DayForecast) -> list[Finding]:
    """Return what is not as it should be, in the unit of the caster."""
    return [day.plan.speech.finding(each) for each in found.findings if each.level != "GOOD"]


def _low_gauge(day: DayNow, gauge: tuple[Reading, ...]) -> list[Finding]:
    """Return what to do about the last reading of the gauge, where it is low and nothing poured."""
    if not gauge or any(act.act == "poured" for act in day.log.events):
        return []
    found = low_gauge(si.to_si(gauge[-1].value, "kPa"), day.plan)
    return [] if found is None else [day.plan.speech.finding(found)]


def _such_line(plan: Plan) -> str:
    """Return lines that a caster may type, with the gauge as the piece file has it."""
    if plan.assist.vacuum is None:
        return "poured 16:40"
    return f"poured 16:40, {words_pour_day.gauge_told(plan.assist.vacuum, plan.speech)}"


def _under_gauge(room: DayRoom, day: DayNow, gauge: tuple[Reading, ...]) -> str:
    """Return what the last reading of the gauge makes of the chance, or why that is not known."""
    found = room.fill_now(day, si.to_si(gauge[-1].value, "kPa"))
    if isinstance(found, Waits):
        failed = found is Waits.FAILED
        return words_pour_day.FILL_FAILED if failed else words_pour_day.FILL_WAITS
    return words_pour_day.fill_now_told(found, day.plan.speech)


def _stop() -> si.Kelvin:
    return library().investment["limits"]["burnout_peak_hard_stop"].si


def _far(day: DayNow, at: si.Second, now: si.Second) -> str:
    """Return how far off a moment is; with its day where the hour alone could be today's."""
    told = minutes_told(at, now)
    return told if at - now < _SAME_DAY else f"{told}, {wall(day.zone, at).day}"


def _cautions(key: str, *, in_kiln: bool) -> tuple[Caution, ...]:
    """Return what to take care of at the next act, and of the kiln as long as it burns."""
    kiln = ("burnout_fumes", "hot_kiln") if in_kiln or key not in words_pour_day.CARE else ()
    return named(*dict.fromkeys((*kiln, *words_pour_day.CARE.get(key, ()))))


def _shift(day: DayNow) -> tuple[str, int]:
    """Return whether the day runs late, on time or early, and by how many minutes."""
    shifts = [
        hour.p50 - planned
        for hour, planned in words_day.hours(day.forecast).values()
        if hour.p50 is not None and planned is not None and hour.p50 > day.forecast.known_until
    ]
    minutes = round(max(shifts, key=abs) / 60.0) if shifts else 0
    if abs(minutes) * 60.0 <= words_day.ON_TIME:
        return "on_time", 0
    return ("late", minutes) if minutes > 0 else ("early", -minutes)


def _hours(day: DayNow, now: si.Second) -> list[dict[str, str]]:
    """Return dry, clean, heat and pour as rows of a clock, with now among them."""
    found, start = day.forecast, day.forecast.start
    rows: list[tuple[float, dict[str, str]]] = []
    for key, (hour, planned) in words_day.hours(found).items():
        if hour.p50 is None:
            rows.append((float("inf"), {"time": "", "name": words_day.SHOWN[key], "none": "yes"}))
            continue
        row = {"time": at_clock(day, start + hour.p50), "name": words_day.SHOWN[key]}
        if hour.p50 <= found.known_until:
            row["done"] = "yes"
        elif planned is not None and abs(hour.p50 - planned) > words_day.ON_TIME:
            row["was"] = at_clock(day, start + planned)
        if hour.p10 is not None and hour.p90 is not None and "done" not in row:
            row["low"], row["high"] = (at_clock(day, start + end) for end in (hour.p10, hour.p90))
        rows.append((hour.p50, row))
    for act in day.acts:
        if act.step in ("pour", "quench"):
            row = {"time": at_clock(day, start + act.opens), "name": words_pour_day.STEPS[act.step]}
            if act.step == "pour" and act.opens - found.pour_at > 2.0 * words_day.ON_TIME:
                row["was"] = at_clock(day, start + found.pour_at)
            rows.append((act.opens, row))
    rows.append((now - start, {"time": at_clock(day, now), "name": "", "here": "yes"}))
    return [_ROW | row for _, row in sorted(rows, key=lambda pair: pair[0])]


def _asked(day: DayNow, readings: tuple[Judged, ...]) -> tuple[str, str] | None:
    """Return the last reading that is questioned, and when it was taken."""
    doubted = questioned(readings)
    if not doubted:
        return None
    last = doubted[-1]
    return words_day.reading_told(last, speech=day.plan.speech), at_clock(day, last.at)


def _log_lines(studio: Studio, day: DayNow, gauge: tuple[Reading, ...]) -> list[tuple[str, str]]:
    """Return what was read and done, the latest first; of many readings one for each minute.

    Those that are questioned, and the acts, stand there all; the book has the rest.
    """
    readings = day.forecast.readings
    if len(readings) > MOST_LINES:
        minutes = {
            (each.reading.place, each.reading.at // 60.0): each
            for each in readings
            if each.doubt is None
        }
        doubted = [each for each in readings if each.doubt is not None][-MOST_LINES:]
        readings = (*list(minutes.values())[-MOST_LINES:], *doubted)
    lines = [
        (
            each.reading.at,
            words_day.reading_told(each.reading, speech=day.plan.speech)
            + (" ?" if each.doubt else ""),
        )
        for each in readings
    ]
    lines += acts_told(studio, day.pour.id)
    lines += gauges_told(gauge, day.plan.speech)
    return [(at_clock(day, at), text) for at, text in sorted(lines, reverse=True)]


def gauges_told(gauge: Iterable[Reading], speech: Speech) -> list[tuple[si.Second, str]]:
    """Return what was read off the gauge of the pump, each with its moment since 1970."""
    return [
        (
            each.taken.timestamp(),
            words_pour_day.gauge_told(si.to_si(each.value, "kPa"), speech),
        )
        for each in gauge
    ]


def acts_told(studio: Studio, pour_id: str) -> list[tuple[si.Second, str]]:
    """Return the acts of a day that count, each with its moment since 1970."""
    return [
        (
            event.at.timestamp(),
            event.act if event.setting is None else f"turned to {place_told(event.setting)}",
        )
        for event in events_of(studio.book, pour_id)
        if event.act != BEGAN
    ]
