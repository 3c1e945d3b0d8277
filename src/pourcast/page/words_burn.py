"""What the burnout says, sentence by sentence; the page and the terminal share it."""

from pourcast import units as si
from pourcast.findings import in_100_draws
from pourcast.forecast.model import BurnoutForecast, Hour
from pourcast.page.figures import JOIN, degrees, with_unit
from pourcast.speech import CELSIUS, Speech

_DAY = 86_400.0
_KILOPASCAL = "kPa"

CURVES: dict[str, str] = {
    "as written": "the curve of the sheet",
    "usual": "the usual curve for a flask of this size (common practice)",
    "shortest": "the shortest curve that keeps all limits",
    "logged": "the day as logged",
}
"""What a curve is called in a sentence."""


NOT_WORKED_OUT = (
    "Between mixing and pouring lies the burnout. It is not worked out here: the sheet does not "
    "say how many litres the kiln holds."
)
"""Stands in the place of the burnout where there is none."""


def answer(burnout: BurnoutForecast, start: si.Second | None = None, *, opens: bool = True) -> str:
    """Return when it is dry and when it is clean.

    Parameters
    ----------
    burnout : BurnoutForecast
    start : float or None [s]
        Time of day at which the block goes in; None: hours after that are told.
    opens : bool
        With a capital letter; no: it goes on behind a colon.
    """
    dry = burnout.dry_at.p50
    first = "not dry within this curve." if dry is None else f"dry {when(dry, start)}."
    first = first.capitalize() if opens else first
    return f"{first} {clean(burnout, start)}"


def clean(burnout: BurnoutForecast, start: si.Second | None = None) -> str:
    """Return when it is clean, with the late end of the spread."""
    usual, late = burnout.clean_at.p50, burnout.clean_at.p90
    if usual is None:
        return "Not clean within this curve."
    if late is None:
        return f"Clean {when(usual, start)}, but not in every draw within this curve."
    return f"Clean {when(usual, start)}, perhaps as late as {bare(late, start)}."


def chance(burnout: BurnoutForecast) -> str:
    """Return the chance that the cavity is clean at the pour."""
    share = in_100_draws(burnout.chance_clean)
    limit = with_unit(si.from_si(burnout.clean_below, "mg"), "mg")
    left = burnout.char_left
    said = f"In {share} of 100 burnouts less than {limit} of char is left at the pour."
    if left.p90 > burnout.clean_below:
        said += (
            f" What is left: {milligrams(left.p10)} to {milligrams(left.p90)} "
            f"in 80 of 100, {milligrams(left.p50)} in the middle."
        )
    return said


def heat(burnout: BurnoutForecast, speech: Speech = CELSIUS) -> str:
    """Return how hot it gets, and how long the curve takes."""
    hours = span(float(burnout.curve.time[-1]))
    core, block = burnout.peak_core, burnout.flask_temperature
    steam = burnout.overpressure
    return (
        f"{CURVES[burnout.curve.name].capitalize()} takes {hours}. The core comes to "
        f"{degrees(core.p50, speech)} at its hottest, the wall to "
        f"{degrees(burnout.peak_wall.p50, speech)}; "
        f"at the pour the block round the piece is at {degrees(block.p50, speech)} "
        f"({speech.figure(block.p10)} to {speech.figure(block.p90)}). Steam presses "
        f"with {_kilopascal(steam.p50)} at its worst ({_kilopascal(steam.p10)} to "
        f"{_kilopascal(steam.p90)})."
    )


def ready(burnout: BurnoutForecast, start: si.Second | None = None) -> str:
    """Return from when on the core is at casting temperature."""
    usual = burnout.ready_at.p50
    if usual is None:
        return "The core is not at casting temperature by the end of this curve."
    return f"The core is at casting temperature {when(usual, start)}."


def hours_told(hour: Hour, start: si.Second | None = None) -> str:
    """Return early, usual and late as one text."""
    named = (hour.p10, hour.p50, hour.p90)
    early, usual, late = ("–" if at is None else _figures(at, start) for at in named)
    return f"{usual} ({early} to {late})"


def _figures(time: si.Second, start: si.Second | None) -> str:
    """Return a time for a table: "7:20" after the start, or "14:10" on the clock."""
    if start is not None:
        return clock(start + time)
    minutes = 5 * round(time / 300.0)
    return f"{minutes // 60}:{minutes % 60:02d}"


def when(time: si.Second, start: si.Second | None) -> str:
    """Return "after 7 h 20 min", or "by 14:10" where the start is known."""
    return f"after {span(time)}" if start is None else f"by {clock(start + time)}"


def bare(time: si.Second, start: si.Second | None, *, day: bool = True) -> str:
    """Return the same without its first word, and where asked without naming the day."""
    if start is None:
        return span(time)
    return clock(start + time if day else (start + time) % _DAY)


def span(time: si.Second) -> str:
    """Return a time [s] as hours and minutes, to 5 min.

    Examples
    --------
    >>> [span(time).split() for time in (26_400.0, 300.0, 7200.0)]
    [['7', 'h', '20', 'min'], ['5', 'min'], ['2', 'h']]
    """
    minutes = 5 * round(time / 300.0)
    hours, rest = divmod(minutes, 60)
    told = [f"{hours}{JOIN}h"] if hours else []
    if rest or not hours:
        told.append(f"{rest}{JOIN}min")
    return JOIN.join(told)


def clock(time: si.Second) -> str:
    """Return a time of day [s] as it stands on a clock, to 5 min; the day after is named.

    Examples
    --------
    >>> clock(26_400.0), clock(100_000.0)
    ('07:20', '03:45 the next day')
    """
    minutes = 5 * round(time / 300.0)
    days, rest = divmod(minutes, round(_DAY / 60.0))
    later = {0: "", 1: " the next day"}.get(days, f" {days} days later")
    return f"{rest // 60:02d}:{rest % 60:02d}{later}"


def milligrams(mass: si.Kilogram) -> str:
    """Return a mass [kg] in mg, in g from 1 g on, with two figures that count."""
    value = si.from_si(mass, "mg")
    if value >= 1000.0:
        return with_unit(value / 1000.0, "g", 2)
    return f"0{JOIN}mg" if value < 0.05 else with_unit(value, "mg", 2)


def _kilopascal(pressure: si.Pascal) -> str:
    return with_unit(si.from_si(pressure, _KILOPASCAL), _KILOPASCAL, 2)
