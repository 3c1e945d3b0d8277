"""Before the pour: what mould and melt tell of a plan that is prepared."""

from pourcast.findings import Finding
from pourcast.forecast.prepare import Prepared
from pourcast.melt.checks import findings as melt_findings
from pourcast.mould.checks import findings as mould_findings
from pourcast.mould.flask_heat import usual_flask_temperature, usual_for_any
from pourcast.sheet.model import Plan


def mould_told(plan: Plan, ready: Prepared) -> tuple[Finding, ...]:
    """Return what the mould tells.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    tuple of Finding
    """
    return mould_findings(
        ready.mould,
        plan.flask,
        plan.mix,
        usual_temperature=usual_flask_temperature(ready.alloy, ready.measures.thinnest),
        any_section=usual_for_any(ready.alloy),
        hard_stop=ready.book.investment["limits"]["burnout_peak_hard_stop"],
        silica=ready.book.facts["silica_dust"],
    )


def melt_told(plan: Plan, ready: Prepared) -> tuple[Finding, ...]:
    """Return what the melt tells.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    tuple of Finding
    """
    book = ready.book
    return melt_findings(
        ready.metal,
        plan.charge,
        alloy=ready.alloy,
        limits=book.limits,
        fume_limits=book.fume_limits,
        facts=book.facts,
    )
