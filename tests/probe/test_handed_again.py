"""A broker that hands a reading on once more after a break, in the words of its protocol.

Source of each packet: MQTT 3.1.1, OASIS standard (2014), 3.2 to 3.4, 3.8 and 3.9.
"""

import queue
import socket
import threading
from collections.abc import Iterator

import pytest

from pourcast.probe.broker import Handed, listen_broker
from pourcast.probe.model import Arrival, Source

TOPIC = "kiln"


class Spoken:
    """A broker of one client: it tears the way after the first reading, and sends it again."""

    def __init__(self) -> None:
        self._door = socket.create_server(("127.0.0.1", 0))
        self.port = self._door.getsockname()[1]
        self._thread = threading.Thread(target=self._serve, daemon=True)
        self._thread.start()

    def _serve(self) -> None:
        with self._door, self._joined() as torn:
            torn.sendall(publish(7, b"371.5", again=False))
            torn.close()
            whole = self._joined()
        with whole:
            whole.sendall(publish(7, b"371.5", again=True))  # the same one, sent again
            whole.sendall(publish(8, b"371.5", again=False))  # a new one that reads alike
            whole.sendall(publish(9, b"372.0", again=True))  # marked, and never seen here
            while whole.recv(4096):
                pass

    def _joined(self) -> socket.socket:
        way, _ = self._door.accept()
        self._take(way)
        way.sendall(bytes([0x20, 2, 0, 0]))
        asked = self._take(way)
        way.sendall(bytes([0x90, 3, asked[0], asked[1], 1]))
        return way

    @staticmethod
    def _take(way: socket.socket) -> bytes:
        """Return the body of one packet under 128 bytes."""
        head = way.recv(2, socket.MSG_WAITALL)
        return way.recv(head[1], socket.MSG_WAITALL)


def publish(number: int, payload: bytes, *, again: bool) -> bytes:
    body = bytes([0, len(TOPIC)]) + TOPIC.encode() + number.to_bytes(2, "big") + payload
    return bytes([0x3A if again else 0x32, len(body)]) + body


@pytest.fixture
def arrivals() -> Iterator["queue.Queue[Arrival]"]:
    pytest.importorskip("paho.mqtt")
    came: queue.Queue[Arrival] = queue.Queue()
    ends = threading.Event()
    source = Source(kind="broker", address="127.0.0.1", port=Spoken().port, topic=TOPIC)
    listens = threading.Thread(
        target=listen_broker,
        args=(source, came, ends),
        kwargs={"session": "us", "first": 0.01, "longest": 0.1},
    )
    listens.start()
    yield came
    ends.set()
    listens.join()


def test_a_reading_that_is_sent_again_counts_once(arrivals: "queue.Queue[Arrival]") -> None:
    texts: list[str] = []
    told: list[str] = []
    while "372.0" not in texts:
        came = arrivals.get(timeout=60)
        (texts if came.text else told).append(came.text or came.told)
        if came.done is not None:
            came.done()

    assert texts == ["371.5", "371.5", "372.0"]
    assert [each for each in told if "once more" in each] == [
        "handed a reading on once more; it counts once"
    ]


def test_only_a_marked_message_with_the_same_number_and_text_was_here_before() -> None:
    handed = Handed()

    assert not handed.again(1, "kiln", b"5", marked=False)
    assert handed.again(1, "kiln", b"5", marked=True)
    assert not handed.again(1, "kiln", b"5", marked=False)  # the number is used anew
    assert not handed.again(1, "wall", b"5", marked=True)
    assert not handed.again(2, "kiln", b"5", marked=True)
