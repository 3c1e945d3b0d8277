"""Compiled kernels: where they are kept, so that a stale one is never run.

numba keeps a compiled function beside the time stamp of its own file only.  A
kernel that calls a kernel of another file goes on calling the old one when
that file changes, and a number that a kernel takes from another module is
written into it.  So the cache folder is named by a hash of every source that a
kernel could draw on, of numba and of Python: any change makes a new folder.

A stage may import only ``model.py`` of another stage (tests/test_layers.py), so
the kernels of a stage depend on its own folder, on every ``model.py`` and on the
files at the top of the package: a change in one stage leaves the kernels of the
others as they are.

numba counts the owners of each array that a function is handed, up and down, so that
an array made within lives as long as it is needed.  No kernel here makes an array or gives
one back: all room is made by the caller, who holds it.  So the count is left out,
which takes a quarter to a third off a pour.  A kernel that made an array would not
compile (tests/test_kernels.py).
"""

import hashlib
import os
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar, cast

import numba
import numba.core.options
import platformdirs

Function = TypeVar("Function", bound=Callable[..., Any])

_PACKAGE = Path(__file__).parent
_WITHOUT_KERNELS = frozenset(
    {
        "app",
        "book",
        "change",
        "cli",
        "day",
        "execute",
        "forecast",
        "gating",
        "learn",
        "materials",
        "notebook",
        "page",
        "photo",
        "plot",
        "probe",
        "runsheet",
        "sheet",
        "signs",
        "sweep",
        "speech",
        "trade_units",
    }
)
"""Folders that no kernel may import from: a change there keeps the cache."""

# Re-ordering and fused steps are allowed; "no nan, no inf" is not assumed,
# since a nan must be seen where it is born.
_FAST_MATH = {"reassoc", "contract", "arcp", "nsz"}

# The option that leaves out the count of owners is not in numba's handbook, though numba's
# own library is compiled with it.  A numba without it compiles slower kernels, not wrong ones.
_WITHOUT_OWNERS: dict[str, Any] = (
    {"_nrt": False} if hasattr(numba.core.options.DefaultOptions, "_nrt") else {}
)


def sources_hash(package: Path = _PACKAGE, stage: str | None = None) -> str:
    """Return a hash of what kernels are made from, of numba and of Python, 64 hex digits.

    Parameters
    ----------
    package : Path
    stage : str or None
        Folder whose kernels are asked for; None: those of all stages.
    """
    digest = hashlib.sha256()
    digest.update(f"{numba.__version__} {sys.version_info[:3]}".encode())
    for top in sorted(package.iterdir()):
        if top.name in _WITHOUT_KERNELS:
            continue
        paths = [top] if top.suffix == ".py" else []
        if top.is_dir():
            asked = stage is None or top.name == stage
            paths = sorted(top.rglob("*.py" if asked else "model.py"))
        for path in paths:
            digest.update(path.relative_to(package).as_posix().encode())
            digest.update(path.read_bytes())
    return digest.hexdigest()


@cache
def cache_folder(stage: str | None = None) -> Path:
    """Return the folder that the compiled kernels of a stage are kept in."""
    base = os.environ.get("NUMBA_CACHE_DIR") or platformdirs.user_cache_dir("pourcast")
    named = HASH if stage is None else sources_hash(_PACKAGE, stage)
    return Path(base) / f"kernels-{named[:16]}"


HASH = sources_hash()
"""Of all stages: which kernels a forecast was made with."""


def kernel(function: Function) -> Function:
    """Compile a function of numbers and arrays; it runs without the interpreter lock.

    It works in arrays that it is handed, makes none and gives none back.  The type of the
    function stays as written, so that it is checked like any other; calling it from Python
    works with numbers and arrays alike.
    """
    return _compile(function, "never")


def small_kernel(function: Function) -> Function:
    """Compile a short function that is written into its callers.

    A call that hands over a dozen arrays costs more than the work of a short function.
    """
    return _compile(function, "always")


def _stage_of(function: Callable[..., Any]) -> str | None:
    """Return the folder of this package that a function stands in; None: it stands elsewhere."""
    names = function.__module__.split(".")
    return names[1] if names[0] == _PACKAGE.name and len(names) > 2 else None


def _compile(function: Function, inline: Literal["never", "always"]) -> Function:
    config: Any = numba.config
    kept = config.CACHE_DIR
    config.CACHE_DIR = str(cache_folder(_stage_of(function)))
    try:
        options: dict[str, Any] = {
            "cache": True,
            "nogil": True,
            "error_model": "numpy",
            "fastmath": _FAST_MATH,
            "inline": inline,
        }
        compiled = numba.njit(**options, **_WITHOUT_OWNERS)(function)
    finally:
        config.CACHE_DIR = kept
    return cast(Function, compiled)
