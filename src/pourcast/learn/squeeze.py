"""Squeeze: weighted draws into a value with a low and a high end.

A forecast draws from a value, its low and its high end (`pourcast.materials.draws`), by
one of two laws.  A value of the kind "computed" leans: each side falls in a straight
line from the value to its end.  One of the kind "estimate" is flat on each side.  In the
numbers T in which it is drawn, a side of width w leaves a twentieth of all beyond

    (1 - √0.1) w = 0.684 w  leaning,     0.9 w  flat                           (1)

so w is the way from the median to the 5th or 95th percentile over 0.684 or 0.9.  Neither
end lies outside the range of the book of values.  Both laws are tried, and the one is
kept whose 5th, 25th, 75th and 95th percentile lie nearer to those of the draws: a value
of which much was learnt leans as a rule, one of which little was learnt stays flat.
What is drawn then has the median and, where no end was cut off, the 90 % interval of
what was learnt.

Lost: the shape between these (the tails of a bell end at once), and every tie between
unknowns.  Outcomes often settle a product of two unknowns and neither of them: each
then looks wide by itself, and the forecast is wider than what is known.  It errs to the
careful side.  Where an end was cut off, the interval is narrower than what was learnt,
by at most a third of that side with a leaning law and a tenth with a flat one.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.findings import Kind
from pourcast.learn.axes import is_in_logarithm, transformed
from pourcast.learn.model import Range
from pourcast.learn.weights import percentile
from pourcast.materials import Value
from pourcast.materials.draws import ArrayInSI, quantile
from pourcast.materials.model import Written

FIVE, FIFTY, NINETY_FIVE = 0.05, 0.5, 0.95
LEANS = 1.0 - math.sqrt(0.1)
"""Of (1)."""

FLAT = 0.9
"""Of (1) as well."""

ENOUGH = 0.05
"""Share of the old interval by which it must narrow, or the median move, so that the
value is used; smaller changes are within what a thousand draws do by luck; estimate."""

_LOOKED_AT = np.array([0.05, 0.25, 0.75, 0.95])
_LAWS: tuple[tuple[Kind, float], ...] = (("computed", LEANS), ("estimate", FLAT))


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """What a forecast draws from.

    Parameters
    ----------
    value, low, high : float [as written]
    kind : str
        "computed", which leans, or "estimate", which is flat.
    """

    value: Written
    low: Written
    high: Written
    kind: Kind


def range_by_the_book(value: Value) -> Range:
    """Return median and 90 % interval of a value as the book has it [as written].

    Parameters
    ----------
    value : Value
    """
    return _written(value, quantile(value, np.array([FIVE, FIFTY, NINETY_FIVE])))


def range_learnt(value: Value, drawn: ArrayInSI, weight: si.Ratios) -> Range:
    """Return median and 90 % interval of weighted draws [as written].

    Parameters
    ----------
    value : Value
    drawn : array [SI], shape (draws,)
    weight : array [-], shape (draws,)
    """
    return _written(value, percentile(drawn, weight, np.array([FIVE, FIFTY, NINETY_FIVE])))


def ends_of(value: Value, drawn: ArrayInSI, weight: si.Ratios) -> Ends:
    """Return value, ends and law that give back what was learnt [as written].

    Parameters
    ----------
    value : Value
        As the book has it.
    drawn : array [SI], shape (draws,)
    weight : array [-], shape (draws,)
    """
    learnt = range_learnt(value, drawn, weight)
    wanted = transformed(value, percentile(drawn, weight, _LOOKED_AT))
    best, least = None, math.inf
    for kind, share in _LAWS:
        middle, low, high = _ends_of(value, learnt, share)
        law = replace(value, value=middle, low=low, high=high, kind=kind)
        off = float(np.abs(transformed(value, quantile(law, _LOOKED_AT)) - wanted).sum())
        if off < least:
            best, least = Ends(value=middle, low=low, high=high, kind=kind), off
    assert best is not None
    return best


def _ends_of(value: Value, learnt: Range, share: si.Ratio) -> tuple[Written, Written, Written]:
    low, middle, high = (
        si.to_si(each, value.unit) for each in (learnt.low, learnt.middle, learnt.high)
    )
    bottom, top = value.si_low, value.si_high
    logarithm = is_in_logarithm(bottom, top)
    ends = _ends(low, middle, high, share, logarithm=logarithm)
    ends = max(ends[0], bottom), min(ends[1], top)
    if logarithm and not is_in_logarithm(*ends):
        # So narrow a range is drawn as it is, and not in the logarithm.
        straight = _ends(low, middle, high, share, logarithm=False)
        straight = max(straight[0], bottom), min(straight[1], top)
        if not is_in_logarithm(*straight):
            ends = straight
    written = [si.from_si(each, value.unit) for each in (middle, *ends)]
    # There and back a rounding may have put an end inside, or outside of the book.
    return (
        written[0],
        max(min(written[1], written[0]), value.low),
        min(max(written[2], written[0]), value.high),
    )


def narrowed(value: Value, before: Range, after: Range) -> tuple[si.Ratio, si.Ratio]:
    """Return by which share the interval narrowed, and the median moved [-].

    Parameters
    ----------
    value : Value
    before, after : Range [as written]

    Returns
    -------
    narrowed : float [-]
        Of the old width; below 0: it has widened.
    moved : float [-]
        Over the old width; 0 or more.
    """
    logarithm = is_in_logarithm(value.si_low, value.si_high)
    old, new = (_numbers(value, each, logarithm=logarithm) for each in (before, after))
    width = old[2] - old[0]
    if width <= 0.0:
        return 0.0, 0.0
    return float(1.0 - (new[2] - new[0]) / width), float(abs(new[1] - old[1]) / width)


def _ends(
    low: si.Ratio, middle: si.Ratio, high: si.Ratio, share: si.Ratio, *, logarithm: bool
) -> tuple[si.Ratio, si.Ratio]:
    if logarithm:
        below, above = math.log(middle / low), math.log(high / middle)
        return middle * math.exp(-below / share), middle * math.exp(above / share)
    return middle - (middle - low) / share, middle + (high - middle) / share


def _numbers(value: Value, held: Range, *, logarithm: bool) -> si.Floats:
    numbers = np.array([si.to_si(each, value.unit) for each in (held.low, held.middle, held.high)])
    return np.log(numbers) if logarithm else numbers


def _written(value: Value, numbers: ArrayInSI) -> Range:
    low, middle, high = (si.from_si(each, value.unit) for each in numbers.tolist())
    return Range(low=low, middle=middle, high=high)
