"""Does it feed, and what would feed it; when may it be quenched?

Every limit of the freezing stands here and in `pourcast.freeze.checks_cooling`.  It is
called as

    findings(network, case, result, freezing, other=with_the_other_top, facts=library().facts)

What is told of shrinkage is what a place still has to shrink when it is cut off from
the button.  The bound of this network is stated with it: it knows no neighbour
that warms the same mould, so thick heads freeze later than it says, and no feeding
through mush after the stop.  Niyama's number is not used: it needs the gradient inside a
section, which a segment of one temperature does not have.
"""

from collections.abc import Mapping

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Level, in_100
from pourcast.freeze.bodies import sizes
from pourcast.freeze.checks_cooling import cooling_findings
from pourcast.freeze.feeder import MODULUS_FACTOR, proposals
from pourcast.freeze.finding import finding
from pourcast.freeze.model import BUTTON, Feeder, FreezeCase, FreezeResult, HotSpot
from pourcast.freeze.spots import LEAST_LACK, hot_spots
from pourcast.materials import Fact
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult

SELDOM = 0.05  # share of the draws under which a hot spot is not told; estimate
SERIOUS = 0.2  # share of the draws from which on a feeder is worked out; estimate
HALF = 0.5  # share of the draws from which on a large hole is more than a watch; estimate
LARGE = 200e-9  # m³, a hole 7 mm wide; estimate
MOST_TOLD = 8  # hot spots that are told by part; the rest in one sentence
MOST_FEEDERS = 3
BUTTON_GIVES = 0.3  # of the button that can run out before it pipes into the gate; estimate

_CASTINGS = "% of the castings"


def findings(
    network: Network,
    case: FreezeCase,
    result: PourResult,
    freezing: FreezeResult,
    *,
    facts: Mapping[str, Fact],
    other: FreezeResult | None = None,
) -> tuple[Finding, ...]:
    """Return what the caster should know of the freezing, the feeding and the quench.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
        How the pours ended.
    freezing : FreezeResult
        How the castings froze, of the same network, case and pours.
    facts : mapping of str to Fact
        Hazards by key; "hot_flask_vacuum", "quench_steam" and "so2" are said here.
    other : FreezeResult, optional
        The same with the top of the button as it is not in ``case``; of all pours or of the
        first only.

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    told, feeders = not_fed(network, case, result, freezing)
    by_part = {spot.part: spot for spot in told}
    return (
        _last(network, freezing),
        *_spots(told, freezing),
        *(_feeder(feeder, by_part[feeder.part]) for feeder in feeders),
        _button(network, case, result),
        *_top(case, freezing, other),
        *cooling_findings(network, case, result, freezing, facts=facts),
    )


def not_fed(
    network: Network, case: FreezeCase, result: PourResult, freezing: FreezeResult
) -> tuple[tuple[HotSpot, ...], tuple[Feeder, ...]]:
    """Return the hot spots that are worth a word, and feeders for the serious ones.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
    freezing : FreezeResult

    Returns
    -------
    spots : tuple of HotSpot
        One for each part that has any, the worst first.
    feeders : tuple of Feeder
    """
    spots = hot_spots(network, case, result, freezing)
    told = tuple(spot for spot in spots if spot.chance >= SELDOM)
    serious = tuple(spot for spot in told if spot.chance >= SERIOUS)[:MOST_FEEDERS]
    return told, proposals(network, case, result, serious)


def _last(network: Network, freezing: FreezeResult) -> Finding:
    share = float(np.mean(freezing.last == BUTTON))
    value = 100.0 * share
    rest = freezing.last[freezing.last != BUTTON]
    if rest.size == 0:
        text = "The button is the last to freeze, as it should be: what shrinks draws on it."
        return finding("last-to-freeze", "GOOD", text, value, 100.0, _CASTINGS)
    part_of = network.member_part[network.member]
    part = int(np.bincount(part_of[rest]).argmax())
    name = network.part_names[part]
    text = (
        f"In {_castings(1.0 - share)} not the button but {name} is the last to freeze. A button "
        "that stands full and sound over a porous piece has frozen too early. Cover its top, make "
        "it larger, or widen the way to it."
    )
    level: Level = "STOP" if share < HALF else "WATCH"
    return finding("last-to-freeze", level, text, value, 100.0, _CASTINGS, part=name)


def _spots(spots: tuple[HotSpot, ...], freezing: FreezeResult) -> tuple[Finding, ...]:
    if not spots:
        lost = si.from_si(float(np.median(freezing.lack.sum(axis=1))), "m3") * 1e9
        text = (
            "No place that is cut off while it still shrinks lacks enough to be told "
            f"(in all {lost:.2f} mm³)."
        )
        return (finding("all-fed", "GOOD", text, lost, LEAST_LACK * 1e9, "mm³"),)
    found = [_spot(spot) for spot in spots[:MOST_TOLD]]
    if len(spots) > MOST_TOLD:
        rest = spots[MOST_TOLD:]
        most = 1e9 * max(spot.total for spot in rest)
        text = (
            f"{len(rest)} more parts have places that are cut off, of {most:.1f} mm³ and less "
            "each: " + ", ".join(spot.part for spot in rest) + "."
        )
        found.append(finding("more-hot-spots", "WATCH", text, most, LEAST_LACK * 1e9, "mm³"))
    return tuple(found)


def _spot(spot: HotSpot) -> Finding:
    lack = 1e9 * spot.lack
    places = "one place" if spot.count == 1 else f"{spot.count} places"
    if spot.neck == "":
        why = "no metal leads from it to the button"
    elif spot.neck == "button":
        why = f"the button closes before it, {spot.cut_time:.0f} s after the pour began"
    elif spot.neck == spot.part:
        why = f"its own neck closes {_seconds(spot.cut_time)} s after the pour began"
    else:
        why = f"{spot.neck} closes before it, {_seconds(spot.cut_time)} s after the pour began"
    text = (
        f"In {_castings(spot.chance)} {places} of {spot.part} must shrink without being fed: "
        f"{why}. There it lacks about {lack:.1f} mm³, which shows as ragged holes inside or a sunk "
        f"face (V/A {1e3 * spot.modulus:.2f} mm)."
    )
    level: Level = "STOP" if spot.chance >= HALF and spot.lack >= LARGE else "WATCH"
    return finding("hot-spot", level, text, lack, LEAST_LACK * 1e9, "mm³", part=spot.part)


def _feeder(feeder: Feeder, spot: HotSpot) -> Finding:
    diameter = si.from_si(feeder.diameter, "mm")
    modulus = si.from_si(feeder.diameter_by_modulus, "mm")
    model = si.from_si(feeder.diameter_by_model, "mm")
    length = si.from_si(feeder.length, "mm")
    each = "" if spot.count == 1 else f" {spot.count} places there would each want one."
    text = (
        f"A wax rod {diameter:.1f} mm thick and {length:.0f} mm long, straight from {feeder.part} "
        f"to the floor of the button, would feed it: {modulus:.1f} mm by V/A times "
        f"{MODULUS_FACTOR:g}, {model:.1f} mm by this forecast.{each} Look whether anything stands "
        "in its way; each rod is a scar to clean. A thicker neck does the same where it can be had."
    )
    source = f"V/A times {MODULUS_FACTOR:g}: common practice, no source; the other is this forecast"
    return finding(
        "feeder",
        "WATCH",
        text,
        diameter,
        None,
        "mm",
        part=feeder.part,
        source=source,
        kind="common practice",
    )


def _button(network: Network, case: FreezeCase, result: PourResult) -> Finding:
    volume, _ = sizes(network)
    scale = case.pour.section_scale[:, network.member]
    piece = (volume * scale**2 * result.filled).sum(axis=1)
    over = np.maximum(case.pour.metal.temperature - case.pour.metal.liquidus, 0.0)
    asked = piece * (case.shrinkage + case.liquid_contraction * over)
    given = BUTTON_GIVES * result.metal_left
    ratio = float(np.median(asked / np.maximum(given, 1e-12)))
    shown = 1e6 * float(np.median(asked)), 1e6 * float(np.median(result.metal_left))
    text = (
        f"While it freezes the piece draws about {shown[0]:.2f} cm³ from the {shown[1]:.1f} cm³ "
        "that stand in the button."
    )
    level: Level = "GOOD"
    if ratio > 1.0:
        level = "WATCH"
        text += (
            f" A button gives about {100.0 * BUTTON_GIVES:.0f} % of itself before it sinks "
            "through to the gate. Pour more, or make it larger."
        )
    limit = BUTTON_GIVES * shown[1]
    return finding(
        "button-gives", level, text, shown[0], limit, "cm³", source="volume balance; estimate"
    )


def _top(
    case: FreezeCase, freezing: FreezeResult, other: FreezeResult | None
) -> tuple[Finding, ...]:
    if other is None:
        return ()
    # What one top is over the other is told of pours that were followed under both.
    both = min(freezing.last.size, other.last.size)
    covered, bare = (other, freezing) if case.top == "open" else (freezing, other)
    saved = 1e9 * float(np.median((bare.lack[:both] - covered.lack[:both]).sum(axis=1)))
    early = _minutes(bare.button_freeze_time), _minutes(covered.button_freeze_time)
    wait = _minutes(covered.quench_from[:both]) - _minutes(bare.quench_from[:both])
    shares = [float(np.mean(one.last[:both] == BUTTON)) for one in (bare, covered)]
    text = (
        f"Left open, the button is solid after {early[0]:.1f} min and is the last in "
        f"{_castings(shares[0])}; under fibre or dry powder after {early[1]:.1f} min, the last in "
        f"{_castings(shares[1])}."
    )
    helps = saved >= LEAST_LACK * 1e9 or shares[1] - shares[0] >= SELDOM
    if helps:
        text += f" The cover saves {max(saved, 0.0):.1f} mm³ of holes in the piece"
    else:
        text += " For this piece the cover saves no holes"
    text += f", and the quench waits {wait:.0f} min longer."
    level: Level = "WATCH" if helps and case.top == "open" else "GOOD"
    source = f"{both} pours under both tops; heat through the cover is an estimate"
    return (finding("button-top", level, text, saved, LEAST_LACK * 1e9, "mm³", source=source),)


def _castings(share: float) -> str:
    if share == 0.0:
        return "none of 100 castings"
    return f"{in_100(share)} of 100 castings"


def _seconds(time: float) -> str:
    return f"{time:.1f}" if time < 10.0 else f"{time:.0f}"


def _minutes(times: si.Seconds) -> float:
    known = times[np.isfinite(times)]
    return si.from_si(float(np.median(known)), "min") if known.size else float("nan")
