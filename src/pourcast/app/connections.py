"""Connections: how long may a caller keep silent, and how many may one machine hold?

A connection that is open and asks nothing costs a place in the table of open files.  With
the phones let in (`--lan`) a stranger on the same network could hold all of them, and the
caster's own browser would wait at a shut door.  So

- the head of a request is whole within `HEAD_WITHIN`, or the connection is closed;
- the body of one who is not joined is whole within `STRANGER_WITHIN`;
- another machine holds at most `MOST_OF_ONE` at once, all others together `MOST_OF_ALL`.

This machine itself is held to the first alone: its place is never taken by others.
"""

import asyncio

from starlette.types import Message, Receive
from uvicorn.protocols.http.h11_impl import H11Protocol

from pourcast import units as si
from pourcast.app.asked import is_loopback

HEAD_WITHIN = 15.0
"""Seconds for the head of a request; a phone at the edge of a network needs some; own choice."""

STRANGER_WITHIN = 20.0
"""Seconds for the body of one who is not joined, who has a code to say and no more; own choice."""

MOST_OF_ONE = 32
"""A browser opens six to a host for each of its windows; common practice of browsers, no source."""

MOST_OF_ALL = 128
"""Half of the 256 open files that some systems give a program; from memory."""


class Connection(H11Protocol):
    """A connection that is closed where it keeps silent or is one too many."""

    _silent: asyncio.TimerHandle | None = None

    def connection_made(  # type: ignore[override]
        self, transport: asyncio.Transport
    ) -> None:
        """Take a connection in, or shut it at once."""
        super().connection_made(transport)
        address = self.client[0] if self.client else ""
        if not is_loopback(address) and self._is_one_too_many(address):
            transport.abort()
            return
        self._wait_for_head()

    def data_received(self, data: bytes) -> None:
        """Read on; a head that is not whole yet has its time from its first byte."""
        super().data_received(data)
        if self._is_answering():
            self._stop_waiting()
        elif self._silent is None and not self.transport.is_closing():
            self._wait_for_head()

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget a connection."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _should_upgrade(self) -> bool:
        """Answer a wish for a web socket as any other request: there is none, and no word of it."""
        return False

    def _is_one_too_many(self, address: str) -> bool:
        held = [each.client for each in self.connections if isinstance(each, Connection)]
        others = [client[0] for client in held if client and not is_loopback(client[0])]
        return others.count(address) > MOST_OF_ONE or len(others) > MOST_OF_ALL

    def _is_answering(self) -> bool:
        """Return whether a request is under way: its head has come, its answer has not gone."""
        return self.cycle is not None and not self.cycle.response_complete

    def _wait_for_head(self) -> None:
        self._silent = self.loop.call_later(HEAD_WITHIN, self._give_up)

    def _stop_waiting(self) -> None:
        if self._silent is not None:
            self._silent.cancel()
            self._silent = None

    def _give_up(self) -> None:
        self._silent = None
        if not self._is_answering():
            self.transport.abort()


def hurried(receive: Receive, within: si.Second) -> Receive:
    """Return what hears a request to its end, or no longer than a while.

    Parameters
    ----------
    receive : callable
        Of the request.
    within : float [s]
        From the first word on; then the caller counts as gone.
    """
    until: si.Second | None = None

    async def heard() -> Message:
        nonlocal until
        now = asyncio.get_running_loop().time()
        until = now + within if until is None else until
        try:
            return await asyncio.wait_for(receive(), max(0.0, until - now))
        except TimeoutError:
            return {"type": "http.disconnect"}

    return heard
