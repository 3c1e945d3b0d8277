"""Serial line: listen to a thermometer on a port, and take it up again whenever it breaks."""

import importlib
import queue
import threading
from contextlib import closing
from datetime import UTC, datetime
from typing import Any

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.probe.back_off import FIRST, LONGEST, waits
from pourcast.probe.model import Arrival, Source
from pourcast.probe.torn import Lines

LOOK_EVERY = 0.25
"""s, that a read waits for a sign; our own choice."""


def listen_line(
    source: Source,
    arrivals: "queue.Queue[Arrival]",
    ends: threading.Event,
    *,
    first: si.Second = FIRST,
    longest: si.Second = LONGEST,
) -> None:
    """Put what a line says into a queue, until it is told to end.

    Parameters
    ----------
    source : Source
    arrivals : queue of Arrival
    ends : threading.Event
    first, longest : float [s]
        Waits before a broken line is tried again.

    Raises
    ------
    InputError
        If the library for serial ports is not there.
    """
    opened = serial_port()
    lines, tries = Lines(), waits(first, longest)
    is_told = False
    while not ends.is_set():
        try:
            with closing(opened(source.address, source.baud, timeout=LOOK_EVERY)) as port:
                if is_told:
                    _tell(source, arrivals, "is there again")
                is_told = False
                while not ends.is_set():
                    more = port.read(max(1, port.in_waiting))
                    if more:
                        tries = waits(first, longest)
                        _put(source, arrivals, *lines.add(more))
        except (OSError, TypeError) as fault:
            # A port that is pulled out while it is read ends in one of the two.
            _put(source, arrivals, [], lines.broken())
            if not is_told:
                _tell(source, arrivals, f"is gone, and is tried again ({fault})")
                is_told = True
            ends.wait(next(tries))


def serial_port() -> Any:
    """Return what opens a port; an error that says what to install where it is not there."""
    try:
        return importlib.import_module("serial").Serial
    except ImportError as fault:
        raise InputError(
            "thermometer",
            "a serial line",
            "",
            "listened to with pyserial",
            "Install the extra: pourcast[probe].",
        ) from fault


def _put(
    source: Source, arrivals: "queue.Queue[Arrival]", lines: list[str], torn: list[str]
) -> None:
    now = datetime.now(UTC)
    for piece in torn:
        told = f"a torn piece is left out: {piece[:60]!r}"
        arrivals.put(Arrival(source=source, text="", arrived=now, told=told))
    for line in lines:
        arrivals.put(Arrival(source=source, text=line, arrived=now))


def _tell(source: Source, arrivals: "queue.Queue[Arrival]", told: str) -> None:
    arrivals.put(Arrival(source=source, text="", arrived=datetime.now(UTC), told=told))
