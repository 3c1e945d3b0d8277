"""What a kiln day says, sentence by sentence; the terminal and the page share it.

"By" is the late end of the spread: nine of ten draws are there by then.  Ahead and
behind compare the middle of the draws with the middle of the plan.
"""

from pourcast import units as si
from pourcast.burnout.dial import CAUTION
from pourcast.burnout.places import place_told
from pourcast.day.model import ACTS, DayEvent, DayForecast, DayReading
from pourcast.forecast.model import Hour
from pourcast.page.figures import degrees, in_100
from pourcast.runsheet.clock import wall
from pourcast.runsheet.model import Zone
from pourcast.speech import CELSIUS, FAHRENHEIT, Speech

ON_TIME = 300.0
"""s, either side of the plan, that counts as on time; our own choice."""

STALE = 1800.0
"""s, after which a reading is old; estimate: two looks at a kiln turned by hand."""

LONG_PAST = 3600.0
"""s, after which a turn whose time is past is not told any more; estimate."""

READ_FIRST = "Read the gauge before you turn: the turns from the last reading are long past."
"""Where the last turn of the advice is `LONG_PAST`."""

SHOWN: dict[str, str] = {
    "dry": "dry",
    "clean": "clean",
    "ready": "at casting heat",
}
"""What a day is asked for, in the order of the day."""

PLACES: dict[str, str] = {
    "kiln": "kiln",
    "wall": "wall of the flask",
    "core": "inside the block",
    "metal": "metal in the pot",
}

_TYPED: dict[str, Speech] = {"F": FAHRENHEIT, "degC": CELSIUS}
"""How a reading is told in the unit in which it was typed."""

OF_THE_DAY: dict[str, str] = {
    "wrong": "this day was begun by mistake; it counts no more, and all of it is kept",
    "right": "this day counts again, with all that was entered",
}
"""What was said of a whole day."""


def clock(zone: Zone, moment: si.Second) -> str:
    """Return what the wall clock says, to the minute.

    Parameters
    ----------
    zone : Zone
    moment : float [s]
        Since 1970.
    """
    return wall(zone, moment).time


def hours(forecast: DayForecast) -> dict[str, tuple[Hour, si.Second | None]]:
    """Return each hour of the day with that of the plan, under the keys of `SHOWN`.

    Parameters
    ----------
    forecast : DayForecast
    """
    return {
        "dry": (forecast.dry_at, forecast.planned_dry),
        "clean": (forecast.clean_at, forecast.planned_clean),
        "ready": (forecast.ready_at, forecast.planned_ready),
    }


def when(forecast: DayForecast, key: str, zone: Zone) -> str:
    """Return when something comes, such as "dry by 11:40, 35 min ahead".

    Parameters
    ----------
    forecast : DayForecast
    key : str
        Of `SHOWN`.
    zone : Zone
    """
    hour, planned = hours(forecast)[key]
    name = SHOWN[key]
    if hour.p50 is None:
        return f"{name}: not in this day, as it looks now"
    start = forecast.start
    beside = beside_plan(hour.p50, planned)
    if hour.p90 is None:
        usual = clock(zone, start + hour.p50)
        about = "about" if hour.p50 > forecast.known_until else "since about"
        return f"{name} {about} {usual}, {beside}; in one draw of ten or more not in this day"
    late = clock(zone, start + hour.p90)
    if hour.p90 <= forecast.known_until:
        return f"{name} since {late}, {beside}"
    if hour.p10 is not None and hour.p90 - hour.p10 >= ON_TIME:
        return f"{name} by {late}, perhaps from {clock(zone, start + hour.p10)}, {beside}"
    return f"{name} by {late}, {beside}"


def beside_plan(here: si.Second, planned: si.Second | None) -> str:
    """Return how far ahead of the plan a moment is, or how far behind.

    Parameters
    ----------
    here : float [s]
    planned : float or None [s]
    """
    if planned is None:
        return "which the plan does not come to"
    late = here - planned
    if abs(late) <= ON_TIME:
        return "on time"
    return f"{minutes_told(abs(late))} {'behind' if late > 0.0 else 'ahead'}"


def minutes_told(span: si.Second) -> str:
    """Return a span of the day to the minute: "35 min", "7 h 53".

    Parameters
    ----------
    span : float [s]
        0 or more.
    """
    minutes = round(span / 60.0)
    return f"{minutes} min" if minutes < 100 else f"{minutes // 60} h {minutes % 60:02d}"


def answer(forecast: DayForecast, zone: Zone) -> str:
    """Return the day in one sentence for each hour.

    Parameters
    ----------
    forecast : DayForecast
    zone : Zone
    """
    said = [when(forecast, key, zone) for key in SHOWN]
    return " ".join(f"{each[0].upper()}{each[1:]}." for each in said)


def pour_told(forecast: DayForecast, zone: Zone) -> str:
    """Return the chances at the planned hour of the pour, or as the flask left the kiln for it.

    Parameters
    ----------
    forecast : DayForecast
    zone : Zone
    """
    if forecast.ended is None:
        at = clock(zone, forecast.start + forecast.pour_at)
        asked = f"If poured at {at} as planned"
    else:
        asked = f"Left the kiln for the pour at {clock(zone, forecast.start + forecast.ended)}"
    return (
        f"{asked}: clean in {in_100(forecast.chance_clean)} of 100, the core "
        f"near casting heat in {in_100(forecast.chance_at_heat)} of 100."
    )


def longer_told(forecast: DayForecast, longer: DayForecast, hold: si.Second, zone: Zone) -> str:
    """Return what holding the hottest step longer does to the pour.

    Parameters
    ----------
    forecast : DayForecast
        As it stands.
    longer : DayForecast
        With the longer hold.
    hold : float [s]
        By which it is held longer.
    zone : Zone
    """
    hours, minutes = divmod(round(hold / 60.0), 60)
    span = (
        f"{hours} h" if not minutes else f"{hours} h {minutes:02d}" if hours else f"{minutes} min"
    )
    at = clock(zone, longer.start + longer.pour_at)
    before, after = in_100(forecast.chance_clean), in_100(longer.chance_clean)
    return (
        f"Held {span} longer at its hottest and poured at {at}: clean in {after} of 100 instead of "
        f"{before}, the core near casting heat in {in_100(longer.chance_at_heat)} of 100. Nothing "
        "is changed by asking."
    )


def now_told(forecast: DayForecast, speech: Speech = CELSIUS) -> str:
    """Return what the block is like at the last reading.

    Parameters
    ----------
    forecast : DayForecast
    speech : Speech
    """
    core, water = forecast.core, forecast.water
    span = degrees(core.p50, speech)
    if core.p90 - core.p10 >= 1.0:
        span = f"{speech.figure(core.p10)} to {degrees(core.p90, speech)}"
    if water.p90 <= 0.005:
        left = "no free water is left"
    elif water.p10 >= 0.995:
        left = "all free water is still there"
    else:
        left = f"{100.0 * water.p10:.0f} to {100.0 * water.p90:.0f} % of the free water is left"
    return f"Inside the block {span}; {left}."


def turn_told(forecast: DayForecast, zone: Zone, now: si.Second | None = None) -> str:
    """Return what to turn next, and when.

    The turns go on from the last reading.  Of those whose time is past only the last is told,
    and that not after `LONG_PAST`: nobody knows where the kiln is by then.

    Parameters
    ----------
    forecast : DayForecast
    zone : Zone
    now : float, optional [s]
        Since 1970; left out: that of the last reading.
    """
    if not forecast.turns:
        return forecast.turns_reason
    past = [
        turn
        for turn in forecast.turns
        if now is not None and forecast.start + turn.time < now - ON_TIME
    ]
    said = [
        f"{clock(zone, forecast.start + turn.time)} to {place_told(turn.setting)}"
        for turn in forecast.turns[len(past) :][:3]
    ]
    if past and now is not None:
        if now - forecast.start - past[-1].time > LONG_PAST:
            return f"{READ_FIRST} {CAUTION}"
        due = clock(zone, forecast.start + past[-1].time)
        said = [f"now to {place_told(past[-1].setting)}, due at {due}", *said[:2]]
    return f"Turn: {', '.join(said)}. {CAUTION}"


def age_told(
    forecast: DayForecast, now: si.Second, unit: str = "", speech: Speech = CELSIUS
) -> str:
    """Return how old the last reading is; with a word where it is too old.

    Parameters
    ----------
    forecast : DayForecast
    now : float [s]
        Since 1970.
    unit : str
    speech : Speech
        As in `reading_told`.
    """
    if not forecast.readings:
        return "No reading yet."
    judged = forecast.readings[-1]
    last = judged.reading
    old = max(now - last.at, 0.0)
    said = f"Last reading {minutes_told(old)} ago: {reading_told(last, unit, speech)}."
    if judged.doubt is not None:
        said += " It is questioned and does not count."
    return said + (" Look at the kiln and read again." if old > STALE else "")


def reading_told(reading: DayReading, unit: str = "", speech: Speech = CELSIUS) -> str:
    """Return a reading in words.

    Parameters
    ----------
    reading : DayReading
    unit : str
        In which it was typed. Where that is not what the caster is spoken to in, it is told
        in both, as the gauge has it first.
    speech : Speech
    """
    read = degrees(reading.temperature, speech)
    typed = _TYPED.get(unit, speech)
    if typed != speech:
        read = f"{degrees(reading.temperature, typed)}, {read}"
    return f"{PLACES[reading.place]} {read}"


def event_told(event: DayEvent) -> str:
    """Return an act in words.

    Parameters
    ----------
    event : DayEvent
    """
    if event.act == "turned" and event.setting is not None:
        return f"turned the dial to {place_told(event.setting)}"
    return ACTS[event.act]
