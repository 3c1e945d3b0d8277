"""Gauge: does the gauge of the pump show what the forecast counts on?"""

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.sheet.model import Plan
from pourcast.speech import Gauge, said

GAUGE_LOW = 5e3
"""Pa under what it should show from which on a gauge is low; estimate: it is off by 1 to 5 kPa."""


def is_low(vacuum: si.Pascal, should: si.Pascal) -> bool:
    """Return whether a gauge shows less than it should by more than gauges err.

    Parameters
    ----------
    vacuum : float [Pa]
        That it shows, below the air outside.
    should : float [Pa]
        By the plan, or by what it showed before.
    """
    return vacuum < should - GAUGE_LOW


def low_gauge(vacuum: si.Pascal, plan: Plan) -> Finding | None:
    """Return what to do about a gauge that shows less than the forecast counts on.

    Parameters
    ----------
    vacuum : float [Pa]
        Below the air outside.
    plan : Plan
    """
    planned = plan.assist.vacuum
    if planned is None or not is_low(vacuum, planned):
        return None
    return Finding(
        stage="day",
        key="gauge-low",
        level="WATCH",
        text=said(
            "The gauge shows {shown}, and the forecast counts on {planned}. Look at seal and hose "
            "before the pour. After a fall or a thunk the end of the block has gone: do not pour.",
            shown=Gauge(vacuum),
            planned=Gauge(planned),
        ),
        value=si.from_si(vacuum, "kPa"),
        limit=si.from_si(planned - GAUGE_LOW, "kPa"),
        unit="kPa",
        source="common practice, no source; the limit is what such gauges differ by, an estimate",
        kind="common practice",
    )
