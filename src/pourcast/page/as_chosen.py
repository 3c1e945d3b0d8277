"""As chosen: what is told in millimetres and with a point, as the caster wants to read it.

Every stage tells lengths in mm, a number and its unit with a space between them (see
`pourcast.page.figures`), and writes a decimal point.  Here such a text is turned into
inches, or given a decimal comma, in one place for page, terminal and paper.  Of a page
only the text that a person reads is turned, never a form's box, a script or a drawing's
coordinates, and never a name that the caster gave.

Left alone: mm² and mm³, and the sizes of sections in words ("half a millimetre").
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

from pourcast import units as si

_NUMBER = r"[-−]?\d+(?:\.\d+)?"
_BETWEEN = r"(?:\s*(?:to|and|or|by|x|×|–|,|±)\s*)"
_LENGTHS = re.compile(
    rf"(?<![\w.,:])({_NUMBER}(?:{_BETWEEN}{_NUMBER})*)([ \u00a0])mm(?![\w²³/])", re.UNICODE
)
_POINT = re.compile(r"(?<![\w.,:/])([-−]?\d+)\.(\d+)(?![\w]*\.\d|\w*:\d)")
_PIECES = re.compile(
    r"(<!--.*?-->|<(script|style|textarea|title)\b.*?</\2>|<[^>]*>)", re.DOTALL | re.IGNORECASE
)
_SPOKEN = re.compile(r"\b(aria-label|title|alt)=\"([^\"]*)\"")
_FIGURES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """How figures are read.

    Parameters
    ----------
    lengths : {"mm", "in"}
    decimal : {"point", "comma"}
    """

    lengths: Literal["mm", "in"] = "mm"
    decimal: Literal["point", "comma"] = "point"

    @property
    def is_usual(self) -> bool:
        """Whether every text stays as it is."""
        return self.lengths == "mm" and self.decimal == "point"


def text_as_chosen(text: str, chosen: Chosen, own: Iterable[str] = ()) -> str:
    """Return a text with its lengths and figures as chosen.

    Parameters
    ----------
    text : str
    chosen : Chosen
    own : iterable of str
        Names that the caster gave; they stay as they are.

    Examples
    --------
    >>> inches = Chosen(lengths="in", decimal="comma")
    >>> text_as_chosen("0.7 to 12 mm at 0.85 bar", inches)
    '0,0276 to 0,472 in at 0,85 bar'
    """
    if chosen.is_usual:
        return text
    names = sorted({name for name in own if any(map(str.isdigit, name))}, key=len, reverse=True)
    if not names:
        return _turned(text, chosen)
    pieces = re.split("(" + "|".join(map(re.escape, names)) + ")", text)
    return "".join(piece if at % 2 else _turned(piece, chosen) for at, piece in enumerate(pieces))


def page_as_chosen(page: str, chosen: Chosen, own: Iterable[str] = ()) -> str:
    """Return a page, or a part of one, with what a person reads as chosen.

    Parameters
    ----------
    page : str
        HTML or SVG.
    chosen : Chosen
    own : iterable of str
    """
    if chosen.is_usual:
        return page
    names = tuple(own)

    def told(text: str) -> str:
        return text_as_chosen(text.replace("&nbsp;", "\u00a0"), chosen, names)

    out = []
    end = 0
    for found in _PIECES.finditer(page):
        out.append(told(page[end : found.start()]))
        out.append(_SPOKEN.sub(lambda said: f'{said[1]}="{told(said[2])}"', found[0]))
        end = found.end()
    out.append(told(page[end:]))
    return "".join(out)


def tree_as_chosen(tree: Any, chosen: Chosen, own: Iterable[str] = ()) -> Any:
    """Return plain values with every text in them as chosen.

    Parameters
    ----------
    tree : str, list, dict or other
    chosen : Chosen
    own : iterable of str
    """
    names = tuple(own)
    if isinstance(tree, str):
        return text_as_chosen(tree, chosen, names)
    if isinstance(tree, list | tuple):
        return [tree_as_chosen(each, chosen, names) for each in tree]
    if isinstance(tree, dict):
        return {key: tree_as_chosen(each, chosen, names) for key, each in tree.items()}
    return tree


def _turned(text: str, chosen: Chosen) -> str:
    if chosen.lengths == "in":
        text = _LENGTHS.sub(_in_inches, text)
    if chosen.decimal == "comma":
        text = _POINT.sub(r"\1,\2", text)
    return text


def _in_inches(found: re.Match[str]) -> str:
    return re.sub(_NUMBER, _inches, found[1]) + found[2] + "in"


def _inches(number: re.Match[str]) -> str:
    """Return a number of mm as inches; three figures, as many as a caliper gives."""
    millimetres = number[0]
    length = si.to_si(float(millimetres.replace("−", "-")), "mm")
    inches = f"{si.from_si(length, 'in'):.{_FIGURES}g}"
    return inches.replace("-", "−") if "−" in millimetres else inches
