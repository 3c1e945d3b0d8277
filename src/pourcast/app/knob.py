"""Knob: one key of a piece file that is turned on its page, in the unit of the caster."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from pourcast import units as si
from pourcast.app.look import Look
from pourcast.app.words import say
from pourcast.page.figures import number, unit_text
from pourcast.speech import GaugeUnit, Speech

_INCH = 25.4
_GAUGE_STEPS: Mapping[GaugeUnit, float] = {"inHg": 0.5, "mmHg": 10.0, "mbar": 20.0}
"""By which a vacuum is turned: a mark of such a gauge, or two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Knob:
    """One key of the piece file, as it stands on the page.

    Parameters
    ----------
    id : str
        Its path with points: "part.2.coat_mm".
    row : str
        Key of the row of the day.
    label : str
    value : float or None [-]
        In ``unit``; None: the plan does not say.
    unit : str
        As in `pourcast.units`.
    step : float [-]
    low, high : float [-]
        Ends of the ruler.
    band : pair of float or None [-]
        What is usual.
    note : str
        Where the band comes from, or "".
    tail : tuple of float [-]
        What stands behind the value in the file, such as the tip of a taper.
    choices : tuple of str
        Words, where the key takes one; ``word`` is the one that stands.
    folded : bool
        It stands under a line to be opened.
    """

    id: str
    row: str
    label: str
    value: si.Ratio | None = None
    unit: str = "-"
    step: si.Ratio = 1.0
    low: si.Ratio = 0.0
    high: si.Ratio = 1.0
    band: tuple[si.Ratio, si.Ratio] | None = None
    note: str = ""
    tail: tuple[si.Ratio, ...] = ()
    choices: tuple[str, ...] = ()
    word: str = ""
    folded: bool = False

    @property
    def shown(self) -> str:
        """The value as it stands in the field."""
        return self.word if self.choices else self.text_of(self.value)

    @property
    def unit_shown(self) -> str:
        """The unit as people write it."""
        return unit_text(self.unit)

    @property
    def said(self) -> str:
        """What is usual, in words; "" where nothing is kept."""
        if self.band is None:
            return ""
        low, high = (number(end, 4) for end in self.band)
        return say("piece.usual", low=low, high=high, note=self.note)

    def text_of(self, value: si.Ratio | None) -> str:
        """Return a value of this knob as text, a plain minus before it."""
        return "" if value is None else number(value, 4).replace("−", "-")

    def with_unit(self, shown: str) -> str:
        """Return a text of this knob and its unit."""
        joint = "" if self.unit_shown in ("", "°") else "\u00a0"
        return f"{shown}{joint}{self.unit_shown}" if shown else say("piece.not_said")

    def turned(self, by: int) -> str:
        """Return the value so many steps on, as text; the ruler's low end where none is said."""
        if self.value is None:
            return self.text_of(self.low if self.band is None else self.band[0])
        steps = round(self.value / self.step, 6) + by
        # From a value between two marks the next mark is the next step.
        whole = round(steps) if abs(steps - round(steps)) < 1e-3 else steps
        return self.text_of(max(whole * self.step, 0.0 if self.low >= 0.0 else self.low))


def as_told(knob: Knob, look: Look, speech: Speech) -> Knob:
    """Return a knob in the unit in which the caster reads lengths, and is told heats.

    Parameters
    ----------
    knob : Knob
        In the unit of its key.
    look : Look
    speech : Speech
    """
    if knob.unit == "mm" and look.lengths == "in":
        return _in_unit(knob, "in", round(knob.step / _INCH, 3), lambda value: value / _INCH)
    if knob.unit == "degC" and speech.degrees == "F":
        # 1 and 10 °C become 2 and 20 °F, so that a step keeps to round numbers.
        return _in_unit(
            knob, "F", 2.0 * knob.step, lambda value: speech.measure(value, knob.unit)[0]
        )
    if knob.id == "assist.vacuum_kPa" and speech.gauge != knob.unit:
        gauge = speech.gauge
        return _in_unit(
            knob,
            gauge,
            _GAUGE_STEPS[gauge],
            lambda value: si.from_si(si.to_si(value, knob.unit), gauge),
        )
    return knob


def _in_unit(knob: Knob, unit: str, step: si.Ratio, told: Callable[[si.Ratio], si.Ratio]) -> Knob:
    """Return a knob in another unit, with all that it holds."""
    return replace(
        knob,
        unit=unit,
        value=None if knob.value is None else told(knob.value),
        step=step,
        low=told(knob.low),
        high=told(knob.high),
        band=None if knob.band is None else (told(knob.band[0]), told(knob.band[1])),
    )
