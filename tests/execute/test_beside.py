"""Work beside: one piece after another, nothing lost of what was raised."""

import threading

import pytest

from pourcast.execute import beside


@pytest.mark.parametrize("threads", [1, 2])
def test_results_and_what_was_raised_come_when_asked_for(threads: int) -> None:
    with beside(threads) as start:
        good = start(divmod, 17, 5)
        named = start(int, "11", base=2)
        bad = start(divmod, 1, 0) if threads > 1 else None
    assert good.result() == (3, 2)
    assert named.result() == 3
    if bad is not None:
        with pytest.raises(ZeroDivisionError):
            bad.result()


def test_with_one_thread_the_work_is_the_callers_and_fails_there() -> None:
    with beside(1) as start:
        assert start(threading.get_ident).result() == threading.get_ident()
        with pytest.raises(ZeroDivisionError):
            start(divmod, 1, 0)


def test_with_more_it_goes_on_while_the_caller_works_and_is_done_at_the_end() -> None:
    """Held: the caller gets on before the work is done, and the block ends after it."""
    order: list[str] = []
    gate = threading.Event()

    def work() -> None:
        gate.wait(timeout=60.0)
        order.append("work")

    with beside(2) as start:
        start(work)
        order.append("caller")
        gate.set()
    assert order == ["caller", "work"]
