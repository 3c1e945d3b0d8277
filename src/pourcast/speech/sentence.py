"""Sentence: a text in °C that still knows its numbers.

Four things are told apart, because each turns otherwise:

    Heat   a temperature, Heats two of them with one unit: the zero of the scale counts
    Step   a difference of two: 50 °C hotter is 90 °F hotter
    Ramp   a difference in an hour
    Gauge  what the gauge of the pump shows, below the air outside, or a difference of two

Heats are told in whole degrees of the unit by `pourcast.findings.half_up`.  What the caster
wrote in whole degrees comes back as it was written.  A gauge is told to a tenth of a kPa or
inHg, and in whole mmHg or mbar.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, SupportsIndex, TypeAlias, get_args

from pourcast import units as si
from pourcast.findings import half_up

Degrees: TypeAlias = Literal["C", "F"]
GaugeUnit: TypeAlias = Literal["kPa", "mbar", "inHg", "mmHg"]
GAUGES: tuple[GaugeUnit, ...] = get_args(GaugeUnit)


class Units(NamedTuple):
    """Units in which a caster is told what turns.

    Parameters
    ----------
    degrees : {"C", "F"}
    gauge : {"kPa", "mbar", "inHg", "mmHg"}
    """

    degrees: Degrees = "C"
    gauge: GaugeUnit = "kPa"


_HEAT = re.compile(r"\{(\d+)(?: (to|and) (\d+))? C\}")
"""A heat in a text of a book of values."""

SCALE: Mapping[Degrees, str] = {"C": "degC", "F": "F"}
"""Of a temperature, as `pourcast.units` names it."""


@dataclass(frozen=True, slots=True)
class Heat:
    """A temperature in a sentence."""

    kelvin: si.Kelvin


@dataclass(frozen=True, slots=True)
class Heats:
    """Two temperatures with one unit behind them: "430 to 700 °C"."""

    low: si.Kelvin
    high: si.Kelvin
    between: str = "to"


@dataclass(frozen=True, slots=True)
class Step:
    """A difference of two temperatures; in °C it is told in K where ``kelvins`` is True."""

    kelvin: si.Kelvin
    kelvins: bool = True


@dataclass(frozen=True, slots=True)
class Ramp:
    """How fast it gets hotter, in degrees of an hour; ``per`` stands behind the unit."""

    rate: si.KelvinPerSecond
    per: str = " an hour"


@dataclass(frozen=True, slots=True)
class Gauge:
    """What the gauge of the pump shows below the air outside, or a difference of two."""

    pascal: si.Pascal


Place: TypeAlias = str | Heat | Heats | Step | Ramp | Gauge
"""What may stand in a place of a template; a text that was said keeps its own numbers."""


def tell(place: Place, units: Units) -> str:
    """Return what stands in a place of a template.

    Parameters
    ----------
    place : str, Heat, Heats, Step, Ramp or Gauge
    units : Units

    Examples
    --------
    >>> fahrenheit = Units("F", "inHg")
    >>> tell(Heat(1005.15), fahrenheit), tell(Step(50.0), fahrenheit)
    ('1350 °F', '90 °F')
    >>> tell(Ramp(1 / 36), fahrenheit), tell(Gauge(84_660.0), fahrenheit)
    ('180 °F an hour', '25 inHg')
    """
    degrees = units.degrees
    unit = f"°{degrees}"
    if isinstance(place, Heat):
        return f"{_figure(place.kelvin, degrees)} {unit}"
    if isinstance(place, Heats):
        low, high = (_figure(end, degrees) for end in (place.low, place.high))
        return f"{low} {place.between} {high} {unit}"
    if isinstance(place, Step):
        if degrees == "C" and place.kelvins:
            unit = "K"
        size = of_kelvins(place.kelvin) if degrees == "F" else place.kelvin
        return f"{_sign(half_up(size))} {unit}"
    if isinstance(place, Ramp):
        rate = half_up(si.from_si(place.rate, f"{degrees}/h"))
        return f"{_sign(rate)} {unit}{place.per}"
    if isinstance(place, Gauge):
        return f"{read_off(place.pascal, units.gauge):g} {units.gauge}"
    return refilled(place, units)


def read_off(pascal: si.Pascal, unit: GaugeUnit) -> float:
    """Return a vacuum [Pa] as it is read off a gauge, in its unit.

    Parameters
    ----------
    pascal : float [Pa]
    unit : {"kPa", "mbar", "inHg", "mmHg"}

    Examples
    --------
    >>> read_off(84_660.0, "kPa"), read_off(84_660.0, "mmHg")
    (84.7, 635.0)
    """
    parts = 10.0 if unit in ("kPa", "inHg") else 1.0
    return half_up(parts * si.from_si(pascal, unit)) / parts


def refilled(text: str, units: Units) -> str:
    """Return a text with its numbers in the caster's units; one not said stays as it is.

    Parameters
    ----------
    text : str
    units : Units
    """
    if not isinstance(text, Said):
        return text
    return text.template.format(**{name: tell(each, units) for name, each in text.places})


class Said(str):
    """A sentence in °C that still knows its numbers; made by `said`.

    It is a text like any other.  Put behind or before another with "+" it keeps its numbers;
    an f-string loses them, so what goes on in one is a place of a template.
    """

    __slots__ = ("places", "template")
    template: str
    places: tuple[tuple[str, Place], ...]

    def __new__(cls, template: str, places: tuple[tuple[str, Place], ...]) -> "Said":
        """Fill the template in °C."""
        told = {name: tell(each, Units()) for name, each in places}
        made = super().__new__(cls, template.format(**told))
        made.template, made.places = template, places
        return made

    def __add__(self, other: str) -> "Said":
        """Return this and another sentence behind it."""
        return said("{one}{two}", one=self, two=other)

    def __radd__(self, other: str) -> "Said":
        """Return this behind another sentence."""
        return said("{one}{two}", one=other, two=self)

    def __reduce_ex__(self, protocol: SupportsIndex) -> tuple[Any, ...]:
        """Return how it is made again in another process."""
        return Said, (self.template, self.places)


def said(template: str, /, **places: Place) -> Said:
    """Return a sentence of which the caster is told the heats in his unit.

    Parameters
    ----------
    template : str
        With a place in braces for each number and each name; nothing that the caster wrote
        stands in the template itself.
    places : str, Heat, Heats, Step, Ramp or Gauge

    Examples
    --------
    >>> said("{name} at {heat}, {off} hotter.", name="Tip", heat=Heat(873.15), off=Step(5.0))
    'Tip at 600 °C, 5 K hotter.'
    """
    return Said(template, tuple(places.items()))


def as_written(text: str) -> str:
    """Return a text of a book of values, with each heat that it has in braces known as such.

    Parameters
    ----------
    text : str
        Such as "Lead melts at {327 C}.", "at {50 to 60 C}" or "between {150 and 400 C}".

    Examples
    --------
    >>> refilled(as_written("Lead melts at {327 C}."), Units("F"))
    'Lead melts at 621 °F.'
    """
    places: dict[str, Place] = {}

    def named(found: re.Match[str]) -> str:
        low, between, high = found.groups()
        first = si.to_si(float(low), "degC")
        name = f"heat_{len(places)}"
        places[name] = Heat(first)
        if high is not None:
            places[name] = Heats(first, si.to_si(float(high), "degC"), between)
        return f"{{{name}}}"

    template = _HEAT.sub(named, text)
    return said(template, **places) if places else text


def joined(between: str, texts: Sequence[str]) -> str:
    """Return texts one behind another, each with its own numbers.

    Parameters
    ----------
    between : str
    texts : sequence of str

    Examples
    --------
    >>> refilled(joined(", ", ["Tip", said("at {heat}", heat=Heat(873.15))]), Units("F"))
    'Tip, at 1112 °F'
    """
    told: str = ""
    for number, each in enumerate(texts):
        told = told + (between if number else "") + each
    return told


def of_kelvins(kelvin: si.Kelvin) -> float:
    """Return a difference of K in °F; both zeros fall out."""
    return si.from_si(kelvin, "F") - si.from_si(0.0, "F")


def _figure(kelvin: si.Kelvin, degrees: Degrees) -> str:
    return _sign(half_up(si.from_si(kelvin, SCALE[degrees])))


def _sign(value: int) -> str:
    return str(value).replace("-", "−")
