"""Is the plan of the day one that can be kept?

Every limit of the run sheet stands here.
"""

from collections.abc import Iterable

from pourcast import units as si
from pourcast.findings import Finding, Level
from pourcast.forecast.model import Forecast
from pourcast.materials import Material
from pourcast.runsheet.bench import MixTimes
from pourcast.runsheet.figures import span
from pourcast.speech import Heat, said


def findings(
    forecast: Forecast, times: MixTimes, rest: si.Second, *, limits: Material, fresh: Material
) -> tuple[Finding, ...]:
    """Return what the caster should know of the hours themselves.

    Parameters
    ----------
    forecast : Forecast
    times : MixTimes
    rest : float [s]
        From setting the flask down to the kiln.
    limits : Material
        `Library.investment` "limits".
    fresh : Material
        `Library.investment` "fresh".

    Returns
    -------
    tuple of Finding
    """
    return (
        *_mix(forecast, times, fresh),
        *_rest(rest, limits),
        *_hours(forecast),
    )


def _mix(forecast: Forecast, times: MixTimes, fresh: Material) -> Iterable[Finding]:
    heat = forecast.plan.mix.temperature
    if times.needed > times.still_by:
        yield Finding(
            stage="runsheet",
            key="mix-too-slow",
            level="WATCH",
            text=said(
                "At {heat} the slurry can be worked for {room}, and the acts take {needed}. Cool "
                "the water, or each act is cut short as on this sheet.",
                heat=Heat(heat),
                room=span(times.still_by),
                needed=span(times.needed),
            ),
            value=times.needed / 60.0,
            limit=times.still_by / 60.0,
            unit="min",
            source=fresh["work_time"].source,
            kind=fresh["work_time"].kind,
        )


def _rest(rest: si.Second, limits: Material) -> Iterable[Finding]:
    cure = limits["cure_before_kiln"]
    if cure.si_low <= rest <= cure.si_high:
        return
    level: Level = "WATCH"
    text = (
        f"The block stands only {span(rest)} before the kiln: it may not be hard."
        if rest < cure.si_low
        else f"The block stands {span(rest)} before the kiln: keep it damp in a bag or wet cloth; "
        "blocks that dried for two days have lost their end."
    )
    yield Finding(
        stage="runsheet",
        key="rest-before-kiln",
        level=level,
        text=text,
        value=rest / 3600.0,
        limit=(cure.si_low if rest < cure.si_low else cure.si_high) / 3600.0,
        unit="h",
        source=cure.source,
        kind=cure.kind,
    )


def _hours(forecast: Forecast) -> Iterable[Finding]:
    burnout = forecast.burnout
    if burnout is None:
        return
    for what, hour in (
        ("dry", burnout.dry_at),
        ("free of wax", burnout.wax_gone_at),
        ("clean", burnout.clean_at),
    ):
        if hour.p50 is None:
            yield Finding(
                stage="runsheet",
                key="not-by-the-end",
                level="WATCH",
                text=f"In over half of the burnouts followed the cavity is not {what} by the end "
                "of this curve. Burn longer.",
                source="draws of the forecast",
                kind="computed",
            )
