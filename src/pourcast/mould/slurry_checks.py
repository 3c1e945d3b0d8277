"""Does the slurry move the original, and does the piece stay on its button?

Limits and sentences about the original in the slurry stand here, those about webs and
trapped air in `pourcast.mould.trap_checks`.  A part that
lies over in most draws is a STOP: its shape is lost, and a coat or another way to
stand it may save it.  Nothing here has been held against a measured investing.
"""

import math
from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Level, in_100
from pourcast.mould.gaps import NARROW
from pourcast.mould.model import CoatStep, PartSlurry, SlurryCase, SlurryResult, When
from pourcast.mould.parts_in_slurry import LEANS
from pourcast.mould.trap_checks import trap_findings

TOLD_FROM = 0.1
"""Share of the draws from which a part that leans or lies over is spoken of; estimate."""

LOST_FROM = 0.5
"""Share of the draws from which it is a STOP; estimate."""

_MODEL = (
    "beams in a Bingham fluid; yield stress, speed and stiffness drawn over their ranges, most of "
    "them estimates; the jet of the pour is not in it"
)
_TRADE = "common practice, no source"
_WHEN: dict[When, str] = {
    "rise": "while the slurry rises past it",
    "side": "while the slurry flows round it",
    "froth": "in the froth of the vacuum chamber, which passes it twice",
    "still": "while the slurry stands",
}


def slurry_findings(result: SlurryResult, case: SlurryCase) -> tuple[Finding, ...]:
    """Return what the caster should know before slurry goes over the original.

    Parameters
    ----------
    result : SlurryResult
    case : SlurryCase
        That it came from.

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    moved = [part for part in result.parts if part.leans > TOLD_FROM]
    return (
        *(_moved(part) for part in moved),
        *_stands(result, moved),
        *_touches(result.parts),
        _way_to_pour(result.parts, case),
        *_joint(result),
        *_loose(result.parts),
        *trap_findings(result),
    )


def _moved(part: PartSlurry) -> Finding:
    cause = "its own lift" if part.pushed_by == "buoyancy" else f"the {part.pushed_by}"
    level: Level = "STOP" if part.lies_over > LOST_FROM else "WATCH"
    if part.lean is None:
        text = f"The slurry will lay the {part.name} over"
        if part.lies_over < 1.0:
            text += f" ({in_100(part.lies_over)} of 100 draws)"
    else:
        text = (
            f"The {part.name} leans by {100.0 * part.lean:.0f} % of its length, by over "
            f"{100.0 * LEANS:.0f} % in {in_100(part.leans)} of 100 draws"
        )
        if part.lies_over > 0.0:
            text += f", and lies over in {in_100(part.lies_over)}"
    text += f"; it bends most {_WHEN[part.when]}, and {cause} does most of it. "
    return Finding(
        stage="mould",
        key="part-leans",
        level=level,
        text=text + _coat_sentence(part.coats),
        part=part.name,
        value=100.0 * (part.lies_over if part.lean is None else part.lean),
        limit=100.0 * (LOST_FROM if part.lean is None else LEANS),
        unit="% of draws" if part.lean is None else "% of length",
        source=_MODEL,
        kind="estimate",
    )


def _coat_sentence(coats: Sequence[CoatStep]) -> str:
    """Return what a coat would do, from the thinnest that is enough in nine draws of ten."""
    enough = next((step for step in coats if step.leans <= TOLD_FROM), None)
    if enough is None:
        return (
            f"Even {1e3 * coats[-1].coat:.1f} mm of coat on every side may not hold it: "
            "back it with wax, hold it with a thread, or stand it so that it points up."
        )
    return (
        f"A further coat of {1e3 * enough.coat:.2g} mm on every side would bring it to "
        f"{100.0 * (enough.lean or 0.0):.0f} %: in thin layers, dried for an hour or more. "
        f"The cavity grows by {2e3 * enough.coat:.2g} mm across and fills easier; detail finer "
        "than the coat is lost."
    )


def _stands(result: SlurryResult, moved: Sequence[PartSlurry]) -> tuple[Finding, ...]:
    stand = [part for part in result.parts if part not in moved]
    if not stand:
        return ()
    worst = max(stand, key=lambda part: part.lean or 0.0)
    return (
        Finding(
            stage="mould",
            key="parts-stand",
            level="GOOD",
            text=(
                f"{_listed(stand)} {'stands' if len(stand) == 1 else 'stand'}: the slurry bends "
                f"{worst.name} most, by {100.0 * (worst.lean or 0.0):.1f} % of its length."
            ),
            value=100.0 * (worst.lean or 0.0),
            limit=100.0 * LEANS,
            unit="% of length",
            source=_MODEL,
            kind="estimate",
        ),
    )


def _touches(parts: Sequence[PartSlurry]) -> tuple[Finding, ...]:
    found = []
    for part in parts:
        near = part.neighbour_gap is None or part.neighbour_gap >= NARROW
        # What stands nearer than 1 mm from the first is told with the gaps.
        if part.touches > TOLD_FROM and near and part.moves is not None:
            to = "the flask"
            if part.neighbour_gap is not None and part.neighbour_gap < part.wall_gap:
                to = f"the {part.neighbour}"
            found.append(
                Finding(
                    stage="mould",
                    key="parts-touch",
                    level="WATCH",
                    text=(
                        f"The {part.name} moves by {1e3 * part.moves:.1f} mm at its tip with what "
                        f"it grows on, and may come against {to} in "
                        f"{in_100(part.touches)} of 100 draws."
                    ),
                    part=part.name,
                    value=1e3 * part.moves,
                    limit=1e3 * min(part.wall_gap, part.neighbour_gap or math.inf),
                    unit="mm",
                    source=_MODEL,
                    kind="estimate",
                )
            )
    return tuple(found)


def _way_to_pour(parts: Sequence[PartSlurry], case: SlurryCase) -> Finding:
    speed = 1e3 * float(np.median(case.rise_speed))
    worst = max(parts, key=lambda part: part.leans)
    text = (
        f"Pour down the wall, away from the work, so slowly that the slurry rises by about "
        f"{speed:.0f} mm/s, as it is counted here; a stream on the work hits harder than any "
        "number given here. "
    )
    if worst.leans > TOLD_FROM and worst.pushed_by == "yield stress":
        text += (
            "The yield stress bends the thin parts, and slower pouring takes nothing off that: a "
            "thinner mix, pouring while it is fresh, or a coat does."
        )
    elif worst.leans > TOLD_FROM and worst.pushed_by == "viscosity":
        text += "Speed bends the thin parts: half of it takes off up to half."
    elif worst.leans > TOLD_FROM:
        text += "Lift bends the parts: stand the piece so that they point straight up."
    else:
        text += "Cover half of it, look for bubbles, then fill."
    return Finding(
        stage="mould",
        key="slurry-pour",
        level="WATCH" if worst.leans > TOLD_FROM else "GOOD",
        text=text,
        part=worst.name if worst.leans > TOLD_FROM else None,
        value=speed,
        unit="mm/s",
        source=_TRADE,
        kind="common practice",
    )


def _joint(result: SlurryResult) -> tuple[Finding, ...]:
    joint = result.joint
    level: Level = "GOOD"
    if joint.tears > LOST_FROM:
        level = "STOP"
    elif joint.tears > TOLD_FROM:
        level = "WATCH"
    text = (
        f"The slurry lifts the piece with {joint.force:.2f} N, as much as "
        f"{si.from_si(joint.force / si.GRAVITY, 'g'):.0f} g weigh, and bends the wax joint on the "
        f"button: {1e-3 * joint.stress:.0f} kPa in the joint, which holds about "
        f"{1e-3 * joint.strength:.0f} kPa. Counted as if the flow met all of the piece at once, "
        f"it tears in {in_100(joint.tears)} of 100 draws."
    )
    if level != "GOOD":
        text += " Melt the joint through, with a fillet all round, and tap less."
    return (
        Finding(
            stage="mould",
            key="joint-tears",
            level=level,
            text=text,
            value=1e-3 * joint.stress,
            limit=1e-3 * joint.strength,
            unit="kPa",
            source=_MODEL,
            kind="estimate",
        ),
    )


def _loose(parts: Sequence[PartSlurry]) -> tuple[Finding, ...]:
    drift = [part for part in parts if part.floats > LOST_FROM and part.held < LOST_FROM]
    if not drift:
        return ()
    worst = min(drift, key=lambda part: part.held)
    return (
        Finding(
            stage="mould",
            key="floats-up",
            level="WATCH",
            text=(
                f"{_listed(drift)}, lighter than the slurry, would float up if it came loose: the "
                f"yield stress holds {worst.name} in {in_100(worst.held)} of 100 draws. See "
                "that each joint is melted on."
            ),
            part=worst.name,
            value=100.0 * worst.held,
            unit="% of draws",
            source="yield criterion of a ball or a rod in a Bingham fluid",
            kind="estimate",
        ),
    )


def _listed(parts: Sequence[PartSlurry]) -> str:
    names = [part.name for part in parts]
    shown = ", ".join(names[:-1]) + (" and " if names[:-1] else "") + names[-1]
    return f"{shown[:1].upper()}{shown[1:]}"
