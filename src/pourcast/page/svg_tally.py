"""How a hundred pours end, as a hundred small spines.

Each spine is one pour.  Full and dark: whole.  Cut off, its tip a ghost: up to
three short tips.  A stump: parts short.  An empty outline: lost.  The shape says
it before the colour does.
"""

from markupsafe import Markup

from pourcast.page.figures import Hundred, counts
from pourcast.page.names import OUTCOMES

_IN_ROW, _IN_TEN = 50, 10
_STEP, _GAP = 12, 6  # from spine to spine, and more after each ten
_HIGH, _BETWEEN = 44, 16  # a spine, and from row to row
_WIDE = 8  # foot of a spine

_CLASSES = ("whole", "tips", "parts", "lost")


def tally(pours: Hundred) -> Markup:
    """Return the picture of a hundred pours as SVG.

    Parameters
    ----------
    pours : Hundred

    Returns
    -------
    Markup
        One group of class "spine" for each pour.
    """
    kinds = [kind for kind, count in enumerate(counts(pours)) for _ in range(count)]
    spines = "".join(_spine(place, kind) for place, kind in enumerate(kinds))
    width = _IN_ROW * _STEP + (_IN_ROW // _IN_TEN - 1) * _GAP
    rows = -(-len(kinds) // _IN_ROW)
    feet = "".join(
        f'<line x1="0" x2="{width}" y1="{foot}" y2="{foot}"/>'
        for foot in (row * (_HIGH + _BETWEEN) + _HIGH + 1.5 for row in range(rows))
    )
    name = ", ".join(f"{count} {word}" for count, word in zip(counts(pours), OUTCOMES, strict=True))
    high = rows * (_HIGH + _BETWEEN) - _BETWEEN + 4
    return Markup(
        f'<svg class="tally" viewBox="0 0 {width} {high}" role="img" '
        f'aria-label="Of 100 pours: {name}">{spines}{feet}</svg>'
    )


def _spine(place: int, kind: int) -> str:
    row, column = divmod(place, _IN_ROW)
    left = column * _STEP + 2 + column // _IN_TEN * _GAP
    top = row * (_HIGH + _BETWEEN)
    foot, tip, right = top + _HIGH, left + _WIDE / 2, left + _WIDE
    ghost = f'<path class="ghost" d="M{left},{foot}L{tip:g},{top}L{right},{foot}"/>'
    shape = (
        f"M{left},{foot}L{tip - 0.6:g},{top}h1.2L{right},{foot}Z",
        _cut(left, top, 15),
        _cut(left, top, 29),
        f"M{left},{foot}L{tip:g},{top}L{right},{foot}Z",
    )[kind]
    drawn = f'<path class="{_CLASSES[kind]}" d="{shape}"/>'
    return f'<g class="spine">{ghost if kind in (1, 2) else ""}{drawn}</g>'


def _cut(left: int, top: int, lost: int) -> str:
    # The sides keep the slope of the whole spine.
    across = _WIDE * lost / _HIGH
    start = left + (_WIDE - across) / 2
    foot = top + _HIGH
    return f"M{left},{foot}L{start:.1f},{top + lost}h{across:.1f}L{left + _WIDE},{foot}Z"
