"""Drafts: a form that is half filled in outlives its window and the program.

Each field is kept as it was typed, right or wrong.  A draft is one file, and a
field that is typed is on the disk before the page says so.
"""

import json
import re
import threading
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from pourcast.app.faults import NotThereError
from pourcast.app.keep import replace_text
from pourcast.book.store import new_id
from pourcast.errors import InputError

_ID = re.compile(r"[0-9a-hjkmnp-tv-z]{16}")
MOST_FIELDS = 8000
MOST_DRAFTS = 200
LONGEST_FIELD = 20_000
"""Characters; as the note of a piece file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A form that is half filled in."""

    id: str
    fields: Mapping[str, str]
    changed: datetime


class Drafts:
    """The folder of drafts.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock = threading.Lock()

    def all(self) -> list[Draft]:
        """Return all drafts, the one changed last first."""
        if not self._folder.is_dir():
            return []
        found = [self.read(path.stem) for path in self._folder.glob("*.json")]
        return sorted(found, key=lambda draft: draft.changed, reverse=True)

    def begin(self, fields: Mapping[str, str]) -> Draft:
        """Keep a new draft.

        Raises
        ------
        InputError
            If there are too many already.
        """
        if self._folder.is_dir() and len(list(self._folder.glob("*.json"))) >= MOST_DRAFTS:
            raise InputError("drafts", MOST_DRAFTS, "", "fewer", "Finish or drop one.")
        draft_id = new_id()
        self._write(draft_id, fields)
        return self.read(draft_id)

    def read(self, draft_id: str) -> Draft:
        """Return a draft.

        Raises
        ------
        NotThereError
        """
        path = self._path(draft_id)
        try:
            fields = json.loads(path.read_text("utf-8"))
            changed = datetime.fromtimestamp(path.stat().st_mtime, UTC)
        except FileNotFoundError:
            raise NotThereError("There is no such draft.") from None
        return Draft(id=draft_id, fields=fields, changed=changed)

    def put(self, draft_id: str, fields: Mapping[str, str]) -> Draft:
        """Keep fields of a draft; those that are not named stay.

        Raises
        ------
        NotThereError
        InputError
            If a field is too long, or there are too many.
        """
        with self._lock:
            self._write(draft_id, {**self.read(draft_id).fields, **fields})
            return self.read(draft_id)

    def replace(self, draft_id: str, fields: Mapping[str, str]) -> Draft:
        """Keep fields of a draft in the place of all that stood in it."""
        with self._lock:
            self.read(draft_id)
            self._write(draft_id, fields)
            return self.read(draft_id)

    def drop(self, draft_id: str) -> None:
        """Throw a draft away."""
        with self._lock:
            self._path(draft_id).unlink(missing_ok=True)

    def _write(self, draft_id: str, fields: Mapping[str, str]) -> None:
        if len(fields) > MOST_FIELDS:
            raise InputError("fields of the draft", len(fields), "", f"at most {MOST_FIELDS}")
        for name, text in fields.items():
            if len(name) > 200 or len(text) > LONGEST_FIELD:
                raise InputError(
                    name[:60], f"of {len(text)} characters", "", f"at most {LONGEST_FIELD} long"
                )
        replace_text(self._path(draft_id), json.dumps(dict(fields), ensure_ascii=False, indent=0))

    def _path(self, draft_id: str) -> Path:
        if not _ID.fullmatch(draft_id):
            raise NotThereError("There is no such draft.")
        return self._folder / f"{draft_id}.json"
