"""Bench: the evening before, from the scales to the flask that stands untouched.

The clock of the slurry is that of `pourcast.mould.clock`.  Each act stands at the
middle of its draws; the moment by which all must be still is the early one, which
nine of ten mixes keep.  Where the acts take longer than that, each is cut short
alike, and a finding says so.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.findings import Kind
from pourcast.forecast.model import Forecast
from pourcast.materials import Library, Material
from pourcast.mould.checks import BOWL
from pourcast.mould.clock import clock_case, mix_clock
from pourcast.mould.model import Mix, MixClock
from pourcast.runsheet.figures import degrees, gauge, grams, marked, span
from pourcast.runsheet.model import Act, Reading, Weight
from pourcast.runsheet.usual import Lengths
from pourcast.runsheet.wetting import wetting_act

EARLY = 10.0
"""Percentile of the draws at which the slurry must be still; our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MixTimes:
    """When each act of the mix ends; times count from the powder going into the water.

    Parameters
    ----------
    stirred, first_vacuum_off, poured_in, second_vacuum_off : float [s]
    still_by : float [s]
        Last moment at which anything may move.
    gloss_off, hard, open_at : float [s]
        The shine is gone; set; the gate can be opened.
    needed : float [s]
        What the acts take where nothing presses.
    """

    stirred: si.Second
    first_vacuum_off: si.Second
    poured_in: si.Second
    second_vacuum_off: si.Second
    still_by: si.Second
    gloss_off: si.Second
    hard: si.Second
    open_at: si.Second
    needed: si.Second


def mix_times(clock: MixClock) -> MixTimes:
    """Return the acts of a mix, pressed into the time in which the slurry can be worked.

    Parameters
    ----------
    clock : MixClock

    Returns
    -------
    MixTimes
    """
    stirred, first, poured, needed = (
        float(np.median(ends)) for ends in (clock.mixed, clock.debubbled, clock.poured, clock.done)
    )
    still_by = float(np.percentile(clock.still_by, EARLY))
    pressed = min(1.0, still_by / needed)
    gloss = max(float(np.median(clock.gloss_off)), still_by)
    hard = max(float(np.median(clock.hard_set)), gloss)
    return MixTimes(
        stirred=pressed * stirred,
        first_vacuum_off=pressed * first,
        poured_in=pressed * poured,
        second_vacuum_off=pressed * needed,
        still_by=still_by,
        gloss_off=gloss,
        hard=hard,
        open_at=max(float(np.median(clock.open_at)), hard),
        needed=needed,
    )


def usual_clock(mix: Mix, book: Library) -> MixClock:
    """Return the clock of a mix in the middle of the records, as one draw.

    Parameters
    ----------
    mix : Mix
    book : Library

    Returns
    -------
    MixClock

    Raises
    ------
    InputError
        If no mix is worked with at such water or heat.
    """
    fresh = book.investment["fresh"]
    middle = {name: np.array([fresh[name].si]) for name in fresh}
    bench = book.investment["limits"]["cure_before_kiln"].si
    return mix_clock(mix, clock_case(middle, bench))


def weights(forecast: Forecast) -> tuple[Weight, ...]:
    """Return the lines for the scales."""
    mould, metal, charge = forecast.mould, forecast.metal, forecast.plan.charge
    lines = [
        Weight(what="powder", mass=mould.powder),
        Weight(what="water", mass=mould.water),
    ]
    if charge.poured is not None:
        lines.append(Weight(what="metal", mass=charge.poured, kind=None))
    lines.append(
        Weight(
            what="metal by the forecast" if charge.poured is not None else "metal",
            mass=metal.metal,
            low=metal.metal_low,
            high=metal.metal_high,
            weighed=charge.poured is None,
        )
    )
    if metal.return_metal > 0.0:
        lines += [
            Weight(what="of it new", mass=metal.new_metal),
            Weight(what="of it returns", mass=metal.return_metal),
        ]
    if metal.short_by > 0.0:
        lines.append(Weight(what="METAL SHORT BY", mass=metal.short_by, weighed=False))
    return tuple(lines)


def acts(forecast: Forecast, fresh: Material, times: MixTimes, lengths: Lengths) -> list[Act]:
    """Return the acts of the evening.

    Parameters
    ----------
    forecast : Forecast
    fresh : Material
    times : MixTimes
    lengths : Lengths
    """
    mould, mix, speech = forecast.mould, forecast.plan.mix, forecast.plan.speech
    powder = lengths.weighing.si
    wet = wetting_act(forecast.plan.piece, powder, lengths.wetting)
    usual: Kind = "common practice"
    vacuum = marked(gauge(fresh["debubble_vacuum"].si, speech), usual)
    vacuum_length, pour_length = fresh["debubble_time"], fresh["pour_time"]
    bell = marked(span(times.first_vacuum_off - times.stirred), vacuum_length.kind)
    again = marked(span(times.second_vacuum_off - times.poured_in), vacuum_length.kind)
    return [
        Act(
            key="weigh",
            stage="bench",
            at=0.0,
            until=wet.at,
            what="Weigh powder, water and metal, the metal clean and dry.",
            why="Weighed water is the mould; guessed water is a crust.",
            kind=None,
            source="start of the run sheet",
            cautions=("silica_dust",),
            readings=(
                Reading(what="this metal was melted before", unit="times"),
                Reading(what="powder and water at", unit=speech.unit),
            ),
            alarm=900.0,
        ),
        wet,
        Act(
            key="mix",
            stage="bench",
            at=powder,
            until=powder + times.stirred,
            what=f"{grams(mould.powder)} of powder into {grams(mould.water)} of water. Stir "
            f"{marked(span(times.stirred), usual)}.",
            why=f"Start the watch as powder meets water, both at "
            f"{degrees(mix.temperature, speech)}; the next lines count on it.",
            kind=lengths.weighing.kind,
            source=lengths.weighing.source,
            cautions=("silica_dust",),
            readings=(Reading(what="powder in at", unit="o’clock"),),
            alarm=60.0,
        ),
        Act(
            key="first_vacuum",
            stage="bench",
            at=powder + times.stirred,
            until=powder + times.first_vacuum_off,
            what=f"{_ticked(times.stirred)}: bowl under the bell, "
            f"{bell} with the pump on, to {vacuum} below the air outside.",
            why="Air that stays in the slurry becomes beads on the bronze.",
            kind=fresh["mix_time"].kind,
            source=fresh["mix_time"].source,
        ),
        Act(
            key="pour_in",
            stage="bench",
            at=powder + times.first_vacuum_off,
            until=powder + times.poured_in,
            what=f"{_ticked(times.first_vacuum_off)}: pour down the wall of the flask, slowly, "
            "rising round the piece.",
            why="A stream on the piece bends or breaks it.",
            kind=vacuum_length.kind,
            source=vacuum_length.source,
        ),
        Act(
            key="second_vacuum",
            stage="bench",
            at=powder + times.poured_in,
            until=powder + times.second_vacuum_off,
            what=f"{_ticked(times.poured_in)}: flask under the bell, "
            f"{again} with the pump on, tap lightly at the end.",
            why="Froth that falls can pull a tip over: watch it.",
            kind=pour_length.kind,
            source=pour_length.source,
        ),
        Act(
            key="still",
            stage="bench",
            at=powder + times.second_vacuum_off,
            late=powder + times.still_by,
            until=powder + times.hard,
            what=f"{_ticked(times.second_vacuum_off)}: set it down level. Hands off until it is "
            f"hard, and nothing moved past {_ticked(times.still_by)}.",
            why=f"The gloss goes at about {marked(span(times.gloss_off), usual)} after the "
            "powder; a flask moved then cracks.",
            kind=fresh["work_time"].kind,
            source=fresh["work_time"].source,
            readings=(
                Reading(what="still at", unit="o’clock"),
                Reading(what="gloss gone at", unit="o’clock"),
            ),
        ),
    ]


def _ticked(time: si.Second) -> str:
    """Return a time since the powder as a running clock shows it, such as "4:30"."""
    seconds = round(time)
    return f"{seconds // 60}:{seconds % 60:02d}"


def ready(forecast: Forecast) -> tuple[str, ...]:
    """Return what to have ready at the bench.

    Parameters
    ----------
    forecast : Forecast
    """
    bowl = BOWL * si.from_si(forecast.mould.slurry_volume, "l")
    return (
        "fitted dust mask, damp cloth",
        "scales, dry scoop, clean water",
        f"bowl of {bowl:.1f}\u00a0l or more, {BOWL:.0f} times the slurry\u00a0(c)",
        "bell and pump, tried empty",
        "piece on its button, flask sealed to the base",
        "soft brush, spirit or wetting agent",
        "watch, pencil",
    )
