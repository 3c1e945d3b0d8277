"""Upload corrections: what the caster has put right stays beside the studio for the next import.

The file is the one that `pourcast take` reads beside a piece file.  It is kept by the
name of the piece, one for its scans and one for its photographs: the places in it are
counted in another frame for each.
"""

import hashlib
import json
from pathlib import Path
from typing import TYPE_CHECKING

from pourcast.app.keep import replace_text
from pourcast.app.words import say
from pourcast.errors import SheetError
from pourcast.sheet import decode

if TYPE_CHECKING:
    from pourcast.scan.corrections import Corrections
    from pourcast.scan.groups import Group
    from pourcast.scan.model import Correction

FILE = "corrections file"
_SHOWN = 8
"""Faults that stand beside the box; of more the rest is counted."""


class KeptCorrections:
    """The folder of corrections, one file for each piece and way of seeing it.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def read(self, form: str, name: str) -> str:
        """Return the corrections of a piece; "": none are kept.

        Parameters
        ----------
        form : str
            "scan" or "photographs".
        name : str
            Of the piece.
        """
        try:
            kept = json.loads(self._path(form, name).read_text("utf-8"))
        except FileNotFoundError:
            return ""
        return str(kept["text"])

    def write(self, form: str, name: str, text: str) -> None:
        """Keep the corrections of a piece in the place of earlier ones.

        Parameters
        ----------
        form, name : str
        text : str
            Free of faults; "": none are kept from here on.
        """
        if not text:
            self._path(form, name).unlink(missing_ok=True)
            return
        kept = json.dumps({"form": form, "name": name.strip(), "text": text})
        replace_text(self._path(form, name), kept)

    def names(self, form: str) -> list[str]:
        """Return the names of the pieces with corrections, in their order.

        Parameters
        ----------
        form : str
        """
        found = [json.loads(path.read_text("utf-8")) for path in self._folder.glob("*.json")]
        return sorted(str(each["name"]) for each in found if each["form"] == form)

    def _path(self, form: str, name: str) -> Path:
        # A name may hold anything, so it stands in no path.
        key = f"{form}\n{name.strip().casefold()}"
        return self._folder / f"{hashlib.sha256(key.encode()).hexdigest()[:32]}.json"


def read_text(content: bytes) -> str:
    """Return the text of a corrections file, once it has no fault.

    Parameters
    ----------
    content : bytes

    Raises
    ------
    SheetError
    """
    from pourcast.scan.corrections import read_corrections

    text = decode(content, file=FILE)
    read_corrections(text, file=FILE)
    return text


def read(text: str) -> "Corrections":
    """Return the corrections of a text.

    Parameters
    ----------
    text : str
        "": none.
    """
    from pourcast.scan.corrections import read_corrections

    return read_corrections(text, file=FILE)


def told_of(fault: SheetError) -> str:
    """Return the faults of a corrections file in one line.

    Parameters
    ----------
    fault : SheetError
    """
    shown = [
        say("upload.corrections.fault", line=each.line, what=each.key, text=each.text)
        for each in fault.faults[:_SHOWN]
    ]
    more = len(fault.faults) - len(shown)
    if more:
        shown.append(say("upload.corrections.more", number=more))
    return "; ".join(shown)


def said_lost(lost: "Corrections") -> tuple[str, ...]:
    """Return what each correction says that found no part.

    Parameters
    ----------
    lost : tuple of (Correction or Group)
    """
    return tuple(_said(one) for one in lost)


def _said(one: "Correction | Group") -> str:
    from pourcast.scan.model import Correction

    name = one.name or ""
    if isinstance(one, Correction):
        at = ", ".join(f"{1e3 * place:.1f}" for place in one.at)
        return say("taken.lost.part", at=at, name=name).strip()
    return say("taken.lost.group", name=name).strip()
