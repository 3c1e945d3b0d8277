"""How long to hold the vacuum, when to quench, how hot the mould gets, and what can hurt.

Limits and sentences of what comes after the metal is in; called by
`pourcast.freeze.checks`.
"""

from collections.abc import Mapping

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Level, in_100
from pourcast.freeze.finding import finding
from pourcast.freeze.hold import hold_until
from pourcast.freeze.model import FreezeCase, FreezeResult
from pourcast.freeze.quench import (
    FACE_HIGH,
    FACE_LOW,
    GLOW,
    MARGIN,
)
from pourcast.freeze.usual import USUAL_HOLD, USUAL_QUENCH
from pourcast.materials import Fact, caution
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult

SURE = 90.0  # per cent of the draws that a time shall cover; estimate

_CAUTIONS = ("hot_flask_vacuum", "quench_steam", "so2")


def cooling_findings(
    network: Network,
    case: FreezeCase,
    result: PourResult,
    freezing: FreezeResult,
    *,
    facts: Mapping[str, Fact],
) -> tuple[Finding, ...]:
    """Return what the caster should know from the end of the pour to the quench.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
    freezing : FreezeResult
    facts : mapping of str to Fact

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    vacuum = bool(np.median(case.pour.block.vacuum) > 0.0)
    said = [key for key in _CAUTIONS if vacuum or key != "hot_flask_vacuum"]
    return (
        *(_hold(network, case, result, freezing) if vacuum else ()),
        _face(freezing),
        *_window(freezing),
        *(caution(facts[key], "freeze") for key in said),
    )


def _hold(
    network: Network, case: FreezeCase, result: PourResult, freezing: FreezeResult
) -> tuple[Finding, ...]:
    times = hold_until(network, case.pour, result, freezing)
    needed = float(np.percentile(times, SURE))
    usual = (
        f"vacuum {USUAL_HOLD.condition}, {USUAL_HOLD.low:g} to {USUAL_HOLD.high:g} min, is "
        f"{USUAL_HOLD.kind}"
    )
    if needed <= 0.0:
        text = (
            "The head of metal alone holds every part once it is full: when the vacuum stops "
            f"decides nothing here; {usual}."
        )
        return (finding("GOOD", text, 0.0, None, "s", source=_HOLD),)
    text = (
        f"Some parts are so thin that only the vacuum holds the metal in them until they close, "
        f"{needed:.0f} s after the pour began in {SURE:.0f} of 100 castings. If the pump stops "
        f"earlier they run back: skin there, inside empty. {usual[0].upper()}{usual[1:]}; the air "
        "also presses on the button and feeds a little longer."
    )
    if case.vacuum_hold is None:
        return (finding("WATCH", text, needed, None, "s", source=_HOLD),)
    held = float(np.median(case.vacuum_hold))
    short = float(np.mean(case.vacuum_hold < times))
    level: Level = "GOOD" if held >= needed else "WATCH"
    if short >= 0.5:
        level = "STOP"
    text += f" The plan holds it for {held:.0f} s."
    return (finding(level, text, held, needed, "s", source=_HOLD),)


_HOLD = "push of the surface against the head of metal; contact angle and film are estimates"


def _face(freezing: FreezeResult) -> Finding:
    low = float(np.median(freezing.above_760))
    high = float(np.median(freezing.above_900))
    peak = si.from_si(float(np.median(freezing.face_peak)), "degC")
    burnout, breaks = (
        f"{si.from_si(FACE_LOW, 'degC'):.0f} °C",
        f"{si.from_si(FACE_HIGH, 'degC'):.0f} °C",
    )
    text = (
        f"Beside the button the mould face comes to {peak:.0f} °C and stays over {burnout} for "
        f"{si.from_si(low, 'min'):.1f} min, over {breaks} for {si.from_si(high, 'min'):.1f} min. "
        "Every pour of bronze does that for some time; the skin there may be rough and gives off "
        f"sulphur dioxide. The limit of {burnout} is for the burnout, not for the pour."
    )
    level: Level = "WATCH" if high > 0.0 else "GOOD"
    source = f"{burnout}: common practice, no source; {breaks}: thermal analysis, from memory"
    return finding(
        level,
        text,
        si.from_si(high, "min"),
        0.0,
        f"min over {breaks}",
        source=source,
        kind="from memory",
    )


def _window(freezing: FreezeResult) -> tuple[Finding, ...]:
    known = np.isfinite(freezing.quench_from)
    if not known.all():
        text = (
            "In some castings the button is not yet below its solidus when the forecast ends. Do "
            "not quench by the clock: wait until the button is black."
        )
        return (finding("WATCH", text, None, None, "", source=_QUENCH),)
    first = [_minutes(freezing.quench_from, share) for share in (10.0, 50.0, 90.0)]
    text = (
        f"All metal is solid and the middle of the button {MARGIN:.0f} K below the solidus after "
        f"{first[1]:.0f} min ({first[0]:.0f} to {first[2]:.0f}, 10 and 90 of 100 castings), "
        f"counted from the pour: not into water before {first[2]:.0f} min."
    )
    dark = freezing.button_dark[np.isfinite(freezing.button_dark)]
    if dark.size:
        text += (
            f" The sign to go by is a button that no longer glows in a dark room, at "
            f"{si.from_si(GLOW, 'degC'):.0f} °C after about {_minutes(dark, 50.0):.0f} min; where "
            f"the two differ, go by the later. Usual for bronze are {USUAL_QUENCH.low:g} to "
            f"{USUAL_QUENCH.high:g} min by size."
        )
    text += (
        " Too early: hot metal has no strength and cracks at its necks, liquid metal bursts in "
        "water; slow cooling to the hand costs only time."
    )
    later = freezing.quench_to[np.isfinite(freezing.quench_to)]
    found = [finding("WATCH", text, first[2], None, "min", source=_QUENCH)]
    if later.size:
        last = [_minutes(later, share) for share in (10.0, 50.0, 90.0)]
        closing = (
            f"The block still bursts off in water until about {last[1]:.0f} min "
            f"({last[0]:.0f} to {last[2]:.0f}) after the pour; later it stays hard and must be dug "
            "off thin parts."
        )
        empty = float(np.mean(freezing.quench_to < freezing.quench_from))
        if empty > 0.0:
            closing += (
                f" In {in_100(empty)} of 100 castings that is before the metal may be "
                "quenched: wait all the same, and dig with wood."
            )
        level: Level = "WATCH" if empty > 0.0 else "GOOD"
        found.append(finding(level, closing, last[0], first[2], "min", source=_BURST))
    return tuple(found)


_QUENCH = f"margin under the solidus: estimate; glow: Draper (1847); usual: {USUAL_QUENCH.source}"
_BURST = "heat of the block at which it still bursts: estimate; no figure was found"


def _minutes(times: si.Seconds, share: float) -> float:
    return si.from_si(float(np.percentile(times, share)), "min")
