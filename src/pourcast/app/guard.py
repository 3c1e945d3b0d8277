"""Guard: who may ask, from which page, and how much at once.

It stands before every page, and refuses

- a request under a foreign name of this machine (421), so that a page of
  another site cannot reach in by turning its own name to this address;
- a change that comes from another page (403);
- a visitor that is neither this machine nor a joined phone (401);
- a change by one whose role in a shared book does not allow it (403);
- a body that is too long (413), also one that does not say its length;
- a device that asks too often (429); this machine itself is never held up.

Every answer carries a policy by which the browser runs no script and no style
but our own, and loads nothing from elsewhere.
"""

import logging
import re
import secrets
from collections.abc import Collection, Mapping
from dataclasses import replace

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from pourcast.app.asked import cookie_of, from_own_page, headers_of, host_of, is_loopback, length_of
from pourcast.app.connections import STRANGER_WITHIN, hurried
from pourcast.app.devices import Devices
from pourcast.app.rates import Rates
from pourcast.app.roles import Roles, refusal
from pourcast.app.signing import SESSION_DAYS, Signer
from pourcast.app.visitor import LAPTOP, Visitor
from pourcast.app.words import say
from pourcast.book.faults import BookError
from pourcast.book.who import acting

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "connect-src 'self'",
        "font-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}
LOOPBACK = ("127.0.0.1", "localhost", "::1")
OPEN_PATHS = ("/join", "/static/")
"""Where a visitor may go who is not joined."""

INSTRUMENT = re.compile(r"/day/[0-9a-z]{16}/reading")
"""Where a thermometer of its own may write, with the token of its day instead of a session."""

INSTRUMENT_HAND = "instrument"
"""Whose hand a reading is from that came with the token of a day."""

MOST_BODY = 2_000_000
"""Bytes: twice the longest piece file."""

MOST_UPLOAD = 210_000_000
"""Bytes: a scan or two photographs, as long as their readers take, and the form round them."""

LONG_BODIES = {"/upload": MOST_UPLOAD, "/break-out": 60_000_000}
"""First part of the path: bytes of a longer body."""

_CHANGES = frozenset({"POST", "PUT", "PATCH", "DELETE"})
_KNOWN = frozenset({"GET", "HEAD", "OPTIONS"}) | _CHANGES

log = logging.getLogger(__name__)


class Guard:
    """The door of the pages.

    Parameters
    ----------
    app : ASGIApp
    hosts : collection of str
        Names and addresses under which this machine may be asked.
    signer : Signer
    devices : Devices
    roles : Roles
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        hosts: Collection[str],
        signer: Signer,
        devices: Devices,
        roles: Roles,
    ) -> None:
        self._app = app
        self._hosts = frozenset(host.lower() for host in hosts)
        self._signer = signer
        self._devices = devices
        self._roles = roles
        self._joined = Rates(most=400, per_second=40.0)
        self._strangers = Rates(most=60, per_second=2.0)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer why not."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = headers_of(scope)
        visitor, is_new = self._visitor(scope, headers)
        refused = self._refused(scope, headers, visitor)
        if refused is not None:
            await _answer(send, *refused)
            return
        if visitor.device and not visitor.is_laptop:
            found = await self._belonging(scope, visitor)
            if not isinstance(found, Visitor):
                await _answer(send, *found)
                return
            visitor = found
        scope["visitor"] = visitor
        by_itself = is_instrument(scope["method"], scope["path"], headers)
        if not visitor.device:
            receive = hurried(receive, STRANGER_WITHIN)
        with acting(INSTRUMENT_HAND if by_itself else visitor.name or None):
            await self._let_in(scope, receive, send, visitor if is_new else None)

    async def _belonging(self, scope: Scope, visitor: Visitor) -> Visitor | tuple[int, str]:
        """Return a joined phone with the one it belongs to, or why it is not let in."""
        if scope["path"].startswith("/static/"):
            return visitor
        try:
            found = await run_in_threadpool(self._roles.of, visitor.device)
        except BookError as fault:
            log.warning("the book does not answer: %s", fault)
            return 503, say("guard.no_book")
        if found is None:
            if scope["path"].startswith(OPEN_PATHS):
                return replace(visitor, device="")
            return 401, say("guard.join_first")
        if scope["method"] in _CHANGES and not is_instrument(
            scope["method"], scope["path"], headers_of(scope)
        ):
            refused = refusal(found.role, scope["path"])
            if refused is not None:
                return 403, say(refused)
        return replace(visitor, name=found.name, role=found.role)

    def _visitor(self, scope: Scope, headers: dict[str, str]) -> tuple[Visitor, bool]:
        """Return who asks, and whether the session is new."""
        address = scope["client"][0] if scope.get("client") else ""
        here = is_loopback(address)
        known = self._signer.read_session(cookie_of(headers, self._signer.cookie))
        if known is not None:
            session, device = known
            if here:
                return Visitor(session=session, device=LAPTOP, address=address), False
            if device != LAPTOP and (not device or self._devices.is_known(device)):
                return Visitor(session=session, device=device, address=address), False
        session = secrets.token_urlsafe(12)
        return Visitor(session=session, device=LAPTOP if here else "", address=address), True

    def _refused(
        self, scope: Scope, headers: dict[str, str], visitor: Visitor
    ) -> tuple[int, str] | None:
        """Return status and sentence where a request is not let in."""
        if host_of(headers) not in self._hosts:
            return 421, say("guard.host")
        if scope["method"] not in _KNOWN:
            return 405, say("guard.method")
        instrument = is_instrument(scope["method"], scope["path"], headers)
        if scope["method"] in _CHANGES and not instrument and not from_own_page(headers):
            return 403, say("guard.origin")
        if not visitor.is_laptop:
            rates, who = (
                (self._joined, visitor.device)
                if visitor.device
                else (self._strangers, visitor.address)
            )
            if not rates.takes(who):
                return 429, say("guard.too_often")
            open_to_all = instrument or scope["path"].startswith(OPEN_PATHS)
            if not visitor.device and not open_to_all:
                return 401, say("guard.join_first")
        if length_of(headers) > most_body(scope["path"]):
            return 413, _too_long(scope["path"])
        return None

    async def _let_in(
        self, scope: Scope, receive: Receive, send: Send, newcomer: Visitor | None
    ) -> None:
        most = most_body(scope["path"])
        seen = 0
        began = False

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            return {"type": "http.disconnect"} if seen > most else message

        async def dressed(message: Message) -> None:
            nonlocal began
            if seen > most and not began:
                return
            if message["type"] == "http.response.start":
                began = True
                message = {**message, "headers": self._dress(message, newcomer)}
            await send(message)

        try:
            await self._app(scope, counted, dressed)
        except Exception:
            if began:
                raise
            if seen <= most:
                log.exception("a page could not be made")
                await _answer(send, 500, say("guard.fault"))
                return
        if seen > most and not began:
            await _answer(send, 413, _too_long(scope["path"]))

    def _dress(self, message: Message, newcomer: Visitor | None) -> list[tuple[bytes, bytes]]:
        headers = list(message.get("headers", []))
        given = {name.lower() for name, _ in headers}
        if b"cache-control" not in given:
            headers.append((b"cache-control", b"no-cache, private"))
        if newcomer is not None and b"set-cookie" not in given:
            cookie = set_cookie(self._signer, newcomer.session, newcomer.device)
            headers.append((b"set-cookie", cookie.encode()))
        return headers + [
            (name.encode(), text.encode())
            for name, text in HEADERS.items()
            if name.encode() not in given
        ]


def is_instrument(method: str, path: str, headers: Mapping[str, str]) -> bool:
    """Return whether a request is a reading that brings the token of a day.

    No page of another site can send one: a browser asks before it sends such a line,
    and is not answered.
    """
    said = headers.get("authorization", "")
    return method == "POST" and said.startswith("Bearer ") and bool(INSTRUMENT.fullmatch(path))


def set_cookie(signer: Signer, session: str, device: str) -> str:
    """Return the header that gives a browser its session."""
    return (
        f"{signer.cookie}={signer.session(session, device)}; Path=/; HttpOnly; "
        f"SameSite=Strict; Max-Age={SESSION_DAYS * 86_400}"
    )


def most_body(path: str) -> int:
    """Return how many bytes a request to a path may bring."""
    return LONG_BODIES.get("/" + path.lstrip("/").partition("/")[0], MOST_BODY)


def _too_long(path: str) -> str:
    return say("guard.too_long", most=f"{most_body(path) // 1_000_000} MB")


async def _answer(send: Send, status: int, text: str) -> None:
    """Answer in one sentence, as a page that needs nothing else."""
    path, link = ("/join", "guard.join") if status == 401 else ("/", "guard.link")
    body = say("guard.page", title=text, path=path, link=say(link)).encode()
    headers = {
        **HEADERS,
        "content-type": "text/html; charset=utf-8",
        "content-length": str(len(body)),
        "cache-control": "no-store",
    }
    raw = [(name.encode(), value.encode()) for name, value in headers.items()]
    await send({"type": "http.response.start", "status": status, "headers": raw})
    await send({"type": "http.response.body", "body": body})
