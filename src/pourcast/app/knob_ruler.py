"""Ruler of a knob: where its value stands, where it stood, and what is usual."""

from markupsafe import Markup

from pourcast.app.knob import Knob
from pourcast.app.words import say
from pourcast.page.figures import number

_LEFT, _LONG = 8.0, 404.0
_TICKS = 20
_CLOSE = 46.0  # two figures nearer than this would run into each other


def ruler(knob: Knob, was: Knob | None) -> Markup:
    """Return a ruler: pale band what is usual, full mark now, hollow ring before.

    Parameters
    ----------
    knob : Knob
    was : Knob or None
        In the kept plan; None: it has not moved.

    Returns
    -------
    Markup
        Empty for a knob of words; hidden from readers, since the field says it all.
    """
    if knob.choices:
        return Markup("")
    values = [each.value for each in (knob, was) if each is not None and each.value is not None]
    low, high = min(knob.low, *values, knob.high), max(knob.high, *values, knob.low)

    def at(value: float) -> float:
        return _LEFT + _LONG * (value - low) / (high - low)

    band = ""
    marks = [low, high]
    if knob.band is not None:
        start, stop = (min(max(end, low), high) for end in knob.band)
        band = (
            f'<rect class="band" x="{at(start):.1f}" y="4" '
            f'width="{at(stop) - at(start):.1f}" height="8"/>'
        )
        marks = [start, stop]
    ticks = "".join(f"M{_LEFT + _LONG * k / _TICKS:.1f},12v5" for k in range(_TICKS + 1))
    drawn = [band, f'<path d="M{_LEFT},12H{_LEFT + _LONG}{ticks}"/>']
    taken: list[float] = []
    if was is not None and was.value is not None:
        x = at(was.value)
        if knob.value is not None:
            drawn.append(f'<path class="span" d="M{x:.1f},12H{at(knob.value):.1f}"/>')
        drawn.append(f'<circle class="old" cx="{x:.1f}" cy="12" r="6"/>')
        drawn.append(_text(x, say("piece.was", was=number(was.value, 4)), "was-t"))
        taken.append(x)
    drawn += [_text(at(mark), number(mark, 4)) for mark in marks if _is_free(at(mark), taken)]
    if knob.value is not None:
        x = at(knob.value)
        look = "now ch" if was is not None else "now"
        drawn.append(f'<path class="{look}" d="M{x - 7:.1f},-1h14l-7,13Z"/>')
    return Markup(
        f'<svg class="rule-s" viewBox="0 0 420 38" aria-hidden="true">{"".join(drawn)}</svg>'
    )


def _is_free(x: float, taken: list[float]) -> bool:
    return all(abs(x - other) > 1.6 * _CLOSE for other in taken)


def _text(x: float, text: str, look: str = "") -> str:
    side = "start" if x < 24.0 else "end" if x > 396.0 else "middle"
    named = f' class="{look}"' if look else ""
    return f'<text{named} x="{x:.1f}" y="34" text-anchor="{side}">{text}</text>'
