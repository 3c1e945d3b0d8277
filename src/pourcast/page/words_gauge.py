"""Words of the gauge: what the gauge of the pump shows, beside what the forecast counts on."""

from pourcast import units as si
from pourcast.day.model import GAUGE_LOW
from pourcast.findings import Finding
from pourcast.sheet.model import Plan
from pourcast.speech import Gauge, said


def gauge_told(vacuum: si.Pascal, plan: Plan) -> str:
    """Return a reading of the gauge in the caster's unit.

    Parameters
    ----------
    vacuum : float [Pa]
        Below the air outside.
    plan : Plan
    """
    return f"gauge {plan.speech.vacuum(vacuum)}"


def low_gauge(vacuum: si.Pascal, plan: Plan) -> Finding | None:
    """Return what to do about a gauge that shows less than the forecast counts on.

    Parameters
    ----------
    vacuum : float [Pa]
        Below the air outside.
    plan : Plan
    """
    planned = plan.assist.vacuum
    if planned is None or vacuum >= planned - GAUGE_LOW:
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
