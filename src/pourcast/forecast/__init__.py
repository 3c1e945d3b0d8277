"""Forecast: how would a hundred pours of this piece end?

The package can be called, since its name is also that of its one act:
``pourcast.forecast(plan)`` is `pourcast.forecast.solve.forecast`.
"""

import sys
from types import ModuleType
from typing import Any


class _Callable(ModuleType):
    def __call__(self, *arguments: Any, **options: Any) -> Any:
        from pourcast.forecast.solve import forecast

        return forecast(*arguments, **options)


sys.modules[__name__].__class__ = _Callable
