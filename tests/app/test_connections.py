"""Connections: who keeps silent is shut out, and no other machine takes all places.

That half a request may hold a place for good, and that it must not, is common practice of
web servers (CWE-400); the numbers are our own choice.
"""

import asyncio
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
import uvicorn
from starlette.types import Message, Receive, Scope, Send

from pourcast.app import connections
from pourcast.app.connections import Connection, hurried

WAIT = 10.0
"""Seconds after which a test has failed; nothing is measured."""

HALF = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n"
WHOLE = HALF + b"\r\n"
LENGTH = (b"content-length", b"2")


async def plain(scope: Scope, receive: Receive, send: Send) -> None:
    """Answer anything in two letters."""
    await send({"type": "http.response.start", "status": 200, "headers": [LENGTH]})
    await send({"type": "http.response.body", "body": b"ok"})


@contextmanager
def served() -> Iterator[int]:
    """Serve on a free port of this machine."""
    with socket.socket() as bound:
        bound.bind(("127.0.0.1", 0))
        bound.listen()
        config = uvicorn.Config(
            plain, http=Connection, lifespan="off", log_level="warning", access_log=False
        )
        server = uvicorn.Server(config)
        run = threading.Thread(target=server.run, kwargs={"sockets": [bound]}, daemon=True)
        run.start()
        try:
            yield int(bound.getsockname()[1])
        finally:
            server.should_exit = True
            run.join(WAIT)


def opened(port: int, said: bytes) -> socket.socket:
    held = socket.create_connection(("127.0.0.1", port), timeout=WAIT)
    held.sendall(said)
    return held


def heard(held: socket.socket) -> bytes:
    """Return what comes until the other end shuts; b"" also where it breaks off."""
    got = b""
    try:
        while more := held.recv(4096):
            got += more
            if b"ok" in got:
                break
    except ConnectionResetError:
        pass
    return got


@pytest.mark.parametrize("said", [b"", b"GET", HALF])
def test_head_that_does_not_come_ends_the_connection(
    said: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made to fail: without the limit these three wait for good."""
    monkeypatch.setattr(connections, "HEAD_WITHIN", 0.2)
    with served() as port, opened(port, said) as held:
        assert heard(held) == b""


def test_second_head_on_a_connection_has_its_time_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Made to fail: an answered request stops the watch, and half a second one starts it anew."""
    monkeypatch.setattr(connections, "HEAD_WITHIN", 0.2)
    with served() as port, opened(port, WHOLE) as held:
        assert b"200" in heard(held)
        held.sendall(HALF)
        assert heard(held) == b""


def test_head_in_pieces_is_answered() -> None:
    """Property: a slow line is no attack as long as the head is whole in time."""
    with served() as port, opened(port, HALF) as held:
        held.sendall(b"X-Much: 1\r\n")
        held.sendall(b"\r\n")
        assert b"200" in heard(held)


def test_machine_on_the_network_holds_so_many_places_and_no_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Made to fail: the loopback is told to count as a foreign machine."""
    monkeypatch.setattr(connections, "is_loopback", lambda _: False)
    monkeypatch.setattr(connections, "MOST_OF_ONE", 3)
    with served() as port:
        held = [opened(port, HALF) for _ in range(3)]
        with opened(port, b"") as fourth:
            assert heard(fourth) == b""
        for each in held:
            each.sendall(b"\r\n")
            assert b"200" in heard(each)
            each.close()


def test_own_machine_is_let_in_whatever_others_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    """House rule: the caster's own browser is never held up."""
    monkeypatch.setattr(connections, "MOST_OF_ONE", 1)
    monkeypatch.setattr(connections, "MOST_OF_ALL", 1)
    with served() as port:
        held = [opened(port, HALF) for _ in range(5)]
        with opened(port, WHOLE) as sixth:
            assert b"200" in heard(sixth)
        for each in held:
            each.close()


def test_wish_for_a_web_socket_is_a_plain_request(capfd: pytest.CaptureFixture[str]) -> None:
    """House rule: a stranger writes nothing on the caster's terminal."""
    wish = HALF + b"Connection: Upgrade\r\nUpgrade: websocket\r\n\r\n"
    with served() as port, opened(port, wish) as held:
        assert b"200" in heard(held)
    assert "pip install" not in capfd.readouterr().err


def test_body_that_does_not_come_counts_as_gone() -> None:
    """Made to fail: the caller sends one byte and then waits for good."""
    words: list[Message] = [{"type": "http.request", "body": b"x", "more_body": True}]

    async def slow() -> Message:
        if words:
            return words.pop()
        await asyncio.Event().wait()
        raise AssertionError

    async def both() -> list[str]:
        listen = hurried(slow, 0.05)
        return [str((await listen())["type"]) for _ in range(3)]

    told: list[str] = []
    # In a thread of its own: a browser of another test may hold a loop in this one.
    alone = threading.Thread(target=lambda: told.extend(asyncio.run(both())))
    alone.start()
    alone.join(WAIT)

    assert told == ["http.request", "http.disconnect", "http.disconnect"]
