"""What the pour of a kiln day says, sentence by sentence; terminal and page share it."""

from pourcast import units as si
from pourcast.day.fill_now import FillNow
from pourcast.day.flask_out import FOLLOWED, FlaskOut
from pourcast.day.metal import HEADROOM, MeltClock
from pourcast.day.model import DayForecast
from pourcast.day.pouring import PourAct, Queued
from pourcast.day.so_far import BACK_IN
from pourcast.findings import in_100_draws
from pourcast.materials import Value
from pourcast.page.figures import degrees, grams
from pourcast.page.words_day import clock, minutes_told
from pourcast.runsheet.model import Zone
from pourcast.speech import CELSIUS, Speech

STEPS: dict[str, str] = {
    "light": "light the furnace",
    "molten": "metal at its heat",
    "out": "flask out of the kiln",
    "pour": "pour",
    "hold": "vacuum off",
    "quench": "quench",
}
"""Acts of the pour in words."""

CARE: dict[str, tuple[str, ...]] = {
    "light": ("metal_fume",),
    "molten": ("moisture",),
    "out": ("hot_kiln",),
    "pour": ("hot_flask_vacuum",),
    "quench": ("quench_steam",),
}
"""Keys of the facts that stand beside an act."""


FILL_WAITS = "How many pours fill under it is being worked out: some seconds."
"""While `pourcast.day.fill_now` is at work."""

FILL_FAILED = (
    "How many pours fill under it could not be worked out; the log of the program says why."
)
"""After `pourcast.day.fill_now` has failed."""


def gauge_told(vacuum: si.Pascal, speech: Speech) -> str:
    """Return a reading of the gauge of the pump in the caster's unit.

    Parameters
    ----------
    vacuum : float [Pa]
        Below the air outside.
    speech : Speech
    """
    return f"gauge {speech.vacuum(vacuum)}"


def fill_now_told(found: FillNow, speech: Speech) -> str:
    """Return what the gauge makes of the chance, beside what the plan had.

    Parameters
    ----------
    found : FillNow
    speech : Speech
    """
    return (
        f"With {speech.vacuum(found.shown)} on the gauge every part fills in "
        f"{in_100_draws(found.chance)} of 100 pours, with the {speech.vacuum(found.planned)} of "
        f"the plan in {in_100_draws(found.as_planned)}."
    )


def act_told(act: PourAct, start: si.Second, zone: Zone) -> str:
    """Return an act of the pour with its window.

    Parameters
    ----------
    act : PourAct
    start : float [s]
        Of the day, since 1970.
    zone : Zone
    """
    opens = clock(zone, start + act.opens)
    if act.shuts - act.opens < 60.0:
        return f"{opens} {STEPS[act.step]}"
    return f"{opens} to {clock(zone, start + act.shuts)} {STEPS[act.step]}"


def flask_told(flask: FlaskOut, speech: Speech = CELSIUS) -> str:
    """Return how long a flask may be out of the kiln.

    Parameters
    ----------
    flask : FlaskOut
    speech : Speech
    """

    def lasts(time: si.Second | None) -> str:
        if time is None:
            return f"more than {FOLLOWED / 60.0:.0f} min"
        return f"{time / 60.0:.1f} min"

    return (
        f"Out of the kiln at {degrees(flask.start, speech)} the block at the piece falls under "
        f"{degrees(flask.least, speech)} in {lasts(flask.on_bench)} on the bench, "
        f"{lasts(flask.on_plate)} on the plate (worked out; parts near the wall cool sooner: the "
        f"face is at {degrees(flask.face_after, speech)} by the pour, without the steel round it)."
    )


def melt_told(melt: MeltClock, speech: Speech = CELSIUS) -> list[str]:
    """Return what the metal needs, sentence by sentence.

    Parameters
    ----------
    melt : MeltClock
    speech : Speech
    """
    takes = f"{melt.time / 60.0:.0f} min by the furnace’s own log"
    if not melt.by_log:
        takes = f"{melt.low / 60.0:.0f} to {melt.high / 60.0:.0f} min (estimate)"
    said = [
        f"{grams(melt.mass)} of metal take {melt.heat / 1000.0:.0f} kJ and {takes}.",
        f"Read {degrees(melt.in_pot, speech)} in the fire: {speech.step(melt.lost)} go on the way "
        "to the lip.",
        f"Out of the fire it may wait {melt.longest_wait:.0f} s before it is colder than is usual "
        "to pour.",
    ]
    if melt.share is not None:
        full = f"The liquid fills {100.0 * melt.share:.0f} % of the crucible"
        if melt.share > 1.0:
            said.append(f"{full}: it does not hold the charge. Do not melt it in this one.")
        elif melt.share > HEADROOM:
            said.append(f"{full}; over {100.0 * HEADROOM:.0f} % it spills as it is carried.")
        else:
            said.append(f"{full}.")
    return said


def quench_told(quench: tuple[si.Second, si.Second] | None, usual: Value) -> str:
    """Return when to quench, by the freezing and by the trade, which may differ.

    Parameters
    ----------
    quench : pair of float or None [s]
        From the pour, by the forecast.
    usual : Value
        What the trade takes.
    """
    low, high = usual.si_low / 60.0, usual.si_high / 60.0
    trade = f"{low:.0f} to {high:.0f} min after the pour (common practice)"
    if quench is None:
        return f"Quench {trade}."
    worked = f"{quench[0] / 60.0:.0f} to {quench[1] / 60.0:.0f} min (worked out)"
    return f"Quench: {worked}, or {trade}. Where they differ, too early costs the casting."


def queue_told(name: str, place: Queued, start: si.Second, zone: Zone) -> str:
    """Return when one flask of a queue is poured.

    Parameters
    ----------
    name : str
    place : Queued
    start : float [s]
        Since 1970.
    zone : Zone
    """
    lit, molten, out = (clock(zone, start + at) for at in (place.lit, place.molten, place.out))
    waits = place.flask_waits / 60.0
    said = f"{name}: furnace lit {lit}, metal ready {molten}, flask out {out}"
    return said + (f", after {waits:.0f} min of waiting in the kiln." if waits >= 1.0 else ".")


def may_wait_told(flask: FlaskOut, melt: MeltClock) -> str:
    """Return how long a flask and its metal may wait once they are out.

    Parameters
    ----------
    flask : FlaskOut
    melt : MeltClock
    """

    def lasts(time: si.Second | None) -> str:
        return f"over {FOLLOWED / 60.0:.0f} min" if time is None else f"{time / 60.0:.0f} min"

    return (
        f"Out of the kiln the flask may stand {lasts(flask.on_bench)} on the bench or "
        f"{lasts(flask.on_plate)} on the plate, the metal {melt.longest_wait:.0f} s out of the "
        "fire."
    )


QUEUE_CARE = (
    "One flask out of the kiln at a time: the next stays in, at its heat, until the furnace has "
    "its metal. A flask that waits in the kiln holds; it is not taken out to wait."
)
"""Stands under a queue; common practice, no source."""


def out_asked(forecast: DayForecast, zone: Zone, now: si.Second) -> str:
    """Return what to ask of a flask that went out and of which nothing was said since; "" if none.

    It is asked once the flask counts as back (`pourcast.day.so_far.BACK_IN`).

    Parameters
    ----------
    forecast : DayForecast
    zone : Zone
    now : float [s]
        Since 1970.
    """
    if forecast.out_since is None:
        return ""
    went = forecast.start + forecast.out_since
    if now < went + BACK_IN:
        return ""
    return (
        f"The flask went out at {clock(zone, went)}, {minutes_told(now - went)} ago, and counts as "
        f"back since {clock(zone, went + BACK_IN)}. Is it back? Say in, or poured, "
        "and how long ago."
    )
