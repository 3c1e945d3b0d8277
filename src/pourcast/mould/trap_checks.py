"""Where do webs of mould break, and where does air stay under the original?

Practice: nothing nearer than 1 mm to its neighbour, no underside level, 10 to 30°
of lean; wetting film, vacuum and light tapping against bubbles.
"""

import math

from pourcast.findings import Finding
from pourcast.mould.gaps import NARROW
from pourcast.mould.model import SlurryResult

TRAP_SHARE = 0.05
"""Share of the surface of a part near level from which it is spoken of; estimate."""

_TRADE = "common practice, no source"


def trap_findings(result: SlurryResult) -> tuple[Finding, ...]:
    """Return what the caster should know of webs, undersides and bubbles.

    Parameters
    ----------
    result : SlurryResult

    Returns
    -------
    tuple of Finding
    """
    return (*_gaps(result), *_traps(result), _bubbles(result))


def _gaps(result: SlurryResult) -> tuple[Finding, ...]:
    if not result.gaps:
        return ()
    named = [
        f"{gap.part} to {gap.other} {1e3 * gap.distance:.1f} mm"
        + (f" ({gap.pairs} places)" if gap.pairs > 1 else "")
        for gap in result.gaps
    ]
    shown = "; ".join(named[:4]) + ("; and more" if len(named) > 4 else "")
    return (
        Finding(
            stage="mould",
            key="narrow-gap",
            level="WATCH",
            text=(
                f"Parts stand nearer than {1e3 * NARROW:.0f} mm to each other: {shown}. So thin a "
                "web of mould breaks and floats off, and a coat or wax bridges it. Spread them, or "
                "join them on purpose."
            ),
            value=1e3 * result.gaps[0].distance,
            limit=1e3 * NARROW,
            unit="mm",
            source=_TRADE,
            kind="estimate",
        ),
    )


def _traps(result: SlurryResult) -> tuple[Finding, ...]:
    traps = result.traps
    told = [part for part in traps.parts if part.share > TRAP_SHARE]
    found = []
    if told:
        shares = ", ".join(f"{part.name} {100.0 * part.share:.0f} %" for part in told)
        if traps.tilt is None or traps.area <= 0.0:
            cure = (
                "No lean of the flask up to 30° frees most of it: brush the first slurry on, or "
                "turn the part."
            )
        else:
            cure = (
                f"A lean of {math.degrees(traps.tilt):.0f}° to the right side leaves "
                f"{100.0 * traps.tilt_area / traps.area:.0f} % of it."
            )
        found.append(
            Finding(
                stage="mould",
                key="level-undersides",
                level="WATCH",
                text=(
                    f"As the flask stands while it is filled, {1e4 * traps.area:.1f} cm² face down "
                    f"within 15° of level and hold bubbles ({shares} of its surface). {cure}"
                ),
                part=max(told, key=lambda part: part.area).name,
                value=1e4 * traps.area,
                unit="cm²",
                source=_TRADE,
                kind="common practice",
            )
        )
    for bell in (part for part in traps.parts if part.bell):
        found.append(
            Finding(
                stage="mould",
                key="open-bell",
                level="WATCH",
                text=(
                    f"The {bell.name} makes a bell that is open downwards while the flask is "
                    "filled: fill it with slurry by brush first, or lean the flask."
                ),
                part=bell.name,
                source="geometry of the piece",
                kind="estimate",
            )
        )
    return tuple(found)


def _bubbles(result: SlurryResult) -> Finding:
    bubble = 1e3 * result.traps.bubble
    return Finding(
        stage="mould",
        key="bubble-size",
        level="WATCH",
        text=(
            f"A bubble under about {bubble:.0f} mm does not rise by itself: the yield stress holds "
            "it. Only vacuum and light tapping take it off, and a wetting film beforehand."
        ),
        value=bubble,
        unit="mm",
        source="yield criterion of a ball in a Bingham fluid; a bubble gives way more easily",
        kind="estimate",
    )
