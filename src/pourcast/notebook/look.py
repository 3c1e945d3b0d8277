"""Look: the style of the page, cut down to what stands in a notebook.

A notebook has a look of its own, so nothing here may reach beyond the piece of HTML it
comes with: of the page's style only the rules of its pictures are kept, and each counts
inside an element of the class ``pourcast`` only.  Names that a page has once (``id``)
would come twice where two results stand in one notebook; each gets an ending of its own.
"""

import functools
import hashlib
import re

from pourcast.page.render import style

_RULE = re.compile(r"([^{}@]+)\{([^{}]*)\}")
_KEPT = re.compile(r"^\.(tally|plate|c\d|seg|leader|spot|lens|dim|legend|pic|h\d)\b")
_COMMENT = re.compile(r"/\*.*?\*/", re.S)
_OWN = """
.pourcast{font-family:var(--serif);color:var(--ink);background:var(--paper);padding:1em;
line-height:1.45;max-width:60em;overflow-x:auto}
.pourcast .two{display:flex;flex-wrap:wrap;gap:1em 2em;align-items:flex-start}
.pourcast .two>*{flex:1 1 18em;min-width:0}
.pourcast .two>:first-child{flex:2 1 28em}
.pourcast .pic,.pourcast .plate{max-width:27em;height:auto}
.pourcast table{border-collapse:collapse;font-size:.95em;margin:.6em 0;color:inherit}
.pourcast th,.pourcast td{text-align:left;padding:.25em .8em .25em 0;background:none;
border-bottom:1px solid var(--rule);vertical-align:baseline}
.pourcast td.n,.pourcast th.n{text-align:right}
.pourcast .soft{color:var(--soft);font-size:.88em}
"""


@functools.cache
def rules() -> str:
    """Return the rules for what is drawn in a notebook."""
    # What stands behind the first @media is for narrow screens and paper.
    wide = _COMMENT.sub("", style()).partition("@media")[0]
    kept = []
    for selectors, body in _RULE.findall(wide):
        names = [name.strip() for name in selectors.split(",")]
        if ":root" in names:
            kept.append(f".pourcast{{{body.strip()}}}")
        inside = [f".pourcast {name}" for name in names if _KEPT.match(name)]
        if inside:
            kept.append(f"{','.join(inside)}{{{body.strip()}}}")
    return "\n".join(kept) + _OWN


def with_own_names(drawn: str) -> str:
    """Return markup whose ids, and what points to them, end in a mark of its own."""
    # As a plain text: Markup would guard the quotation marks of what is put in.
    # What stands in the round glass is a copy, and rules see no farther than its own group.
    drawn = str(drawn).replace('class="piece"', 'class="piece pourcast"')
    mark = hashlib.sha256(drawn.encode()).hexdigest()[:8]
    for name in sorted(set(re.findall(r'\bid="([^"]+)"', drawn)), key=len, reverse=True):
        drawn = drawn.replace(f'id="{name}"', f'id="{name}-{mark}"')
        drawn = drawn.replace(f'href="#{name}"', f'href="#{name}-{mark}"')
        drawn = drawn.replace(f"url(#{name})", f"url(#{name}-{mark})")
        drawn = re.sub(
            rf'(aria-labelledby="[^"]*?)\b{re.escape(name)}(?=[ "])', rf"\1{name}-{mark}", drawn
        )
    return drawn


def framed(inside: str) -> str:
    """Return a piece of HTML in its frame, with its style."""
    return f'<div class="pourcast"><style>{rules()}</style>{with_own_names(inside)}</div>'


def picture(drawn: str, *, width: int = 480) -> str:
    """Return a drawing of the page as a picture that stands by itself.

    Parameters
    ----------
    drawn : str
        An ``svg`` element with a viewBox.
    width : int
        In pixels; the height follows from the viewBox.
    """
    found = re.search(r'viewBox="(\S+) (\S+) (\S+) (\S+)"', drawn)
    if found is None:
        raise ValueError("the drawing has no viewBox")
    wide, high = float(found[3]), float(found[4])
    box = f'width="{width}" height="{width * high / wide:.0f}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="pourcast" {box}>'
        f"<style>{rules()}</style>{with_own_names(drawn)}</svg>"
    )
