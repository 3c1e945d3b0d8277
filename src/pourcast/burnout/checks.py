"""Is the block dry, whole, clean and at heat when it is poured?

Limits of the block stand in `pourcast.burnout.block_checks`, those of what the
original holds in `pourcast.burnout.matter_checks`, all others here.
"""

from collections.abc import Mapping

import numpy as np

from pourcast import units as si
from pourcast.burnout.block_checks import (
    BY_HAND,
    OFTEN,
    SELDOM,
    TRADE,
    block_findings,
    in_hours,
    level_of,
)
from pourcast.burnout.model import BurnoutCase, BurnoutResult
from pourcast.burnout.usual import CHAR_BURNS_FROM
from pourcast.findings import Finding, Level, in_100_draws
from pourcast.materials import Fact, Material, Value, caution
from pourcast.speech import Heat, Heats, said

LITTLE_OXYGEN = 0.02
"""Mole fraction in the kiln under which burning waits for air; estimate."""


def findings(
    case: BurnoutCase,
    result: BurnoutResult,
    *,
    limits: Material,
    facts: Mapping[str, Fact],
    planned: si.Kelvin | None,
    usual_time: si.Second,
    beside_usual: si.Ratios,
) -> tuple[Finding, ...]:
    """Return what the caster should know of the burnout.

    Parameters
    ----------
    case : BurnoutCase
    result : BurnoutResult
    limits : Material
        Limits and holds of the burnout, `Library.investment` "limits".
    facts : mapping of str to Fact
        Hazards with the usual precaution.
    planned : float or None [K]
        Flask at the pour by the plan; None: what the curve gives.
    usual_time : float [s]
        What the usual curve for a flask of this size takes.
    beside_usual : array [-], shape (some of the draws,)
        Worst stress of the day over that of the usual curve in the same block.

    Returns
    -------
    tuple of Finding
        In the order of the day.
    """
    found = [
        *block_findings(result, planned, beside_usual),
        _top(case, limits),
        _oxygen(case, result),
        _clean(result, limits["burnout_peak_default"]),
        _length(result, usual_time),
        _not_held_against_a_burnout(),
    ]
    found += [caution(facts[key], "burnout") for key in ("burnout_fumes", "hot_kiln")]
    return tuple(finding for finding in found if finding is not None)


def _top(case: BurnoutCase, limits: Material) -> Finding:
    peak = float(case.curve.temperature.max())
    stop, usual = limits["burnout_peak_hard_stop"], limits["burnout_peak_default"]
    top = Heat(stop.si)
    level: Level = "GOOD"
    against = usual
    text = said("The curve goes to {peak}", peak=Heat(peak))
    if peak > stop.si:
        level, against = "STOP", stop
        text += said(
            ". Above {top} char breaks down the "
            "sulphate of the block: the gas pits the skin and stops thin parts. Stay under it.",
            top=top,
        )
    else:
        text += said("; {usual} is the usual top.", usual=Heat(usual.si))
    if usual.si_high < peak <= stop.si:
        level = "WATCH"
        text += said(
            " The nearer to {top}, the more sulphate breaks down where char is left.", top=top
        )
    return Finding(
        stage="burnout",
        key="burnout-top",
        level=level,
        text=text,
        value=si.from_si(peak, "degC"),
        limit=against.value,
        unit="°C",
        source=against.source,
        kind=against.kind,
    )


def _clean(result: BurnoutResult, top: Value) -> Finding:
    fate = result.fate
    left = fate.char_left.sum(axis=1)
    dirty = float((left >= fate.clean_below).mean())
    limit = si.from_si(fate.clean_below, "mg")
    text: str = (
        f"In {in_100_draws(1.0 - dirty)} of 100 burnouts less than {limit:g} mg of char is left in "
        "the cavity at the pour."
    )
    if dirty >= SELDOM:
        supply = float(np.median(fate.supply[:, -1]))
        cure = (
            "The way of the oxygen rules: more air in the kiln, the gate up and open, a "
            "perforated flask or no flask, and more hours at the top help."
            if supply > OFTEN
            else said(
                "Its own slow burning rules: more hours at {heats} help.",
                heats=Heats(CHAR_BURNS_FROM, top.si),
            )
        )
        text += " " + cure + " Each mg left gives about 19 cm³ of gas when bronze reaches it."
    return Finding(
        stage="burnout",
        key="char-left",
        level=level_of(dirty),
        text=text,
        value=100.0 * (1.0 - dirty),
        limit=100.0 * (1.0 - SELDOM),
        unit="in 100",
        source="1 mg near thin parts; limit set by hand",
    )


def _oxygen(case: BurnoutCase, result: BurnoutResult) -> Finding | None:
    """Return that the air of the kiln was used up, for how long and by how many masses."""
    oxygen = np.median(result.fate.kiln_oxygen, axis=0)
    short = oxygen < LITTLE_OXYGEN
    if not short.any():
        return None
    step = float(result.fate.time[1] - result.fate.time[0])
    flasks = case.burning.flasks
    shared = f" {flasks} masses share it." if flasks > 1 else ""
    return Finding(
        stage="burnout",
        key="little-oxygen",
        level="WATCH",
        text=(
            f"For {in_hours(step * float(short.sum()))} h the air of the kiln holds next to no "
            f"oxygen.{shared} Smoke and carbon monoxide come out of the door then. Open the "
            "vent, lead the fumes outdoors, and go slower while wax and plant burn."
        ),
        value=100.0 * float(oxygen.min()),
        limit=100.0 * LITTLE_OXYGEN,
        unit="%",
        source=BY_HAND,
    )


def _length(result: BurnoutResult, usual_time: si.Second) -> Finding | None:
    time = float(result.curve.time[-1])
    if time >= usual_time:
        return None
    return Finding(
        stage="burnout",
        key="curve-short",
        level="WATCH",
        text=(
            f"The curve takes {in_hours(time)} h; the usual one for a flask of this size takes "
            f"{in_hours(usual_time)} h. This forecast has not been held against a burnout of a "
            "plant: do not go under the usual hours on its word."
        ),
        value=si.from_si(time, "h"),
        limit=si.from_si(usual_time, "h"),
        unit="h",
        source=TRADE,
        kind="common practice",
    )


def _not_held_against_a_burnout() -> Finding:
    return Finding(
        stage="burnout",
        key="hours-unproved",
        level="WATCH",
        text=(
            "The hours rest on powders burnt in a laboratory and on closed forms; no measured "
            "burnout of a plant in a flask was found to hold them against. A white gate does not "
            "prove a white core: look, smell, and blow a little air to see whether it glows."
        ),
        source=TRADE,
        kind="common practice",
    )
