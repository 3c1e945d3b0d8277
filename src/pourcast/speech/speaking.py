"""Speaking: how one caster is told heats and his gauge, and all that holds them.

Left alone: what a source is quoted with, and keys, values and units of JSON.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace

from pourcast import units as si
from pourcast.errors import InputError, SheetError
from pourcast.findings import Finding, half_up
from pourcast.speech.sentence import (
    SCALE,
    Degrees,
    Gauge,
    GaugeUnit,
    Heat,
    Ramp,
    Step,
    Units,
    of_kelvins,
    read_off,
    refilled,
    tell,
)

_TURNED: Mapping[str, tuple[str, bool]] = {
    "°C": ("°F", True),
    "degC": ("°F", True),
    "C": ("°F", True),
    "K": ("°F", False),
    "K/h": ("°F/h", False),
    "C/h": ("°F/h", False),
    "K/min": ("°F/min", False),
    "C/min": ("°F/min", False),
}
"""Units of a heat: what stands in their place in °F, and whether the zero of the scale counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Speech:
    """How the caster is spoken to.

    Parameters
    ----------
    degrees : {"C", "F"}
        In which heats are told.
    gauge : {"kPa", "mbar", "inHg", "mmHg"}
        In which his gauge shows the vacuum.
    """

    degrees: Degrees = "C"
    gauge: GaugeUnit = "kPa"

    @property
    def units(self) -> Units:
        """Both, as a sentence takes them."""
        return Units(self.degrees, self.gauge)

    @property
    def unit(self) -> str:
        """The unit of a heat, as it is printed."""
        return f"°{self.degrees}"

    def figure(self, kelvin: si.Kelvin) -> int:
        """Return a temperature [K] as a whole number of the unit.

        Examples
        --------
        >>> Speech(degrees="F").figure(1033.15)
        1400
        """
        return half_up(self.exact(kelvin))

    def exact(self, kelvin: si.Kelvin) -> float:
        """Return a temperature [K] as a number of the unit, as an axis needs it.

        Examples
        --------
        >>> round(Speech(degrees="F").exact(373.15), 9)
        212.0
        """
        return si.from_si(kelvin, SCALE[self.degrees])

    def at(self, figure: float) -> si.Kelvin:
        """Return the temperature [K] of a number of the unit: the inverse of `exact`."""
        return si.to_si(figure, SCALE[self.degrees])

    def heat(self, kelvin: si.Kelvin) -> str:
        """Return a temperature [K] with its unit.

        Examples
        --------
        >>> Speech().heat(1005.15), Speech(degrees="F").heat(1005.15)
        ('732 °C', '1350 °F')
        """
        return tell(Heat(kelvin), self.units)

    def step(self, kelvin: si.Kelvin) -> str:
        """Return a difference of temperatures [K] with its unit.

        Examples
        --------
        >>> Speech().step(50.0), Speech(degrees="F").step(50.0)
        ('50 K', '90 °F')
        """
        return tell(Step(kelvin), self.units)

    def ramp(self, rate: si.KelvinPerSecond) -> str:
        """Return a rate of temperature [K/s] with its unit.

        Examples
        --------
        >>> Speech().ramp(1 / 36), Speech(degrees="F").ramp(1 / 36)
        ('100 °C an hour', '180 °F an hour')
        """
        return tell(Ramp(rate), self.units)

    def vacuum(self, pascal: si.Pascal) -> str:
        """Return what the gauge shows [Pa], below the air outside, with its unit.

        Examples
        --------
        >>> Speech().vacuum(84_660.0), Speech(gauge="inHg").vacuum(84_660.0)
        ('84.7 kPa', '25 inHg')
        """
        return tell(Gauge(pascal), self.units)

    def as_read(self, pascal: si.Pascal) -> si.Pascal:
        """Return a vacuum [Pa] as it can be read off the gauge: the one that `vacuum` tells.

        Examples
        --------
        >>> round(Speech(gauge="mmHg").as_read(84_700.0) / 133.3224, 9)
        635.0
        """
        return si.to_si(read_off(pascal, self.gauge), self.gauge)

    def text(self, text: str) -> str:
        """Return a sentence as the caster is told it; one that was not said stays as it is.

        Parameters
        ----------
        text : str
            From `said`, or any other.

        Examples
        --------
        >>> from pourcast.speech import said
        >>> top = said("Stay under {top}.", top=Heat(1033.15))
        >>> top, Speech(degrees="F").text(top)
        ('Stay under 760 °C.', 'Stay under 1400 °F.')
        """
        return refilled(text, self.units)

    def measure(self, value: float, unit: str) -> tuple[float, str]:
        """Return a value and its unit as the caster is told them.

        Parameters
        ----------
        value : float
            In ``unit``.
        unit : str
            As a finding or a record has it; one of no heat stays as it is.

        Examples
        --------
        >>> value, unit = Speech(degrees="F").measure(760.0, "°C")
        >>> round(value, 9), unit
        (1400.0, '°F')
        """
        if self.degrees == "C" or unit not in _TURNED:
            return value, unit
        to, is_heat = _TURNED[unit]
        if is_heat:
            return si.from_si(si.to_si(value, "degC"), "F"), to
        return of_kelvins(value), to

    def finding(self, finding: Finding) -> Finding:
        """Return a finding with its sentence, value, limit and unit as the caster is told them.

        Parameters
        ----------
        finding : Finding
        """
        value, limit = (
            None if each is None else self.measure(each, finding.unit)[0]
            for each in (finding.value, finding.limit)
        )
        return replace(
            finding,
            text=self.text(finding.text),
            source=self.text(finding.source),
            value=value,
            limit=limit,
            unit=self.text(self.measure(0.0, finding.unit)[1]),
        )

    def error(self, fault: InputError) -> InputError:
        """Return a fault with its value, its unit and what it must be as the caster is told them.

        Parameters
        ----------
        fault : InputError
            Not one of a piece file, which repeats what was written there.
        """
        value, unit = fault.value, fault.unit
        if self.degrees != "C" and unit in _TURNED:
            # Errors hold their value as it was to be printed.
            turned, unit = self.measure(float(str(value)), unit)
            value = half_up(turned)
        return InputError(fault.what, value, unit, self.text(fault.must), self.text(fault.hint))

    @contextmanager
    def errors(self) -> Iterator[None]:
        """Tell faults of what is worked out inside as the caster is told them."""
        try:
            yield
        except SheetError:
            raise
        except InputError as fault:
            if self == CELSIUS:
                raise
            raise self.error(fault) from fault


CELSIUS, FAHRENHEIT = Speech(), Speech(degrees="F")
"""Whoever has not said how he writes is spoken to in °C."""
