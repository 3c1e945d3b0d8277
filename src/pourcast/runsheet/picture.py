"""Picture: a drawing of another stage made fit for black ink on white paper.

A drawing of the page takes its colours from the look of the page.  Here the rules
of that look which the drawing uses are written into it, with every colour turned
to black, white or one grey, and every letter to one size and one face, so that it
stands alone.
"""

import re
from collections.abc import Mapping

from pourcast.errors import InputError

FACE = "Libertinus Serif"
"""Face of the sheet; it comes with the program that sets it."""

LETTERS = 20
"""Size of the letters in a drawing, in its own units."""

ROOM = 1.06
"""By which the frame is widened for them."""

PAPER: Mapping[str, str] = {
    "paper": "#ffffff",
    "sand": "#e4e4e4",
    "mouth": "#ffffff",
    "rule": "#bbbbbb",
    "pencil": "#777777",
    **dict.fromkeys(("soft", "ink", "ember", "c1", "c2", "c3", "c4", "c5"), "#000000"),
    "serif": FACE,
}
"""Names of the look of the page, and what stands for them on paper."""

_NOTE = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"([^{}@]+)\{([^{}]*)\}")
_BLOCK = re.compile(r"@[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}")
_NAME = re.compile(r"var\(--([\w-]+)\)")
_LINK = re.compile(r"""(?:href\s*=\s*["']|url\(\s*["']?)(?!#)""")


def self_contained(svg: str, look: str) -> str:
    """Return a drawing with its look in it.

    Parameters
    ----------
    svg : str
        One ``svg`` element.
    look : str
        Rules of the page (CSS) in which its classes are described.

    Returns
    -------
    str

    Raises
    ------
    InputError
        If it is no drawing, or draws on something outside itself.
    """
    if not svg.lstrip().startswith("<svg"):
        raise InputError("picture", svg[:20], "", "one svg element")
    if _LINK.search(svg):
        raise InputError("picture", "with a link", "", "a drawing that stands alone")
    used = set(" ".join(re.findall(r'class="([^"]*)"', svg)).split())
    kept = [
        f"{', '.join(selectors)}{{{_inked(body)}}}"
        for heads, body in _RULE.findall(_BLOCK.sub("", _NOTE.sub("", look)))
        if (selectors := [head for head in map(str.strip, heads.split(",")) if _fits(head, used)])
    ]
    opened, _, rest = svg.partition(">")
    if "xmlns=" not in opened:
        opened = opened.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
    opened = re.sub(r'viewBox="([^"]*)"', lambda box: f'viewBox="{_widened(box[1])}"', opened)
    return f"{opened}><style>{''.join(kept)}</style>{rest}"


def _widened(box: str) -> str:
    """Return the frame of a drawing with room on its right for letters larger than its own."""
    left, top, wide, high = box.split()
    return f"{left} {top} {float(wide) * ROOM:g} {high}"


def _fits(selector: str, used: set[str]) -> bool:
    """Return whether a rule is about classes of the drawing and nothing that a page alone has."""
    classes = set(re.findall(r"\.([\w-]+)", selector))
    return bool(classes) and classes <= used and ":" not in selector


def _inked(body: str) -> str:
    """Return the inside of a rule with the colours and letters of paper."""
    body = _NAME.sub(lambda name: PAPER.get(name[1], "#000000"), body)
    body = re.sub(r"font-size:[^;}]*", f"font-size:{LETTERS}px", body)
    return re.sub(r"#(?!fff|e4|bbb|777|000)[0-9A-Fa-f]{3,6}", "#000000", body)
