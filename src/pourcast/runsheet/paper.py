"""Paper: the run sheet as a PDF, A4 or letter.

It is set by typst from `sheet.typ`.  All that a caster wrote reaches it as data and
is printed as text, whatever signs are in it.  Only the faces inside the typst
wheel are used, so that the sheet is the same on every machine; a sign that none of
them has is printed as `LACKING` and told.

The reading of `sheet.typ` is the one file that this stage opens; it is data of its own
package.
"""

import functools
import importlib.resources
import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from pourcast.errors import PourcastError
from pourcast.runsheet.figures import degrees
from pourcast.runsheet.model import LAST_WORD, MARKS, MARKS_TOLD, TITLES, Act, Block, RunSheet
from pourcast.runsheet.text import (
    care_told,
    headline,
    mass_told,
    moment_of,
    notes_told,
    origin,
    parts_told,
    stops_told,
    when_told,
)

Size = Literal["a4", "letter"]

LACKING = "\ufffd"
"""Stands for a sign that no face has."""

LONGEST_NAME = 48
"""Signs of the piece's name at the foot of a page; the whole name stands on top."""

_SIZES: dict[Size, str] = {"a4": "a4", "letter": "us-letter"}
_PROBE = b"#let d = json(bytes(sys.inputs.d))\n#set document(title: [probe])\n" + (
    b'#set text(font: ("Libertinus Serif", "DejaVu Sans Mono"))\n#for it in d [#it.at(0) \\ ]\n'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A run sheet on paper.

    Parameters
    ----------
    pdf : bytes
    replaced : tuple of str
        Signs that no face has, in the order of the alphabet.
    """

    pdf: bytes
    replaced: tuple[str, ...]


def _as_told(tree: Any) -> Any:
    return tree


def printed(
    sheet: RunSheet,
    *,
    paper: Size = "a4",
    picture: str | None = None,
    told: Callable[[Any], Any] = _as_told,
) -> Printed:
    """Return the run sheet as a PDF.

    Parameters
    ----------
    sheet : RunSheet
    paper : {"a4", "letter"}
    picture : str or None
        The piece in its flask as SVG; see `pourcast.runsheet.picture`.
    told : callable
        Turns the texts of the sheet, given as plain values, into the caster's own units.

    Returns
    -------
    Printed

    Raises
    ------
    PourcastError
        If the sheet cannot be set.
    """
    pages, replaced = _set(told(_data(sheet, picture is not None)), paper, picture, "pdf")
    assert isinstance(pages, bytes)
    return Printed(pdf=pages, replaced=replaced)


def pictures(
    sheet: RunSheet, *, paper: Size = "a4", picture: str | None = None
) -> tuple[bytes, ...]:
    """Return the pages of the run sheet as pictures (PNG).

    Parameters
    ----------
    sheet : RunSheet
    paper : {"a4", "letter"}
    picture : str or None
    """
    pages, _ = _set(_data(sheet, picture is not None), paper, picture, "png")
    return (pages,) if isinstance(pages, bytes) else tuple(pages)


def _set(
    data: dict[str, Any], paper: Size, picture: str | None, form: Literal["pdf", "png"]
) -> tuple[bytes | list[bytes], tuple[str, ...]]:
    import typst

    text = json.dumps(data, ensure_ascii=False)
    lacking = _lacking(text)
    for sign in lacking:
        text = text.replace(sign, LACKING)
    try:
        made = typst.compile(
            _template(),
            format=form,
            ppi=110.0 if form == "png" else None,
            ignore_system_fonts=True,
            sys_inputs={"data": text, "picture": picture or "", "paper": _SIZES[paper]},
        )
    except typst.TypstError as fault:
        raise PourcastError(f"the run sheet could not be set: {fault}") from None
    assert made is not None
    return made, lacking


def _lacking(text: str) -> tuple[str, ...]:
    """Return the signs of a text that no face has, each once."""
    asked = sorted({sign for sign in text if not sign.isascii()})
    if _is_printable(asked):
        return ()
    return tuple(sign for sign in asked if not _is_printable([sign]))


def _is_printable(signs: Iterable[str]) -> bool:
    """Return whether every sign has a picture in one of the faces.

    A PDF for screen readers may hold no sign without one, so that to ask for such a
    PDF is to ask whether all signs are there.
    """
    import typst

    try:
        typst.compile(
            _PROBE,
            ignore_system_fonts=True,
            pdf_standards=["ua-1"],
            sys_inputs={"d": json.dumps([[sign] for sign in signs])},
        )
    except typst.TypstError:
        return False
    return True


@functools.cache
def _template() -> bytes:
    return importlib.resources.files("pourcast.runsheet").joinpath("sheet.typ").read_bytes()


def _data(sheet: RunSheet, has_picture: bool) -> dict[str, Any]:
    """Return what the sheet says, as plain values for `sheet.typ`."""
    short = sheet.name if len(sheet.name) <= LONGEST_NAME else f"{sheet.name[:LONGEST_NAME]}…"
    return {
        "name": sheet.name,
        "short": short,
        "invented": sheet.invented,
        "headline": headline(sheet),
        "marks": MARKS_TOLD,
        "last_word": LAST_WORD,
        "stops": stops_told(sheet),
        "notes": notes_told(sheet),
        "weights": [
            {"what": weight.what, "mass": mass_told(weight), "weighed": weight.weighed}
            for weight in sheet.weights
        ],
        "blocks": [
            _block(sheet, block, told)
            for block, told in zip(sheet.blocks, care_told(sheet), strict=True)
        ],
        "parts": parts_told(sheet)[0],
        "parts_left": parts_told(sheet)[1],
        "origin": origin(sheet),
        "picture": has_picture,
    }


def _block(sheet: RunSheet, block: Block, care: list[str]) -> dict[str, Any]:
    acts = [act for act in sheet.acts if act.stage == block.stage]
    return {
        "title": TITLES[block.stage],
        "ready": list(block.ready),
        "care": care,
        "notes": list(block.notes),
        "acts": [_act(sheet, act) for act in acts],
    }


def _act(sheet: RunSheet, act: Act) -> dict[str, Any]:
    moment = moment_of(sheet, act.at)
    return {
        "day": moment.day,
        "time": moment.time,
        "mark": "" if act.kind is None else f"({MARKS[act.kind]})",
        "what": act.what,
        "spread": when_told(sheet, act),
        "why": act.why,
        "dial": "" if act.setting is None else f"{act.setting:.3g}",
        "gauge": "" if act.gauge is None else degrees(act.gauge, sheet.speech),
        "readings": [
            {"what": reading.what, "unit": reading.unit, "choices": list(reading.choices)}
            for reading in act.readings
        ],
    }
