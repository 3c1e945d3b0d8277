"""Listen: each thermometer in a thread of its own, all into one queue."""

import queue
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from pourcast import units as si
from pourcast.probe.back_off import FIRST, LONGEST
from pourcast.probe.broker import client_of, listen_broker
from pourcast.probe.model import Arrival, Source
from pourcast.probe.serial_line import listen_line, serial_port


@contextmanager
def listening(
    sources: tuple[Source, ...],
    *,
    session: str,
    first: si.Second = FIRST,
    longest: si.Second = LONGEST,
) -> "Iterator[queue.Queue[Arrival]]":
    """Listen to thermometers while the block runs, and give the queue of what they say.

    Parameters
    ----------
    sources : tuple of Source
    session : str
        Name of ours at a broker, the same for the whole day.
    first, longest : float [s]
        Waits before a broken way is tried again.
    """
    arrivals: queue.Queue[Arrival] = queue.Queue()
    ends = threading.Event()
    threads = []
    for source in sources:
        # A library that lacks is told before a thread could hide it.
        _ = serial_port() if source.kind == "line" else client_of(source, session)
    for number, source in enumerate(sources):
        if source.kind == "line":
            work = threading.Thread(
                target=listen_line,
                args=(source, arrivals, ends),
                kwargs={"first": first, "longest": longest},
                daemon=True,
            )
        else:
            work = threading.Thread(
                target=listen_broker,
                args=(source, arrivals, ends),
                kwargs={"session": f"{session}-{number}", "first": first, "longest": longest},
                daemon=True,
            )
        work.start()
        threads.append(work)
    try:
        yield arrivals
    finally:
        ends.set()
        for work in threads:
            work.join(timeout=5.0)


def waiting_now(arrivals: "queue.Queue[Arrival]") -> list[Arrival]:
    """Return all that has come, without waiting for more.

    Parameters
    ----------
    arrivals : queue of Arrival
    """
    found = []
    while True:
        try:
            found.append(arrivals.get_nowait())
        except queue.Empty:
            return found
