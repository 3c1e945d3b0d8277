"""Curve: which curve does the kiln go through, and when does each step of it begin?"""

from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import SAME, curve_of, steps_of
from pourcast.burnout.model import Curve, KilnStep
from pourcast.burnout.usual import usual_steps, within_curve
from pourcast.findings import Kind
from pourcast.forecast.burnout_case import ROOM
from pourcast.forecast.burnout_unknowns import organs
from pourcast.forecast.model import Forecast
from pourcast.materials import Library
from pourcast.mould.flask_heat import usual_flask_temperature

_SOURCES: dict[str, tuple[Kind | None, str]] = {
    "as written": (None, "steps of the piece file"),
    "usual": ("common practice", "usual curve for a flask of this size"),
    "shortest": ("computed", "shortest curve that keeps every limit"),
    "logged": ("computed", "the day as logged"),
}
"""Name of a curve: how sure its hours are, and who says so."""


def curve_for(forecast: Forecast, book: Library) -> Curve:
    """Return the curve of the forecast; that of the plan, or the usual one, where it has none.

    Parameters
    ----------
    forecast : Forecast
    book : Library

    Returns
    -------
    Curve
    """
    if forecast.burnout is not None:
        return forecast.burnout.curve
    plan = forecast.plan
    steps, name = plan.kiln.steps, "as written"
    if not steps:
        name = "usual"
        heat = plan.flask.temperature
        if heat is None:
            alloy = book.alloy(plan.charge.alloy)
            heat = usual_flask_temperature(alloy, forecast.measures.thinnest).si
        plant = book.plants["general"] if organs(plan, book) else None
        limits = book.investment["limits"]
        steps = usual_steps(
            limits, plan.flask.inside_diameter, within_curve(limits, heat), plant=plant
        )
    return curve_of(
        steps,
        start=ROOM,
        fastest=book.kiln["fastest_ramp"].si,
        fastest_cooling=book.kiln["fastest_cooling"].si,
        name=name,
    )


def source_of(curve: Curve) -> tuple[Kind | None, str]:
    """Return how sure the hours of a curve are, and who says so.

    Parameters
    ----------
    curve : Curve
    """
    return _SOURCES.get(curve.name, ("estimate", curve.name))


def spans(curve: Curve, written: Sequence[KilnStep]) -> list[tuple[KilnStep, si.Seconds]]:
    """Return each step with the moments at which it begins, arrives and ends.

    Parameters
    ----------
    curve : Curve
    written : sequence of KilnStep
        Steps of the piece file; used where the curve was made of them.

    Returns
    -------
    list of pair of KilnStep and array [s], shape (3,)
        Since the block went in.
    """
    if curve.name == "as written" and written:
        found = _walked(curve, written)
        if found is not None:
            return found
    return _summed(curve, steps_of(curve))


def _summed(curve: Curve, steps: Sequence[KilnStep]) -> list[tuple[KilnStep, si.Seconds]]:
    """Return steps whose ramps are all said, one after the other."""
    found, ends, heat = [], 0.0, float(curve.temperature[0])
    for step in steps:
        begins = ends
        change = abs(step.temperature - heat)
        arrives = begins + (change / step.ramp if step.ramp and change > SAME else 0.0)
        ends = arrives + step.hold
        found.append((step, np.array([begins, arrives, ends])))
        heat = step.temperature
    return found


def _walked(curve: Curve, steps: Sequence[KilnStep]) -> list[tuple[KilnStep, si.Seconds]] | None:
    """Return the steps along the points of a curve; None where they are not those of it."""
    found, point, last = [], 0, curve.time.size - 1
    for step in steps:
        begins = point
        point += abs(step.temperature - float(curve.temperature[point])) > SAME
        arrives = min(point, last)
        point += step.hold > 0.0
        if point > last:
            return None
        found.append((step, curve.time[[begins, arrives, point]]))
    return found if point == last else None
