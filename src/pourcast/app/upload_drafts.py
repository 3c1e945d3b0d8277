"""Upload drafts: what was typed beside a file outlives the window; the file is picked again."""

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path

from pourcast.app.keep import replace_text
from pourcast.app.upload_fields import PHOTOGRAPHS, SCAN

FORMS = {"scan": SCAN, "photographs": PHOTOGRAPHS}
LONGEST = 120
"""Characters of a box that are kept; as the name of a piece may have."""


class UploadDrafts:
    """The folder of what was typed, one file for each session.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def read(self, session: str) -> dict[str, dict[str, str]]:
        """Return the boxes of each form as they were left.

        Parameters
        ----------
        session : str
        """
        try:
            kept = json.loads(self._path(session).read_text("utf-8"))
        except FileNotFoundError:
            kept = {}
        return {form: dict(kept.get(form, {})) for form in FORMS}

    def write(self, session: str, form: str, fields: Mapping[str, str]) -> None:
        """Keep the boxes of a form; of none, it is begun anew.

        Parameters
        ----------
        session : str
        form : str
            One of `FORMS`.
        fields : dict of str to str
            What is no box of the form is left out.
        """
        boxes = {name: fields[name][:LONGEST] for name in FORMS[form] if name in fields}
        replace_text(self._path(session), json.dumps({**self.read(session), form: boxes}))

    def _path(self, session: str) -> Path:
        # The name of a session is a secret and stands in no file name.
        name = hashlib.sha256(session.encode()).hexdigest()[:32]
        return self._folder / f"{name}.json"
