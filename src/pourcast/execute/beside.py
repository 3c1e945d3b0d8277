"""Beside: short work in plain Python, done while compiled work has the caller's attention."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from typing import ParamSpec, Protocol, TypeVar

Asked = ParamSpec("Asked")
Result = TypeVar("Result")


class Start(Protocol):
    """Starts one piece of work; its result is asked for later."""

    def __call__(
        self, work: Callable[Asked, Result], /, *arguments: Asked.args, **named: Asked.kwargs
    ) -> Future[Result]:
        """Start the work, or do it now."""
        ...


@contextmanager
def beside(threads: int) -> Iterator[Start]:
    """Yield what starts work in one thread more, one piece after another.

    Parameters
    ----------
    threads : int
        That the caller may use; with one, each piece of work is done at once, in the
        caller's own.

    Yields
    ------
    Start
        The result, or what was raised, comes with ``.result()``.  At the end of the block all
        that was started is done.
    """
    if threads > 1:
        with ThreadPoolExecutor(1) as pool:
            yield pool.submit
    else:
        yield _now


def _now(
    work: Callable[Asked, Result], /, *arguments: Asked.args, **named: Asked.kwargs
) -> Future[Result]:
    done: Future[Result] = Future()
    done.set_result(work(*arguments, **named))
    return done
