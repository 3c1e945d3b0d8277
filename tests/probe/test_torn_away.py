"""A broker and a serial line that are torn away again and again; nothing kept is lost.

The broker is a real one on this machine, the line a pseudo-terminal.
"""

import os
import queue
import shutil
import socket
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pourcast.book.kiln_days import begin_day, day_log
from pourcast.book.store import Book, open_book
from pourcast.day.judge import judged
from pourcast.probe.address import source_of
from pourcast.probe.keep import keep_arrival
from pourcast.probe.listen import listening, waiting_now
from pourcast.probe.model import Arrival
from tests.book.conftest import kept

START = datetime(2026, 12, 5, 5, 0, tzinfo=UTC)
TIMES = [5, pytest.param(100, marks=pytest.mark.long)]
MOSQUITTO = shutil.which("mosquitto") or shutil.which("mosquitto", path="/usr/sbin")
PATIENCE = 60.0


@pytest.fixture
def book(tmp_path: Path) -> Iterator[tuple[Book, str]]:
    """Return a book with a day that has begun."""
    with open_book(tmp_path / "book") as opened:
        yield opened, begin_day(opened, kept(opened).id, start=START, at=START).id


def until(found: Callable[[], bool], what: str) -> None:
    """Wait for something that other threads bring about; a fault where it does not come."""
    for _ in range(int(PATIENCE / 0.02)):
        if found():
            return
        time.sleep(0.02)
    raise AssertionError(f"waited in vain: {what}")


class Keeper:
    """Keeps what comes, as the day in the terminal does."""

    def __init__(self, book: Book, pour_id: str, arrivals: "queue.Queue[Arrival]") -> None:
        self.book, self.pour_id, self.arrivals = book, pour_id, arrivals
        self.told: list[str] = []

    def look(self) -> int:
        """Keep what has come, and return how many readings there are."""
        for arrival in waiting_now(self.arrivals):
            moved = Arrival(
                source=arrival.source,
                text=arrival.text,
                arrived=START + timedelta(hours=10),
                told=arrival.told,
                done=arrival.done,
            )
            outcome = keep_arrival(self.book, self.pour_id, moved, start=START)
            if outcome.told:
                self.told.append(outcome.told)
        return len(day_log(self.book, self.pour_id).readings)


@pytest.fixture
def broker(tmp_path: Path) -> Iterator[tuple[int, Callable[[], None]]]:
    """Return the port of a broker on this machine, and what tears it away and brings it back."""
    if MOSQUITTO is None:
        pytest.skip("no mosquitto on this machine: the broker of the test is not there")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = int(free.getsockname()[1])
    folder = tmp_path / "broker"
    folder.mkdir()
    folder.chmod(0o777)
    config = tmp_path / "broker.conf"
    config.write_text(
        f"listener {port} 127.0.0.1\nallow_anonymous true\npersistence true\n"
        f"persistence_location {folder}/\nmax_queued_messages 0\nuser root\n",
        encoding="utf-8",
    )
    running: list[subprocess.Popen[bytes]] = []

    def begin() -> None:
        running.append(
            subprocess.Popen(
                [str(MOSQUITTO), "-c", str(config)],
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        )

        def answers() -> bool:
            with socket.socket() as tried:
                return tried.connect_ex(("127.0.0.1", port)) == 0

        until(answers, "the broker")

    def tear() -> None:
        running[-1].terminate()
        running[-1].wait()
        begin()

    begin()
    yield port, tear
    running[-1].terminate()
    running[-1].wait()


@pytest.mark.parametrize("times", TIMES)
def test_a_broker_is_torn_away_and_no_reading_is_lost(
    book: tuple[Book, str], broker: tuple[int, Callable[[], None]], times: int
) -> None:
    """Made to fail: every reading that the broker took stands in the book, once.

    Between the breaks two readings are published; each carries its moment, so that one
    that is handed on twice is one.  Each second one is published while we may be away.
    """
    publish = pytest.importorskip("paho.mqtt.publish")
    port, tear = broker
    source = source_of(f"mqtt://127.0.0.1:{port}/kiln/t")
    sent = 0
    with listening((source,), session="test", first=0.02, longest=0.1) as arrivals:
        keeper = Keeper(*book, arrivals)
        until(lambda: bool(keeper.look() == 0 and any("joined" in t for t in keeper.told)), "us")

        def say() -> None:
            at = (START + timedelta(minutes=sent)).timestamp()
            publish.single(
                "kiln/t",
                f'{{"temperature": {20 + sent}, "time": {at}}}',
                qos=1,
                hostname="127.0.0.1",
                port=port,
                client_id="thermometer",
            )

        for _ in range(times):
            for _ in range(2):
                say()
                sent += 1
                if sent % 2:
                    tear()
            keeper.look()
        until(lambda: keeper.look() == sent, f"{sent} readings, there are {keeper.look()}")

    log = day_log(*book)
    assert sorted(round(each.temperature - 273.15) for each in log.readings) == [
        20 + number for number in range(sent)
    ]
    assert all(each.doubt is None for each in judged(log))
    assert any("gone" in told for told in keeper.told)
    assert not [told for told in keeper.told if "not kept" in told]


@pytest.mark.parametrize("times", TIMES)
def test_a_serial_line_is_torn_away_and_what_it_said_whole_is_kept(
    book: tuple[Book, str], tmp_path: Path, times: int
) -> None:
    """Made to fail: whole lines stand in the book; torn ones are told, and never read.

    Each time the line is pulled out in the middle of a number and plugged in in the
    middle of the next.
    """
    pytest.importorskip("serial")
    port = tmp_path / "tty"
    source = source_of(f"serial:{port}")
    wanted: list[float] = []

    def temperatures() -> set[float]:
        return {round(each.temperature - 273.15, 2) for each in day_log(*book).readings}

    def plug() -> tuple[int, int]:
        master, slave = os.openpty()
        os.set_blocking(master, True)
        fresh = tmp_path / "fresh"
        fresh.symlink_to(os.ttyname(slave))
        fresh.replace(port)
        return master, slave

    with listening((source,), session="test", first=0.02, longest=0.1) as arrivals:
        keeper = Keeper(*book, arrivals)
        for number in range(times):
            master, slave = plug()
            # The first piece is the end of a line: it is written until it is heard, for
            # what is said before the port is opened may be thrown away.
            before = len(keeper.told)
            heard = threading.Event()

            def say(to: int = master, heard: threading.Event = heard) -> None:
                while not heard.is_set():
                    os.write(to, b"1.5\n")
                    heard.wait(0.02)

            speaker = threading.Thread(target=say, daemon=True)
            speaker.start()
            until(
                lambda before=before: (  # type: ignore[misc]
                    keeper.look() >= 0 and any("'1.5'" in told for told in keeper.told[before:])
                ),
                "the first piece",
            )
            heard.set()
            speaker.join()
            for half in (0, 30):
                at = (START + timedelta(minutes=number, seconds=half)).isoformat()
                value = round(300.0 + number + half / 100.0, 2)
                os.write(master, f"kiln {value} C {at}\n".encode())
                wanted.append(value)
            os.write(master, b"37")
            until(lambda: keeper.look() >= 0 and set(wanted) <= temperatures(), "the lines")
            os.close(slave)
            os.close(master)

    # Whole lines of 1.5 that came before the two are readings too; torn ones are not.
    assert temperatures() - {1.5} == set(wanted)
    assert any("gone" in told for told in keeper.told)


def test_what_cannot_be_kept_is_told_with_its_text(book: tuple[Book, str]) -> None:
    """Made to fail: no line goes without a word."""
    source = source_of("serial:/dev/null")
    now = START + timedelta(hours=1)

    def told(text: str, **more: object) -> str:
        arrival = Arrival(source=source, text=text, arrived=now, **more)  # type: ignore[arg-type]
        return keep_arrival(*book, arrival, start=START).told

    assert told("120 C") == ""
    assert "nonsense" in told("nonsense")
    assert "99999" in told("99999 C")
    assert "of this day" in told("120 C 2026-12-04T05:00:00Z")
    assert "of this day" in told("120 C 2026-12-07T05:00:00Z")
    assert "with its time" in told("120 C", told="kept by the broker from before")
    assert told("", told="is gone") == "/dev/null: is gone"
    assert len(day_log(*book).readings) == 1


def test_readings_twice_and_out_of_order_are_the_same_day(book: tuple[Book, str]) -> None:
    source = source_of("serial:/dev/null")
    lines = [f"{20 + n} C {(START + timedelta(minutes=n)).isoformat()}" for n in range(10)]

    for line in [*lines[5:], *lines, *reversed(lines)]:
        arrival = Arrival(source=source, text=line, arrived=START + timedelta(hours=1))
        keep_arrival(*book, arrival, start=START)

    assert [round(each.temperature - 273.15) for each in day_log(*book).readings] == list(
        range(20, 30)
    )


def test_a_reading_that_does_not_fit_is_kept_and_questioned(book: tuple[Book, str]) -> None:
    """As a typed one: kept, shown, and it counts for nothing until it is said right."""
    source = source_of("serial:/dev/null")
    for minute, text in ((0, "300 C"), (10, "310 C"), (20, "600 F")):
        line = f"{text} {(START + timedelta(minutes=minute)).isoformat()}"
        keep_arrival(
            *book, Arrival(source=source, text=line, arrived=START + timedelta(hours=1)),
            start=START,
        )  # fmt: skip
    line = f"610 {(START + timedelta(minutes=30)).isoformat()}"
    arrival = Arrival(source=source, text=line, arrived=START + timedelta(hours=1))
    keep_arrival(*book, arrival, start=START)

    found = judged(day_log(*book))

    assert [each.doubt for each in found] == [None, None, None, "unit"]
