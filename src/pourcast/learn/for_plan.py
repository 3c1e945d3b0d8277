"""For a plan: what of a calibration does this plan draw at all?

A forecast refuses a calibration that names a value it does not draw, since a slip
of a name would go unseen.  What a studio has learnt is of many plans: the one by
gravity has no use for what very thin ways add under vacuum.
"""

from dataclasses import replace

from pourcast.forecast.model import Calibration
from pourcast.forecast.own_kiln import OF_THE_KILN
from pourcast.forecast.unknowns import unknowns
from pourcast.materials import library
from pourcast.piece.measure import measure
from pourcast.piece.network import build
from pourcast.sheet.model import Plan


def for_plan(calibration: Calibration | None, plan: Plan) -> Calibration | None:
    """Return a calibration with those values alone that a plan draws.

    Parameters
    ----------
    calibration : Calibration or None
    plan : Plan

    Returns
    -------
    Calibration or None
        None: nothing of it is of this plan.

    Raises
    ------
    InputError
        If a value of the plan is outside its limits.
    """
    if calibration is None:
        return None
    book = library()
    thinnest = measure(plan.piece, build(plan.piece)).thinnest
    drawn = unknowns(plan, book.alloy(plan.charge.alloy), book, thinnest, None)
    keys = {value.key for value in drawn.values()}
    if plan.kiln.volume is not None:
        keys |= set(OF_THE_KILN)
    held = tuple(each for each in calibration.overrides if each.key in keys)
    return replace(calibration, overrides=held) if held else None
