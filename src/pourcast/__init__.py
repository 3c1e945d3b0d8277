"""pourcast: will a one-off bronze come out, told before the original is burnt.

>>> import pourcast
>>> plan = pourcast.read_plan(pourcast.new_sheet("Poppy head"))
>>> plan.piece.name
'Poppy head'

``pourcast.forecast(plan)`` follows some hundred pours and says how they end.  In a
notebook its result shows itself, see `pourcast.notebook`.
"""

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

__all__ = ["__version__", "decode", "document", "forecast", "new_sheet", "read_plan"]

# Loaded when first asked for, so that the import of the package stays light.
_PLACES = {
    "decode": ("pourcast.sheet", "decode"),
    "document": ("pourcast.forecast.document", "document"),
    "new_sheet": ("pourcast.sheet", "new_sheet"),
    "read_plan": ("pourcast.sheet", "read_plan"),
}

if TYPE_CHECKING:
    from pourcast.forecast.document import document
    from pourcast.forecast.solve import forecast
    from pourcast.sheet import decode, new_sheet, read_plan


def __getattr__(name: str) -> Any:
    if name == "forecast":
        return import_module("pourcast.forecast")
    if name in _PLACES:
        module, member = _PLACES[name]
        return getattr(import_module(module), member)
    raise AttributeError(f"module 'pourcast' has no attribute {name!r}")


if "IPython" in sys.modules:
    # Results show themselves there; who draws them stands late in the order of the folders.
    import_module("pourcast.notebook")
