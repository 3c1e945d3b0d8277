"""Usual: how long the acts take that no record of the materials keeps.

Each is a `Value` with range, kind and source, and may be replaced by the caster's
own; an act that another stage works out takes the time of that stage.
"""

from dataclasses import dataclass, replace

from pourcast.freeze.usual import USUAL_HOLD, USUAL_QUENCH
from pourcast.materials import Value


def _minutes(name: str, value: float, low: float, high: float) -> Value:
    return Value(
        key=f"runsheet.{name}",
        value=value,
        low=low,
        high=high,
        unit="min",
        kind="estimate",
        source="set by hand",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """Lengths of acts.

    Parameters
    ----------
    weighing : Value
        From the start to the first powder in the water.
    wetting : Value
        Of the piece, the last of that.
    furnace : Value
        From lighting to metal at its pouring heat.
    ahead : Value
        By which the metal is ready before the flask leaves the kiln.
    carrying : Value
        From the kiln to the pour.
    hold : Value
        Of the vacuum after the pour.
    quench : Value
        From the pour; low and high are the ends of the window.
    """

    weighing: Value
    wetting: Value
    furnace: Value
    ahead: Value
    carrying: Value
    hold: Value
    quench: Value


USUAL = Lengths(
    weighing=_minutes("weighing", 30.0, 15.0, 60.0),
    wetting=_minutes("wetting", 5.0, 2.0, 10.0),
    furnace=_minutes("furnace", 30.0, 20.0, 45.0),
    ahead=_minutes("ahead", 5.0, 2.0, 10.0),
    carrying=_minutes("carrying", 0.75, 0.5, 1.0),
    hold=replace(USUAL_HOLD, key="runsheet.hold"),
    quench=replace(USUAL_QUENCH, key="runsheet.quench"),
)
"""What the trade takes, or our own guess."""
