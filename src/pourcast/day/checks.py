"""What the caster should know of the day so far: hot and cold spells, doubts, chances.

Every limit of the day stands here.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BurnoutResult
from pourcast.burnout.sulphate import sulphate_reacted
from pourcast.day.model import DayForecast, Judged
from pourcast.day.particles import along
from pourcast.day.so_far import BACK_IN, SoFar
from pourcast.findings import Finding, Level, in_100
from pourcast.materials import Material
from pourcast.speech import Heat, Step, said

COLD_BY, COLD_FOR = 30.0, 900.0
"""K under the plan's hold, and s, from which a cold spell is told; estimates."""

FEW_LEFT = 12.0
"""Particles of like weight under which the answer is told to rest on little; estimate."""

LIKELY, UNLIKELY = 0.9, 0.5
"""Chance of a clean cavity over which it is good, and under which it stops; estimates."""

LONGEST_HOLD = 24.0 * 3600.0
"""s, by which a hold can be asked for longer; our own choice."""

_NONE = 0.005  # share of the draws that is told as 0 of 100

_DOUBTS = {
    "cold probe": "it reads like a probe that hangs in the room. Push it back in and read again",
    "unit": "it would fit in the other unit. Type it again with C or F behind it",
    "jump": "nothing before it leads there. Read again: if it stays, it will count",
    "said wrong": "you have said that it is wrong",
}


def findings(
    forecast: DayForecast,
    day: SoFar,
    results: list[BurnoutResult],
    weights: si.Ratios,
    *,
    limits: Material,
    chemistry: Material,
) -> tuple[Finding, ...]:
    """Return what the caster should know, the gravest first.

    Parameters
    ----------
    forecast : DayForecast
    day : SoFar
    results : list of BurnoutResult
        One for each future, each with its own particles.
    weights : array [-], shape (particles,)
    limits, chemistry : Material
        Of the investment.

    Returns
    -------
    tuple of Finding
    """
    found = [
        _hot(forecast, day, results, weights, limits, chemistry),
        _clean(forecast),
        _cold(forecast, day),
        _is_out(day),
        _few(forecast),
        *(_doubted(each) for each in forecast.readings if each.doubt is not None),
    ]
    order: dict[Level, int] = {"STOP": 0, "WATCH": 1, "GOOD": 2}
    kept = [each for each in found if each is not None]
    return tuple(sorted(kept, key=lambda each: order[each.level]))


def _hot(
    forecast: DayForecast,
    day: SoFar,
    results: list[BurnoutResult],
    weights: si.Ratios,
    limits: Material,
    chemistry: Material,
) -> Finding | None:
    """Return what time over the hard stop did to the block, and what can be done."""
    stop = limits["burnout_peak_hard_stop"]
    over = time_over(day.time, day.temperature, stop.si)
    if over <= 0.0:
        return None
    highest = float(day.temperature.max())
    at = float(day.time[int(day.temperature.argmax())])
    char = np.concatenate([along(each.heat.time, each.fate.char, at) for each in results])
    left = float(weights @ (char > results[0].fate.clean_below))
    share = np.concatenate(
        [
            sulphate_reacted(
                each.heat,
                each.fate,
                chemistry["sulphate_carbon_E"].si,
                chemistry["sulphate_carbon_log10_A"].si,
            )
            for each in results
        ]
    )
    middle = 100.0 * float(np.sort(share)[share.size // 2])
    level: Level = "STOP" if left >= 0.5 else "WATCH"
    now = float(day.temperature[-1]) > stop.si
    act = (
        ""
        if forecast.ended is not None
        else said(
            "{now}Go on at {usual} or less with the vent open until it is clean, blow the "
            "cavity out, and look for grey before the pour.",
            now="Turn it off now and open the vent. " if now else "",
            usual=Heat(limits["burnout_peak_default"].si),
        )
    )
    if left < _NONE:
        did = "In none of the draws was char left then, without which it does little. "
    else:
        did = (
            f"In {in_100(left)} of 100 draws char was left then; where it touched the mould, "
            f"{middle:.1f} % of the sulphate has reacted by the end of the day (middle of the "
            "draws): its gas pits the skin. That cannot be undone. "
        )
    return Finding(
        stage="day",
        key="kiln-too-hot",
        level=level,
        text=said(
            "The kiln read up to {highest} and was over {stop} for {over} min. {did}{act}",
            highest=Heat(highest),
            stop=Heat(stop.si),
            over=f"{over / 60.0:.0f}",
            did=did if act else did.rstrip(),
            act=act,
        ),
        value=si.from_si(highest, "degC"),
        limit=stop.value,
        unit="°C",
        source=stop.source,
        kind=stop.kind,
    )


def time_over(time: si.Seconds, temperature: si.Kelvins, limit: si.Kelvin) -> si.Second:
    """Return how long a kiln was over a limit; straight between its readings [s].

    Parameters
    ----------
    time : array [s], shape (points,)
    temperature : array [K], shape (points,)
    limit : float [K]

    Returns
    -------
    float [s]
    """
    first, last = temperature[:-1] - limit, temperature[1:] - limit
    rise = np.abs(last - first)
    crossed = np.where(rise > 0.0, np.maximum(first, last) / np.where(rise > 0.0, rise, 1.0), 1.0)
    share = np.where((first > 0.0) & (last > 0.0), 1.0, np.clip(crossed, 0.0, 1.0))
    share = np.where(np.maximum(first, last) <= 0.0, 0.0, share)
    return float((share * np.diff(time)).sum())


def _cold(forecast: DayForecast, day: SoFar) -> Finding | None:
    """Return how long a kiln was cold that was already hot, against the plan."""
    if day.time.size < 2:
        return None
    highest = np.maximum.accumulate(day.temperature)
    planned = np.interp(day.time, forecast.planned.time, forecast.planned.temperature)
    # Cold is what lies under both the plan and what the kiln had come to.
    short = np.minimum(planned, highest) - day.temperature
    cold = time_over(day.time, short, COLD_BY)
    if cold < COLD_FOR:
        return None
    shift = _shift(forecast.clean_at.p50, forecast.planned_clean)
    told = "It will not be clean by the end of the plan. " if shift is None else shift
    told += "Time that a hold has lost is added to it here; hold on."
    clean = forecast.clean_at.p90
    if clean is not None and clean <= forecast.known_until:
        told = (
            "In nine of ten draws it is clean already; time that a hold has lost is added to it "
            "here all the same."
        )
    return Finding(
        stage="day",
        key="kiln-cold-spell",
        level="WATCH",
        text=said(
            "The kiln was {cold} or more under the plan for {time} min after it had been hotter. "
            "{told}",
            cold=Step(COLD_BY),
            time=f"{cold / 60.0:.0f}",
            told=told,
        ),
        value=cold / 60.0,
        limit=COLD_FOR / 60.0,
        unit="min",
        source="set by hand",
        kind="estimate",
    )


def _shift(now: si.Second | None, planned: si.Second | None) -> str | None:
    if now is None or planned is None:
        return None
    late = (now - planned) / 60.0
    way = "later" if late >= 0.0 else "sooner"
    return f"Clean comes {abs(late):.0f} min {way} than planned. "


def _clean(forecast: DayForecast) -> Finding:
    chance = forecast.chance_clean
    level: Level = "GOOD" if chance >= LIKELY else "STOP" if chance < UNLIKELY else "WATCH"
    left = forecast.ended is not None
    at = (
        "was clean as the flask left the kiln"
        if left
        else "is clean at the planned hour of the pour"
    )
    text = f"In {in_100(chance)} of 100 draws the cavity {at}."
    if level != "GOOD":
        hold = "If it is not poured yet," if left else "Hold the top longer, with more air, and"
        text += (
            f" {hold} do not pour on the clock alone: look at the gate, smell it, and see whether "
            "it glows when air is blown in."
        )
    return Finding(
        stage="day",
        key="clean-by-the-day",
        level=level,
        text=text,
        value=100.0 * chance,
        limit=100.0 * LIKELY,
        unit="%",
        source="set by hand; no burnout of a plant was found to hold it against",
        kind="estimate",
    )


def _is_out(day: SoFar) -> Finding | None:
    if not day.is_out:
        return None
    return Finding(
        stage="day",
        key="flask-out",
        level="WATCH",
        text=(
            f"The flask is out of the kiln; it counts as back after {BACK_IN / 60.0:.0f} min. Say "
            "in as you put it back. A hot flask burns: gloves, face shield, dry ground."
        ),
        source="set by hand",
        kind="estimate",
    )


def _few(forecast: DayForecast) -> Finding | None:
    if forecast.alone >= FEW_LEFT:
        return None
    return Finding(
        stage="day",
        key="few-draws-left",
        level="WATCH",
        text=(
            f"Wall or core read so far from what the model can do that the answer rests on "
            f"{forecast.alone:.0f} of {forecast.particles} draws. Look where the probe sits; take "
            "the hours as rough."
        ),
        value=forecast.alone,
        limit=FEW_LEFT,
        unit="",
        source="set by hand",
        kind="estimate",
    )


def _doubted(each: Judged) -> Finding:
    before: str = ""
    if each.expected is not None:
        before = said(" after {expected}", expected=Heat(each.expected))
    return Finding(
        stage="day",
        key="reading-doubted",
        level="WATCH",
        text=said(
            "A reading of the {place}, {read}{before}, is kept and does not count: {doubt}. If it "
            "is right, say right.",
            place=each.reading.place,
            read=Heat(each.reading.temperature),
            before=before,
            doubt=_DOUBTS[each.doubt or "jump"],
        ),
        value=si.from_si(each.reading.temperature, "degC"),
        unit="°C",
        source="set by hand",
        kind="estimate",
    )
