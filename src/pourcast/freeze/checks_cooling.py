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
from pourcast.speech import Heat, Step, said

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
        return (finding("vacuum-hold", "GOOD", text, 0.0, None, "s", source=_HOLD),)
    text = (
        f"Some parts are so thin that only the vacuum holds the metal in them until they close, "
        f"{needed:.0f} s after the pour began in {SURE:.0f} of 100 castings. If the pump stops "
        f"earlier they run back: skin there, inside empty. {usual[0].upper()}{usual[1:]}; the air "
        "also presses on the button and feeds a little longer."
    )
    if case.vacuum_hold is None:
        return (finding("vacuum-hold", "WATCH", text, needed, None, "s", source=_HOLD),)
    held = float(np.median(case.vacuum_hold))
    short = float(np.mean(case.vacuum_hold < times))
    level: Level = "GOOD" if held >= needed else "WATCH"
    if short >= 0.5:
        level = "STOP"
    text += f" The plan holds it for {held:.0f} s."
    return (finding("vacuum-hold", level, text, held, needed, "s", source=_HOLD),)


_HOLD = "push of the surface against the head of metal; contact angle and film are estimates"


def _face(freezing: FreezeResult) -> Finding:
    low = float(np.median(freezing.above_760))
    high = float(np.median(freezing.above_900))
    burnout, breaks = Heat(FACE_LOW), Heat(FACE_HIGH)
    text = said(
        "Beside the button the mould face comes to {peak} and stays over {burnout} for {low} min, "
        "over {breaks} for {high} min. "
        "Every pour of bronze does that for some time; the skin there may be rough and gives off "
        "sulphur dioxide. The limit of {burnout} is for the burnout, not for the pour.",
        peak=Heat(float(np.median(freezing.face_peak))),
        burnout=burnout,
        breaks=breaks,
        low=f"{si.from_si(low, 'min'):.1f}",
        high=f"{si.from_si(high, 'min'):.1f}",
    )
    level: Level = "WATCH" if high > 0.0 else "GOOD"
    source = said(
        "{burnout}: common practice, no source; {breaks}: thermal analysis, from memory",
        burnout=burnout,
        breaks=breaks,
    )
    return finding(
        "mould-face",
        level,
        text,
        si.from_si(high, "min"),
        0.0,
        said("min over {breaks}", breaks=breaks),
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
        return (finding("quench-from", "WATCH", text, None, None, "", source=_QUENCH),)
    first = [_minutes(freezing.quench_from, share) for share in (10.0, 50.0, 90.0)]
    text = said(
        "All metal is solid and the middle of the button {margin} below the solidus after "
        "{usual} min ({early} to {late}, 10 and 90 of 100 castings), "
        "counted from the pour: not into water before {late} min.",
        margin=Step(MARGIN),
        early=f"{first[0]:.0f}",
        usual=f"{first[1]:.0f}",
        late=f"{first[2]:.0f}",
    )
    dark = freezing.button_dark[np.isfinite(freezing.button_dark)]
    if dark.size:
        text += said(
            " The sign to go by is a button that no longer glows in a dark room, at {glow} after "
            "about {dark} min; where the two differ, go by the later. Usual for bronze are {low} "
            "to {high} min by size.",
            glow=Heat(GLOW),
            dark=f"{_minutes(dark, 50.0):.0f}",
            low=f"{USUAL_QUENCH.low:g}",
            high=f"{USUAL_QUENCH.high:g}",
        )
    text += (
        " Too early: hot metal has no strength and cracks at its necks, liquid metal bursts in "
        "water; slow cooling to the hand costs only time."
    )
    later = freezing.quench_to[np.isfinite(freezing.quench_to)]
    found = [finding("quench-from", "WATCH", text, first[2], None, "min", source=_QUENCH)]
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
        found.append(finding("quench-to", level, closing, last[0], first[2], "min", source=_BURST))
    return tuple(found)


_QUENCH = f"margin under the solidus: estimate; glow: Draper (1847); usual: {USUAL_QUENCH.source}"
_BURST = "heat of the block at which it still bursts: estimate; no figure was found"


def _minutes(times: si.Seconds, share: float) -> float:
    return si.from_si(float(np.percentile(times, share)), "min")
