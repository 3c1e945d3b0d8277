"""Signing: whether what a browser brings back is what this program gave it.

The key is made once and lies in a file that the caster alone can read, so that
a phone stays joined when the program is started again.
"""

import contextlib
import hashlib
import os
import secrets
from pathlib import Path

from itsdangerous import BadSignature, URLSafeTimedSerializer

from pourcast.app.keep import PRIVATE, create_text
from pourcast.errors import InputError

KEY_FILE = "signing_key"
_KEY_BYTES = 32
SESSION_DAYS = 180
"""How long a browser stays known; own choice."""

_DAY = 86_400  # s


def read_key(folder: Path) -> str:
    """Return the signing key of a folder; it is made where there is none.

    Raises
    ------
    InputError
        If others than the caster can read it.
    """
    path = folder / KEY_FILE
    with contextlib.suppress(FileExistsError):
        create_text(path, secrets.token_hex(_KEY_BYTES))
    mode = path.stat().st_mode & 0o777
    if os.name == "posix" and mode & 0o077:
        raise InputError(
            "rights of the signing key",
            f"{mode:03o}",
            "",
            f"{PRIVATE:03o}",
            f"Delete {KEY_FILE} in the data folder; phones must then be joined again.",
        )
    key = path.read_text("utf-8").strip()
    if len(key) < 2 * _KEY_BYTES:
        raise InputError("signing key", f"of {len(key)} signs", "", "whole; delete its file")
    return key


class Signer:
    """Makes and reads signed cookies and form tokens.

    Parameters
    ----------
    key : str
    """

    def __init__(self, key: str) -> None:
        self._sessions = URLSafeTimedSerializer(key, salt="pourcast session")
        self._forms = URLSafeTimedSerializer(key, salt="pourcast form")
        # Two studios on one machine share an address, and so must not share a cookie.
        self.cookie = f"pourcast-{hashlib.sha256(key.encode()).hexdigest()[:8]}"

    def session(self, name: str, device: str) -> str:
        """Return a cookie for a session of a device."""
        return str(self._sessions.dumps([name, device]))

    def read_session(self, cookie: str) -> tuple[str, str] | None:
        """Return name and device of a session; None: not ours, or too old."""
        try:
            name, device = self._sessions.loads(cookie, max_age=SESSION_DAYS * _DAY)
        except (BadSignature, ValueError, TypeError):
            return None
        return str(name), str(device)

    def form_token(self, session: str) -> str:
        """Return the token that each form of a session carries."""
        return str(self._forms.dumps(session))

    def is_form_token(self, token: str, session: str) -> bool:
        """Return whether a token was given to this session."""
        try:
            given = self._forms.loads(token, max_age=SESSION_DAYS * _DAY)
        except (BadSignature, ValueError, TypeError):
            return False
        return isinstance(given, str) and secrets.compare_digest(given, session)
