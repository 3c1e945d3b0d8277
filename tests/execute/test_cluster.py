"""Cluster: the same results from worker processes, also when one of them is killed.

The workers are real processes and the kill is a real SIGKILL; no outside number belongs
to these rules.
"""

import os
import signal
import sys
from collections.abc import Iterator

import pytest

from pourcast.errors import InputError
from pourcast.execute import Cancel, CancelledError, ExecuteError
from pourcast.execute.carry import End, done, taken
from pourcast.execute.cluster import Cluster
from tests.execute.works import deadly, refused, slow, told, uneven

distributed = pytest.importorskip("distributed")


@pytest.fixture(scope="module")
def two() -> Iterator[Cluster]:
    """Give a scheduler with two worker processes on this machine."""
    with Cluster(workers=2) as hands:
        yield hands


def test_results_come_in_the_order_of_the_tasks_from_other_processes(two: Cluster) -> None:
    found = list(two.map(told, "same for all", range(30)))

    assert [task for _, task, _ in found] == list(range(30))
    assert {shared for shared, _, _ in found} == {"same for all"}
    assert os.getpid() not in {process for _, _, process in found}


def test_packs_keep_the_order(two: Cluster, monkeypatch: pytest.MonkeyPatch) -> None:
    """Several tasks go out together where there are many workers; here two count as many."""
    monkeypatch.setattr("pourcast.execute.cluster.MANY", 2)

    found = list(two.map(told, "", range(300)))
    refusing = two.map(refused, 130, range(300))

    assert [task for _, task, _ in found] == list(range(300))
    assert [next(refusing) for _ in range(130)] == list(range(130))
    with pytest.raises(InputError):
        next(refusing)


def test_uneven_work_keeps_its_order(two: Cluster) -> None:
    assert list(two.map(uneven, "", range(25))) == list(range(25))


def test_a_fault_of_the_work_keeps_its_parts(two: Cluster) -> None:
    """An `InputError` that python cannot carry by itself arrives with value, unit and cure."""
    results = two.map(refused, 2, range(6))

    assert [next(results), next(results)] == [0, 1]
    with pytest.raises(InputError) as fault:
        next(results)
    assert (fault.value.what, fault.value.unit) == ("density", "kg/m³")
    assert fault.value.hint == "Weigh it again."


def test_a_worker_that_is_killed_loses_nothing(two: Cluster) -> None:
    found = []
    for task, process in two.map(slow, "", range(40)):
        found.append(task)
        if task == 6:
            os.kill(process, signal.SIGKILL)

    assert found == list(range(40))


def test_work_that_is_called_off_ends(two: Cluster) -> None:
    cancel = Cancel()
    given = []

    def go_on() -> None:
        for task, _ in two.map(slow, "", range(1000), cancel=cancel):
            given.append(task)
            if task == 4:
                cancel.call_off()

    with pytest.raises(CancelledError):
        go_on()

    assert given == list(range(5))
    assert list(two.map(uneven, "", range(3))) == [0, 1, 2]


@pytest.mark.long
def test_a_task_that_kills_every_worker_ends_the_work() -> None:
    """It is not tried for ever: a few times, and then the error says so.

    A nanny may give up first; then no worker is left, and that is what is said.
    """
    said = "task 2 lost every|has had no worker"
    with Cluster(workers=2) as hands, pytest.raises(ExecuteError, match=said):
        list(hands.map(deadly, None, range(3)))


def test_work_without_any_worker_does_not_wait_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pourcast.execute.cluster.LEFT_ALONE", 0.5)
    with Cluster(workers=1) as hands:
        hands._own.scale(0)
        while hands._client.nthreads():
            pass
        with pytest.raises(ExecuteError, match="has had no worker"):
            list(hands.map(told, "", range(3)))


def test_a_wait_that_ends_oddly_is_taken_up_again(
    two: Cluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a busy machine a wait with a limit may end with an unbound name in dask.distributed.

    Its issue 8514; seen here in a sweep of 48 cells with 20 processes to two cores.
    """
    whole = distributed.Future.result
    ended: list[object] = []

    def oddly(future: object, timeout: float | None = None) -> object:
        if timeout is not None and not ended:
            ended.append(future)
            raise UnboundLocalError("result")
        return whole(future, timeout)

    monkeypatch.setattr(distributed.Future, "result", oddly)

    found = list(two.map(slow, "", range(3)))

    assert len(ended) == 1
    assert len(found) == 3


def test_an_end_of_another_release_is_refused() -> None:
    """Two releases may give two answers; one table must not hold both."""
    end = done(told, "", 1)

    assert taken(end)[1] == 1
    with pytest.raises(ExecuteError, match="another release"):
        taken(End(result=end.result, fault=None, release="0" * 64))


def test_no_scheduler_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pourcast.execute.cluster._ANSWER", "1s")
    with pytest.raises(ExecuteError, match=r"no scheduler answers at 'tcp://127.0.0.1:9'"):
        Cluster("tcp://127.0.0.1:9")


def test_what_to_install_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ExecuteError, match=r"pip install 'pourcast\[cluster\]'"):
        Cluster()
