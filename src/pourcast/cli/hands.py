"""Who does the work: threads of this process, or the workers of a cluster."""

from collections.abc import Iterator
from contextlib import contextmanager

from pourcast.execute import Executor, Threads


@contextmanager
def hands_of(cluster: str | None, workers: int) -> Iterator[Executor]:
    """Give an executor, and put it away at the end.

    Parameters
    ----------
    cluster : str or None
        Address of a scheduler, or "local"; None: threads.
    workers : int
        Threads, or worker processes of a local cluster.

    Raises
    ------
    ExecuteError
        If dask.distributed is not installed, or no scheduler answers.
    """
    if cluster is None:
        yield Threads(workers)
        return
    from pourcast.execute.cluster import LOCAL, Cluster

    with Cluster(cluster, workers if cluster == LOCAL else None) as hands:
        yield hands
