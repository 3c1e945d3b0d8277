"""Broker: listen to readings that are published to a broker (MQTT), through any break.

The broker keeps what comes while we are away: the session is ours by its name and is
not clean, and each message is asked for at least once (quality of service 1).  It is
acknowledged only when it is in the book, so that what the broker has let go of is kept.
What is sent twice is one reading: by its moment where the thermometer gives one, else by
the mark and the number that the broker hands it on with once more after a break.

Source: MQTT 3.1.1, OASIS standard (2014), 3.1.2.4 clean session, 3.3.1.1 duplicate,
4.3.2 at least once, 4.4 the same packet identifier when it is sent again.
"""

import os
import queue
import threading
from datetime import UTC, datetime
from typing import Any

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.probe.back_off import FIRST, LONGEST, waits
from pourcast.probe.model import Arrival, Source

PASSWORD = "POURCAST_BROKER_PASSWORD"
"""Where in the environment the password of the broker stands."""

KEEP_ALIVE = 20
"""s, of silence after which the broker is asked whether it is there; our own choice."""

_TURN = 0.2  # s, that one turn of the loop waits for a message
_QUALITY = 1


def listen_broker(
    source: Source,
    arrivals: "queue.Queue[Arrival]",
    ends: threading.Event,
    *,
    session: str,
    first: si.Second = FIRST,
    longest: si.Second = LONGEST,
) -> None:
    """Put what a broker hands on into a queue, until it is told to end.

    Parameters
    ----------
    source : Source
    arrivals : queue of Arrival
    ends : threading.Event
    session : str
        Name of ours at the broker; the same one each time goes on with what was missed.
    first, longest : float [s]
        Waits before a broken way is tried again.

    Raises
    ------
    InputError
        If the library for brokers is not there.
    """
    client = client_of(source, session)
    state: dict[str, Any] = {"joined": False, "told": ""}
    handed = Handed()
    # What was kept is acknowledged here: the client writes from one thread alone.
    kept: queue.SimpleQueue[tuple[int, int]] = queue.SimpleQueue()

    def let_go() -> None:
        while not kept.empty():
            client.ack(*kept.get())

    def tell(text: str) -> None:
        if state["told"] != text:
            state["told"] = text
            now = datetime.now(UTC)
            arrivals.put(Arrival(source=source, text="", arrived=now, told=text))

    def on_connect(_client: Any, _data: Any, _flags: Any, reason: Any, _more: Any) -> None:
        if reason.is_failure:
            tell(f"refuses us, and is tried again ({reason})")
            return
        client.subscribe(source.topic, qos=_QUALITY)
        state["joined"] = True
        tell("is joined")

    def on_message(_client: Any, _data: Any, message: Any) -> None:
        def done() -> None:
            kept.put((message.mid, message.qos))

        if handed.again(message.mid, message.topic, message.payload, marked=message.dup):
            # The first of them stands before it in the queue: let go of only behind that one.
            text = "handed a reading on once more; it counts once"
            now = datetime.now(UTC)
            arrivals.put(Arrival(source=source, text="", arrived=now, told=text, done=done))
            return
        arrivals.put(
            Arrival(
                source=source,
                text=message.payload.decode("utf-8", "replace"),
                arrived=datetime.now(UTC),
                # An old value that the broker holds for newcomers is no reading of now.
                told="kept by the broker from before" if message.retain else "",
                done=done,
            )
        )

    client.on_connect, client.on_message = on_connect, on_message
    tries = waits(first, longest)
    while not ends.is_set():
        fault = ""
        try:
            client.connect(source.address, source.port, keepalive=KEEP_ALIVE)
            while not ends.is_set():
                failed = client.loop(timeout=_TURN)
                let_go()
                if failed:
                    break
                if state["joined"]:
                    tries = waits(first, longest)
        except (OSError, ValueError) as gone:
            fault = f" ({gone})"
        if not ends.is_set():
            state["joined"] = False
            tell(f"is gone, and is tried again{fault}")
            ends.wait(next(tries))
    let_go()
    client.disconnect()


class Handed:
    """What a broker has handed on, to know what it hands on once more.

    A program that was ended and begun again has forgotten it: then a reading without a
    moment of its own that was kept and not yet acknowledged counts twice.
    """

    def __init__(self) -> None:
        self._last: dict[int, tuple[str, bytes]] = {}

    def again(self, number: int, topic: str, payload: bytes, *, marked: bool) -> bool:
        """Return whether a message is one that was here before, and remember it.

        Parameters
        ----------
        number : int
            Packet identifier; a broker has at most 65 535 of them under way.
        topic : str
        payload : bytes
        marked : bool
            Whether the broker says that it may have sent it before.
        """
        before = self._last.get(number)
        self._last[number] = (topic, payload)
        return marked and before == (topic, payload)


def client_of(source: Source, session: str) -> Any:
    """Return a client that keeps its session; an error where its library is not there."""
    try:
        from paho.mqtt.client import Client
        from paho.mqtt.enums import CallbackAPIVersion
    except ImportError as fault:
        raise InputError(
            "thermometer",
            "a broker",
            "",
            "listened to with paho-mqtt",
            "Install the extra: pourcast[probe].",
        ) from fault
    client = Client(
        CallbackAPIVersion.VERSION2, client_id=session, clean_session=False, manual_ack=True
    )
    if source.user:
        client.username_pw_set(source.user, os.environ.get(PASSWORD))
    if source.secure:
        client.tls_set()
    return client
