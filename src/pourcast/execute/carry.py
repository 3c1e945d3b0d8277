"""Carry: a piece of work and its end on their way between two processes.

A fault of the work comes back as a value, because an error of ours is made from other
arguments than those that Python keeps to make it again.  With each end goes a hash of
the release that made it: an end of another release is refused.
"""

import hashlib
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any, Generic

from pourcast.errors import PourcastError
from pourcast.execute.model import ExecuteError, Result, Shared, Task

_PACKAGE = Path(__file__).parents[1]
_DATA = ("*.py", "*.toml")


@cache
def release() -> str:
    """Return a hash of all that an answer is made by: sources, values, numpy, numba, Python."""
    made_with = f"{version('numpy')} {version('numba')} {sys.version_info[:3]}"
    digest = hashlib.sha256(made_with.encode())
    for path in sorted(path for kind in _DATA for path in _PACKAGE.rglob(kind)):
        digest.update(path.relative_to(_PACKAGE).as_posix().encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class End(Generic[Result]):
    """How one piece of work ended.

    Parameters
    ----------
    result : object or None
    fault : tuple or None
        Class, arguments and fields of an error of ours.
    release : str
        Hash of the release of the worker.
    """

    result: Result | None
    fault: tuple[type[PourcastError], tuple[Any, ...], dict[str, Any]] | None
    release: str


def done(work: Callable[[Shared, Task], Result], shared: Shared, task: Task) -> End[Result]:
    """Return how one piece of work ended; run by a worker.

    Parameters
    ----------
    work : callable
    shared, task : object
    """
    try:
        return End(result=work(shared, task), fault=None, release=release())
    except PourcastError as fault:
        return End(result=None, fault=(type(fault), fault.args, vars(fault)), release=release())


def done_all(
    work: Callable[[Shared, Task], Result], shared: Shared, tasks: list[Task]
) -> list[End[Result]]:
    """Return how some pieces of work ended, in their order; run by a worker.

    Parameters
    ----------
    work : callable
    shared : object
    tasks : list
    """
    return [done(work, shared, task) for task in tasks]


def taken(end: End[Result]) -> Result:
    """Return the result of a piece of work, or raise its fault as if it were raised here.

    Parameters
    ----------
    end : End

    Raises
    ------
    PourcastError
        That of the work.
    ExecuteError
        If the worker runs another release.
    """
    if end.release != release():
        raise ExecuteError(
            f"a worker runs another release ({end.release[:12]}) than this machine "
            f"({release()[:12]}); install the same pourcast, Python, numpy and numba on all of them"
        )
    if end.fault is not None:
        kind, arguments, fields = end.fault
        fault = kind.__new__(kind, *arguments)
        fault.__dict__.update(fields)
        raise fault
    return end.result  # type: ignore[return-value]
