"""Execute: who does the work, one thread, several, or many machines; the answer is the same."""

from pourcast.execute.beside import beside
from pourcast.execute.model import Cancel, CancelledError, ExecuteError, Executor
from pourcast.execute.threads import Threads, shared_out

__all__ = [
    "Cancel",
    "CancelledError",
    "ExecuteError",
    "Executor",
    "Threads",
    "beside",
    "shared_out",
]
