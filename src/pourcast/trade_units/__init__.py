"""Trade units: what a caster's "3/16 in" or "1400 F" comes to in SI, and back."""

from pourcast.trade_units.quantities import Quantity
from pourcast.trade_units.reading import read
from pourcast.trade_units.showing import show

__all__ = ["Quantity", "read", "show"]
