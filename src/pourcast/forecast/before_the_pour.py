"""Before the pour: what piece, mould and melt tell of a plan that is prepared."""

from pourcast.findings import Finding
from pourcast.forecast.prepare import Prepared, by_the_curve
from pourcast.melt.checks import findings as melt_findings
from pourcast.mould.checks import findings as mould_findings
from pourcast.mould.flask_heat import usual_flask_temperature, usual_for_any
from pourcast.mould.model import State
from pourcast.mould.originals import density_of
from pourcast.mould.vent_checks import vent_findings
from pourcast.piece.checks import findings as piece_findings
from pourcast.sheet.model import Plan


def piece_told(plan: Plan, ready: Prepared) -> tuple[Finding, ...]:
    """Return what the shape tells.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    tuple of Finding
    """
    book = ready.book
    least = "min_section_vacuum" if plan.assist.kind == "vacuum" else "min_section_gravity"
    state = plan.original.state
    records = [
        (book.plants if part.material in book.plants else book.waxes)[part.material]
        for part in plan.piece.parts
    ]
    # An original whose state is not said may be either.
    states: tuple[State, ...] = (state,) if state else ("dry", "fresh")
    densities = [density_of(record, each) for record in records for each in states]
    return piece_findings(
        plan.piece,
        ready.network,
        ready.measures,
        least_section=book.plants["general"][least],
        assist=plan.assist.kind,
        original_density=density_of(records[0], state).si,
        density_range=(
            min(each.si_low for each in densities),
            max(each.si_high for each in densities),
        ),
        dry_lumps=tuple(
            part.name
            for part in plan.piece.parts
            if part.shape == "lump"
            and part.material in book.plants
            and part.material != "insect"
            and state in (None, "dry")
        ),
    )


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
    return (
        *mould_findings(
            ready.mould,
            plan.flask,
            plan.mix,
            ends_at=plan.kiln.steps[-1].temperature if plan.kiln.steps else None,
            followed=by_the_curve(plan),
            usual_temperature=usual_flask_temperature(ready.alloy, ready.measures.thinnest),
            any_section=usual_for_any(ready.alloy),
            hard_stop=ready.book.investment["limits"]["burnout_peak_hard_stop"],
            silica=ready.book.facts["silica_dust"],
        ),
        *vent_findings(plan.piece, ready.network, plan.flask),
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
