"""Process: what a process that is the command's alone need not do.

Three things that Python and numba do for the general case cost a forecast a quarter of
its time and give it nothing:

- numba loads the linear algebra of scipy, where it is installed, with the first kernel.
  No kernel here multiplies matrices.  One that did would fail at once, with numba's words.
- Python looks through all objects for circles of owners at every 700 new ones, though an
  import makes some hundred thousand that stay.  Here it looks at every 100 000.
- It looks once more before it ends, and the system takes the memory back anyway.

Only the command does this.  Where pourcast is a library, the process is somebody else's.
"""

import atexit
import gc
import sys
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec

_NEW_OBJECTS = 100_000
"""Between two looks for circles of owners; at some hundred bytes each, some ten MB."""

_ASKS = "numba.np.arraymath"
"""Of numba, which tries at its import whether there is linear algebra."""


class WithoutLinearAlgebra(MetaPathFinder):
    """Answers numba's question for linear algebra with no; finds anything else as ever."""

    def find_spec(self, fullname: str, *_: object) -> ModuleSpec | None:
        """Return None: the next finder is asked.

        Raises
        ------
        ModuleNotFoundError
            If it is numba that asks.
        """
        if fullname == "scipy.linalg" and _is_being_imported(_ASKS):
            raise ModuleNotFoundError("left out: no kernel multiplies matrices", name=fullname)
        return None


def own_process() -> None:
    """Leave out what this process does not need; to be called before numba is imported."""
    if not any(isinstance(finder, WithoutLinearAlgebra) for finder in sys.meta_path):
        sys.meta_path.insert(0, WithoutLinearAlgebra())
        gc.set_threshold(_NEW_OBJECTS)
        atexit.register(gc.freeze)


def _is_being_imported(name: str) -> bool:
    module = sys.modules.get(name)
    # The import machinery marks a module so while its body runs.
    return bool(getattr(getattr(module, "__spec__", None), "_initializing", False))
