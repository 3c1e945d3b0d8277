"""Devices: which phones may look in, how one is joined, and how it is forgotten.

The laptop shows a code to type and a picture to point the phone at.  The
picture carries 128 bits in the fragment of the address, which no browser sends
and no log keeps.  The code is short, so it lives ten minutes, counts tries for
each address, and is replaced after many wrong tries in all: a stranger who
tries codes can neither find one nor keep the caster from the next one.  The
caster's own machine is never held up.
"""

import json
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

from pourcast import units as si
from pourcast.app.keep import replace_text
from pourcast.errors import InputError

FILE = "devices.json"
LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Without signs that are misread."""

CODE_LENGTH = 8
"""40 bits of about 10^12 codes; with `MOST_WRONG` tries one in 10^10 is found."""

SECRET_BYTES = 16
OPEN_FOR = 600.0  # s; own choice
TRIES = 5  # of one address in `TRIES_IN`
TRIES_IN = 600.0  # s
MOST_WRONG = 60  # of all addresses together, before the code is replaced
_MOST_ADDRESSES = 1000  # remembered


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A phone that was joined, and the user of a shared book to whom it belongs."""

    id: str
    name: str
    joined: str
    user: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Invitation:
    """What lets one phone in, once.

    Parameters
    ----------
    code : str
        To type.
    secret : str
        128 bits, in the picture.
    until : float [s]
        On the clock of `Devices`.
    user : str
        To whom the phone will belong; "": the book has no users.
    """

    code: str
    secret: str
    until: si.Second
    user: str = ""


class Devices:
    """The list of joined phones, and the invitation that is open.

    Parameters
    ----------
    folder : Path
    clock : callable
        Seconds that only go forward.
    """

    def __init__(self, folder: Path, *, clock: Callable[[], float] = time.monotonic) -> None:
        self._path = folder / FILE
        self._clock = clock
        self._lock = threading.Lock()
        self._open: Invitation | None = None
        self._wrong = 0
        self._tries: dict[str, list[float]] = {}
        self._known = {device.id: device for device in self._read()}

    def all(self) -> list[Device]:
        """Return the joined phones, the newest first."""
        return sorted(self._known.values(), key=lambda device: device.joined, reverse=True)

    def is_known(self, device_id: str) -> bool:
        """Return whether a phone is joined and was not forgotten."""
        return device_id in self._known

    def get(self, device_id: str) -> Device | None:
        """Return a joined phone; None: it is not known."""
        return self._known.get(device_id)

    def forget_user(self, name: str) -> None:
        """Take all phones of a user off the list, and close an invitation of theirs."""
        with self._lock:
            for device in [each for each in self._known.values() if each.user == name]:
                self._known.pop(device.id)
            if self._open is not None and self._open.user == name:
                self._open = None
            self._write()

    def forget(self, device_id: str) -> None:
        """Take a phone off the list; it is shut out at once."""
        with self._lock:
            self._known.pop(device_id, None)
            self._write()

    def invite(self, user: str = "") -> Invitation:
        """Return an invitation for a user that is open, a new one where there is none."""
        with self._lock:
            old = self._open
            if old is None or self._clock() > old.until or old.user != user:
                self._renew(user)
            assert self._open is not None
            return self._open

    def open_invitation(self) -> Invitation | None:
        """Return the invitation that is open; None: there is none."""
        with self._lock:
            if self._open is not None and self._clock() > self._open.until:
                self._open = None
            return self._open

    def withdraw(self) -> None:
        """Close the invitation that is open."""
        with self._lock:
            self._open = None

    def tries_left(self, address: str) -> int:
        """Return how many tries an address has left for now."""
        with self._lock:
            return TRIES - len(self._recent(address))

    def join(self, given: str, name: str, address: str) -> Device | None:
        """Return the joined phone for the right code or secret; None: it is wrong or closed.

        Raises
        ------
        InputError
            If the address has no tries left for now.
        """
        with self._lock:
            recent = self._recent(address)
            if len(recent) >= TRIES:
                minutes = round(TRIES_IN / 60)
                raise InputError("tries", TRIES, "", f"fewer in {minutes} minutes", "Wait a while.")
            if self._open is None or self._clock() > self._open.until:
                return None
            if not self._fits(given):
                self._note_wrong(address, recent)
                return None
            # One invitation lets one phone in.
            user = self._open.user
            self._open = None
            device = Device(
                id=secrets.token_urlsafe(12),
                name=name.strip()[:60] or "phone",
                joined=datetime.now(UTC).isoformat(timespec="seconds"),
                user=user,
            )
            self._known[device.id] = device
            self._write()
            return device

    def _fits(self, given: str) -> bool:
        assert self._open is not None
        typed = "".join(given.upper().split()).replace("-", "")
        return secrets.compare_digest(
            typed.encode(), self._open.code.encode()
        ) or secrets.compare_digest(given.strip().encode(), self._open.secret.encode())

    def _note_wrong(self, address: str, recent: list[float]) -> None:
        self._tries[address] = [*recent, self._clock()]
        while len(self._tries) > _MOST_ADDRESSES:
            self._tries.pop(next(iter(self._tries)))
        self._wrong += 1
        if self._wrong >= MOST_WRONG:
            self._renew("" if self._open is None else self._open.user)

    def _renew(self, user: str) -> None:
        self._wrong = 0
        self._open = Invitation(
            code="".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH)),
            secret=secrets.token_urlsafe(SECRET_BYTES),
            until=self._clock() + OPEN_FOR,
            user=user,
        )

    def _recent(self, address: str) -> list[float]:
        since = self._clock() - TRIES_IN
        return [moment for moment in self._tries.get(address, []) if moment > since]

    def _read(self) -> list[Device]:
        try:
            return [Device(**fields) for fields in json.loads(self._path.read_text("utf-8"))]
        except FileNotFoundError:
            return []

    def _write(self) -> None:
        kept = [asdict(device) for device in self._known.values()]
        replace_text(self._path, json.dumps(kept, ensure_ascii=False, indent=1))
