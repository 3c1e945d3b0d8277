"""Block checks: is the block dry and whole, and at heat when it is poured?

Chances count draws; `OFTEN` and `SELDOM` say which share of them is worth a word.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import NEAR, BurnoutResult
from pourcast.burnout.stress import CRISTOBALITE, QUARTZ
from pourcast.findings import Finding, Level, in_100_draws
from pourcast.speech import Heat, Heats, Step, said

OFTEN, SELDOM = 0.5, 0.1
"""Shares of the draws from which a fault is a STOP, and from which a WATCH; estimate."""

OVER, FAR_OVER = 1.25, 2.0
"""Stress over that of the usual curve from which to watch, and to stop; estimate."""

FLASK_OFF = 30.0  # K
"""By which the flask of the plan may differ from what the curve gives; estimate."""

HOLD_UNDER = 423.15  # K, 150 °C
"""Under which a block that steam loads is held; common practice, no source."""

SLOW_THROUGH, SLOW_ABOUT = (493.15, 543.15), 843.15  # K, 220 to 270 °C and 570 °C
"""Where silica changes size: cristobalite, and quartz; from memory."""

STILL = 5.0  # K
"""Between core and air of the kiln, within which a soak moves the core no further; estimate."""

TRADE = "common practice, no source"
BY_HAND = "limit set by hand"


def block_findings(
    result: BurnoutResult, planned: si.Kelvin | None, beside_usual: si.Ratios
) -> tuple[Finding, ...]:
    """Return what the caster should know of water, cracks and heat of the block.

    Parameters
    ----------
    result : BurnoutResult
    planned : float or None [K]
        Flask at the pour by the plan; None: what the curve gives.
    beside_usual : array [-], shape (some of the draws,)
        Worst stress of the day over that of the usual curve in the same block.

    Returns
    -------
    tuple of Finding
        In the order of the day.
    """
    found = (
        _dry(result),
        _stress(result, beside_usual),
        _cooled(result),
        _ready(result),
        _flask(result, planned),
    )
    return tuple(finding for finding in found if finding is not None)


def _dry(result: BurnoutResult) -> Finding:
    wet = float(np.isnan(result.heat.dry_at).mean())
    if wet >= SELDOM:
        text = (
            f"In {in_100_draws(wet)} of 100 burnouts the block still holds free water at the end "
            "of this curve. Hold it longer before the ramp; water under molten metal turns to "
            "steam and throws it."
        )
    else:
        early, late = np.nanpercentile(result.heat.dry_at, (10.0, 90.0)).tolist()
        text = f"The block is dry between {in_hours(early)} and {in_hours(late)} h after the start."
    return Finding(
        stage="burnout",
        key="block-dry",
        level=level_of(wet),
        text=text,
        value=100.0 * wet,
        limit=100.0 * SELDOM,
        unit="in 100",
        source=BY_HAND,
    )


def _stress(result: BurnoutResult, beside_usual: si.Ratios) -> Finding:
    """Return how hard steam and uneven heat load the block.

    An elastic body would crack on every usual curve (5 to 50 times the strength), and
    blocks of the trade do not: fine cracks take the stress up.  So a curve is held
    against the usual one, which others have tried, and not against the strength.
    """
    over = float(np.median(beside_usual))
    steam = np.percentile(result.heat.overpressure.max(axis=1), 50.0).item()
    pressure = f"Steam presses with {si.from_si(steam, 'kPa'):.0f} kPa at its worst"
    level: Level = "STOP" if over >= FAR_OVER else "WATCH" if over >= OVER else "GOOD"
    if level == "GOOD":
        text = (
            f"{pressure}; with uneven heat it loads the block {over:.1f} times as much as the "
            "usual curve does."
        )
    else:
        moment = int(np.median(result.heat.stress.argmax(axis=1)))
        when = in_hours(float(result.heat.time[moment]))
        text = said(
            "{pressure}; with uneven heat it loads the block {over} times as much as the "
            "usual curve does, most about {when} h after the start: it may crack there, and "
            "metal runs into the crack. Ramp slower before that hour, or hold longer under "
            "{drying}.",
            pressure=pressure,
            over=f"{over:.1f}",
            when=when,
            drying=Heat(HOLD_UNDER),
        )
    return Finding(
        stage="burnout",
        key="block-stress",
        level=level,
        text=text,
        value=over,
        limit=FAR_OVER if level == "STOP" else OVER,
        source="stress of an elastic cylinder beside that of the usual curve; limits set by hand",
    )


def _cooled(result: BurnoutResult) -> Finding | None:
    """Return what a block went through that cooled on the way and was heated again."""
    core = np.median(result.heat.core, axis=0)
    again = {limit: _heated_again(core, limit) for limit in (CRISTOBALITE, QUARTZ)}
    if not any(again.values()):
        return None
    limit = CRISTOBALITE if again[CRISTOBALITE] else QUARTZ
    times = again[limit]
    often = "once" if times == 1 else f"{times} times"
    text = said(
        "The core fell through {limit} {often} and was heated again. "
        "Silica changes size there each time, and the block is weaker after it. Look at the "
        "gate and the rim for cracks. Heat again no faster than the first time, slowest from "
        "{slow} and about {quartz}; a block that lay cold has drawn damp and has to dry first.",
        limit=Heat(limit),
        often=often,
        slow=Heats(*SLOW_THROUGH),
        quartz=Heat(SLOW_ABOUT),
    )
    if limit == CRISTOBALITE and times > 1:
        text += " After more than one such fall most casters give the block up."
    return Finding(
        stage="burnout",
        key="core-cooled",
        level="STOP" if limit == CRISTOBALITE and times > 1 else "WATCH",
        text=text,
        value=float(times),
        unit="falls",
        source=TRADE,
        kind="common practice",
    )


def _heated_again(core: si.Kelvins, limit: si.Kelvin) -> int:
    """Return how often the core rose through a temperature again after it fell through it."""
    over = core > limit
    rises = int((over[1:] & ~over[:-1]).sum())
    return max(rises - 1, 0)


def _ready(result: BurnoutResult) -> Finding:
    off = np.isnan(result.ready_at)
    late = float(off.mean())
    text: str = "The core is at casting temperature at the end of the curve."
    if late >= SELDOM:
        heat = result.heat
        behind = np.abs(heat.core[off, -1] - heat.kiln[off, -1])
        cure = (
            "There the kiln itself is off by its gauge or by where the flask stands, and no soak "
            "mends that: try the gauge beside another."
            if np.median(behind) <= STILL
            else "Soak it longer before the pour."
        )
        text = said(
            "In {often} of 100 burnouts the core is more than {near} from the casting temperature "
            "at the end of the curve. {cure}",
            often=in_100_draws(late),
            near=Step(NEAR),
            cure=cure,
        )
    return Finding(
        stage="burnout",
        key="core-ready",
        level=level_of(late),
        text=text,
        value=100.0 * late,
        limit=100.0 * SELDOM,
        unit="in 100",
        source=said("core within {near}; {trade}", near=Step(NEAR), trade=TRADE),
        kind="common practice",
    )


def _flask(result: BurnoutResult, planned: si.Kelvin | None) -> Finding | None:
    if planned is None:
        return None
    found = float(np.median(result.flask_temperature))
    off = found - planned
    if abs(off) <= FLASK_OFF:
        return None
    way = "hotter" if off > 0.0 else "cooler"
    return Finding(
        stage="burnout",
        key="flask-off-plan",
        level="WATCH",
        text=said(
            "The curve ends with the block at {found} round the piece, {off} {way} than the flask "
            "of the plan ({planned}), which the pour goes by. Change one of the two.",
            found=Heat(found),
            off=Step(abs(off)),
            way=way,
            planned=Heat(planned),
        ),
        value=off,
        limit=FLASK_OFF,
        unit="K",
        source=BY_HAND,
    )


def level_of(share: si.Ratio) -> Level:
    """Return how grave a fault is that a share of the draws shows.

    Parameters
    ----------
    share : float [-]
    """
    return "STOP" if share >= OFTEN else "WATCH" if share >= SELDOM else "GOOD"


def in_hours(time: si.Second) -> str:
    """Return a time in hours with one decimal.

    Parameters
    ----------
    time : float [s]
    """
    return f"{si.from_si(time, 'h'):.1f}"
