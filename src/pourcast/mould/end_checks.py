"""Is the block over the far end thick enough to hold, and thin enough to breathe?

Practice disagrees on the cover: a quarter of the diameter, or 20 mm whatever the
flask.  Both are shown with what they come to.  The plate is a careful model, its
strength an estimate, so a cover that breaks in most draws is a WATCH, not a STOP,
unless it also keeps neither rule.
"""

from pourcast.findings import Finding, Level, in_100
from pourcast.mould.far_end import FIXED, OF_DIAMETER
from pourcast.mould.model import EndCheck, FarEnd, Flask

BREAKS_FROM = 0.1
"""Share of draws in which the plate breaks from which it is a WATCH; estimate."""

BREAKS_STOP = 0.9
"""The same for a STOP, if the cover keeps neither rule of practice; estimate."""

SLOW_FROM = 2.0
"""Time to empty from which the far end holds the air back [s]: longer than a thin part
stays liquid; estimate."""


def far_end_findings(end: FarEnd, flask: Flask) -> tuple[Finding, ...]:
    """Return what the caster should know of the far end.

    Parameters
    ----------
    end : FarEnd
    flask : Flask

    Returns
    -------
    tuple of Finding
        None where the piece does not fit; `pourcast.mould.checks` says that.
    """
    planned = next((check for check in end.checks if check.rule == "as planned"), None)
    if planned is None:
        return ()
    return (_holds(end, planned, flask), *_breathes(planned))


def _holds(end: FarEnd, planned: EndCheck, flask: Flask) -> Finding:
    keeps = planned.cover >= min(OF_DIAMETER * flask.inside_diameter, FIXED)
    level: Level = "GOOD"
    if planned.breaks > BREAKS_STOP and not keeps:
        level = "STOP"
    elif planned.breaks > BREAKS_FROM:
        level = "WATCH"
    rules = "; ".join(
        f"{check.rule} ({1e3 * check.cover:.0f} mm) breaks in {in_100(check.breaks)}"
        for check in end.checks
        if check.rule != "as planned"
    )
    return Finding(
        stage="mould",
        key="far-end-bears",
        level=level,
        text=(
            f"The end of {1e3 * planned.cover:.0f} mm, counted as a plate, bears "
            f"{1e-3 * planned.stress:.0f} kPa of tension and breaks in "
            f"{in_100(planned.breaks)} of 100 draws. Rules of practice: {rules}. "
            f"{1e3 * end.needed:.0f} mm would break in 5. A plate so thick bears more than that; "
            "the strength of a hot block was never measured in tension. Listen for a thunk and "
            "look at the gauge before metal is poured: if the end has gone, do not pour."
        ),
        value=1e3 * planned.cover,
        limit=1e3 * end.needed,
        unit="mm",
        source="clamped round plate (Timoshenko; Roark), strength drawn over its range",
        kind="estimate",
    )


def _breathes(planned: EndCheck) -> tuple[Finding, ...]:
    if planned.empty_time is None:
        return ()
    slow = planned.empty_time > SLOW_FROM
    text = (
        f"Through that end the pump empties the cavity in about {planned.empty_time:.1f} s"
        if planned.empty_time >= 0.1
        else "Through that end the pump empties the cavity in under 0.1 s"
    )
    return (
        Finding(
            stage="mould",
            key="far-end-breathes",
            level="WATCH" if slow else "GOOD",
            text=text + ("; that is slow: start it well before the pour." if slow else "."),
            value=planned.empty_time,
            limit=SLOW_FROM,
            unit="s",
            source="Darcy's law, permeability drawn over its range",
            kind="estimate",
        ),
    )
