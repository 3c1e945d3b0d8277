"""Moved: what a turned knob changed, as figures with what they were."""

import math
import re

from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.app.words import say
from pourcast.forecast.model import Forecast
from pourcast.page.figures import hundred, in_100
from pourcast.page.words_burn import span

_FIGURE = re.compile(r"over 99|under 1(?!\d)|[−-]?\d+(?:\.\d+)?(?::\d\d)?")
_SAME_TIME = 150.0  # s; times are told to 5 min, and less would be told as none


def with_was(now: str, was: str) -> Markup:
    """Return a sentence in which each figure that moved has behind it what it was.

    Where the words differ as well, the whole old sentence stands behind the new.

    Examples
    --------
    >>> str(with_was("Melt 80 g.", "Melt 75 g."))
    'Melt 80 <span class="was">was 75</span> g.'
    """
    if now == was:
        return escape(now)
    if _FIGURE.sub("#", now) != _FIGURE.sub("#", was):
        return escape(now) + _was(was, "piece.was_said")
    made, place = Markup(""), 0
    for new, old in zip(_FIGURE.finditer(now), _FIGURE.finditer(was), strict=True):
        made += escape(now[place : new.end()])
        if new.group() != old.group():
            made += _was(old.group())
        place = new.end()
    return made + escape(now[place:])


def was_figure(now: str, was: str) -> Markup:
    """Return what a figure was, to stand behind it; "" where it did not move."""
    return Markup("") if now == was else _was(was)


def _was(text: str, key: str = "piece.was") -> Markup:
    return Markup(' <span class="{}">{}</span>').format(
        "was" if key == "piece.was" else "was said", say(key, was=text)
    )


def noise(now: Forecast, was: Forecast) -> si.Ratio:
    """Return the standard error of the difference of two chances [-].

    That of draws of their own: √(p(1-p)/n + q(1-q)/n).  Both plans are poured with
    the same draws, so the true error is smaller where the two go together.
    """
    shares = (now.chance_all, was.chance_all)
    return math.sqrt(sum(share * (1.0 - share) for share in shares) / now.draws)


def whole_told(now: Forecast, was: Forecast) -> str:
    """Return how the count of whole pieces moved, and whether that is beyond the noise."""
    new, old = hundred(now.outcomes).whole, hundred(was.outcomes).whole
    if new == old:
        return say("piece.moved.same", whole=new)
    error = noise(now, was)
    if abs(now.chance_all - was.chance_all) <= error:
        return say("piece.moved.noise", was=old, now=new, error=max(in_100(error), "1"))
    return say("piece.moved.whole", was=old, now=new)


def time_told(now: Forecast, was: Forecast) -> str:
    """Return what the change costs in time: the burnout, and the quench window."""
    told = []
    if now.burnout is not None and was.burnout is not None:
        later = float(now.burnout.curve.time[-1] - was.burnout.curve.time[-1])
        told.append(_later(later, "piece.moved.pour"))
    opens = _opens(now), _opens(was)
    if opens[0] is not None and opens[1] is not None:
        later = opens[0] - opens[1]
        if abs(later) >= _SAME_TIME:
            told.append(_later(later, "piece.moved.quench"))
    if not told:
        return ""
    joined = "; ".join(told)
    return joined[0].upper() + joined[1:] + "."


def _later(later: si.Second, key: str) -> str:
    if abs(later) < _SAME_TIME:
        return say(f"{key}.same")
    return say(f"{key}.later" if later > 0.0 else f"{key}.sooner", by=span(abs(later)))


def _opens(forecast: Forecast) -> si.Second | None:
    return None if forecast.freeze is None else forecast.freeze.quench_from.p50
