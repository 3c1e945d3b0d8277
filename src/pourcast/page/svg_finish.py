"""Picture of what each part bears: a straight mark holds, a bent one bends."""

from markupsafe import Markup, escape

from pourcast.finish.model import FinishResult
from pourcast.page.figures import clean
from pourcast.page.words_finish import TOOLS, in_words

MOST_ROWS = 12
"""Parts in the picture; the weakest are kept."""

_LEFT = 150.0
_STEP = 34.0
_TOP = 58.0


def what_it_bears(finish: FinishResult) -> Markup:
    """Return parts down and tools across, with a mark for each pair.

    Parameters
    ----------
    finish : FinishResult
    """
    numbered = list(enumerate(finish.parts, start=1))
    weakest = sorted(numbered, key=lambda row: len(row[1].allowed))[:MOST_ROWS]
    kept = sorted(weakest, key=lambda row: row[0])
    wide = (400.0 - _LEFT) / len(TOOLS)
    heads = "".join(
        f'<text class="t2" x="{_LEFT + (k + 0.5) * wide:.1f}" y="{18 + 17 * line}" '
        f'text-anchor="middle">{word}</text>'
        for k, name in enumerate(TOOLS.values())
        for line, word in enumerate(name.split())
    )
    rows, spoken = [], []
    for row, (number, part) in enumerate(kept):
        y = _TOP + _STEP * row
        name = clean(part.name)
        shown = name if len(name) <= 16 else name[:15] + "…"
        rows.append(f'<text x="8" y="{y + 19:.0f}">{escape(f"{number} {shown}")}</text>')
        said = []
        for k, act in enumerate(TOOLS):
            x = _LEFT + (k + 0.5) * wide
            bears = act in part.allowed
            rows.append(_straight(x, y) if bears else _bent(x, y))
            said.append(f"{TOOLS[act]} {in_words(part, act)}")
        spoken.append(f"{name}: {', '.join(said)}")
    foot = _TOP + _STEP * len(kept) + 14.0
    key = (
        f'{_straight(_LEFT + 6, foot - 4, 0.7)}<text class="t2" x="{_LEFT + 16}" y="{foot + 14}">'
        f'holds</text>{_bent(_LEFT + 92, foot - 4, 0.7)}<text class="te" x="{_LEFT + 112}" '
        f'y="{foot + 14}">bends</text>'
    )
    label = escape("What each part bears. " + "; ".join(spoken))
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {foot + 26:.0f}" role="img" aria-label="{label}">'
        f"{heads}{''.join(rows)}{key}</svg>"
    )


def _straight(x: float, y: float, size: float = 1.0) -> str:
    return f'<path class="l1" d="M{x:.1f},{y + 2:.1f}v{22 * size:.1f}"/>'


def _bent(x: float, y: float, size: float = 1.0) -> str:
    return (
        f'<path class="eml" d="M{x:.1f},{y + 2 + 22 * size:.1f}c0,{-16 * size:.1f} '
        f'{4 * size:.1f},{-20 * size:.1f} {14 * size:.1f},{-20 * size:.1f}"/>'
    )
