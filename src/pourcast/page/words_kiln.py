"""What the kiln is to do, in words: steps, turns of the dial, and which limit rules."""

from collections.abc import Sequence

from pourcast import units as si
from pourcast.burnout.dial import CAUTION, DialPlan
from pourcast.burnout.model import KilnStep
from pourcast.burnout.shortest import Shortest
from pourcast.forecast.model import BurnoutForecast
from pourcast.page.figures import degrees, number
from pourcast.page.words_burn import bare, clock, hours_told, span
from pourcast.speech import CELSIUS, Speech

HOURS: tuple[tuple[str, str], ...] = (
    ("dry", "dry_at"),
    ("wax gone", "wax_gone_at"),
    ("clean", "clean_at"),
    ("core at casting temperature", "ready_at"),
)
"""What is told by the hour, and its field of `BurnoutForecast`."""


def hours_beside(
    here: BurnoutForecast, there: BurnoutForecast, start: si.Second | None
) -> list[tuple[str, str, str]]:
    """Return each hour of one curve beside that of another, and how long both take."""
    rows = [
        (name, hours_told(getattr(here, field), start), hours_told(getattr(there, field), start))
        for name, field in HOURS
    ]
    ends = [bare(float(each.curve.time[-1]), start) for each in (here, there)]
    return [*rows, ("end of the curve: pour", ends[0], ends[1])]


def table_name(start: si.Second | None) -> str:
    """Return what the table of hours is called."""
    return "Usual (early to late)" + ("" if start is not None else ", hours after the start")


def steps_told(
    burnout: BurnoutForecast, steps: Sequence[KilnStep], speech: Speech = CELSIUS
) -> list[str]:
    """Return each step of a curve as a sentence."""
    told = []
    now = float(burnout.curve.temperature[0])
    for step in steps:
        way = "Heat" if step.temperature > now else "Cool"
        ramp = "as fast as the kiln can"
        if step.ramp is not None:
            ramp = f"at {speech.ramp(step.ramp)}"
        said = f"{way} to {degrees(step.temperature, speech)} {ramp}"
        if abs(step.temperature - now) < 1.0:
            said = f"Stay at {degrees(step.temperature, speech)}"
        if step.hold > 0.0:
            said += f", and hold it for {span(step.hold)}"
        told.append(f"{said}.")
        now = step.temperature
    return told


def turns_told(plan: DialPlan) -> list[str]:
    """Return each turn of the dial, such as "10:40 to 3"."""
    return [f"{turn.clock} to {number(turn.setting)}" for turn in plan.turns]


def dial_note(plan: DialPlan, start: si.Second, speech: Speech = CELSIUS) -> str:
    """Return how far the air lies from what is wanted under the turns."""
    return (
        f"Turned so, the air lies {speech.step(plan.miss)} from the curve on the whole, "
        f"{speech.step(plan.worst)} at worst, at {clock(start + plan.worst_at)}, if the kiln is as "
        f"the log has it. {CAUTION}"
    )


def shortest_told(found: Shortest) -> list[str]:
    """Return what the search for the shortest curve found, with what rules each span."""
    usual = span(found.usual_time)
    if found.broken:
        return [
            f"No curve was found that keeps every limit; the usual one ({usual}) breaks: "
            f"{', '.join(found.broken)}."
        ]
    if found.gained > 0.0:
        first = (
            f"The shortest curve that keeps every limit in 9 of 10 burnouts takes "
            f"{span(found.time)}; the usual one takes {usual}. This forecast has not been held "
            "against a burnout of a plant: the usual curve is the one that others have tried."
        )
    else:
        first = (
            f"The usual curve ({usual}) breaks a limit: {', '.join(found.usual_broken)}. The "
            f"shortest curve that keeps all of them takes {span(found.time)}."
            if found.usual_broken
            else f"No curve shorter than the usual one ({usual}) keeps every limit."
        )
    rules = [
        f"The {rule.part} of step {rule.step} is ruled by: {', '.join(rule.limits)}."
        for rule in found.rules
    ]
    search = f"{found.curves} curves were tried" + (
        "." if found.whole else ", then it was stopped."
    )
    return [first, *rules, search]
