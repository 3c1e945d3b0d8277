"""Reliability picture: how often it came, against how often it was said to.

A point on the slanting line came as often as it said.  The stroke through a
point is the 80 % interval of its share; the larger the point, the more
forecasts stand behind it.
"""

import math

from markupsafe import Markup, escape

from pourcast.app.words import say
from pourcast.book.scores import Scores

_SIDE = 300.0  # of the square, in the units of the sheet
_LEFT, _TOP = 54.0, 12.0
_LEAST, _MOST = 4.0, 11.0  # radius of a point


def reliability(scores: Scores) -> Markup:
    """Return the picture of the classes of some scores.

    Parameters
    ----------
    scores : Scores
    """
    most = max(each.forecasts for each in scores.classes)
    points = []
    for each in scores.classes:
        x, y = _x(each.mean_chance), _y(each.share_came)
        size = _LEAST + (_MOST - _LEAST) * math.sqrt(each.forecasts / most)
        points.append(
            f'<path class="l1" d="M{x:.1f},{_y(each.share_low):.1f}V{_y(each.share_high):.1f}"/>'
            f'<circle class="hol" cx="{x:.1f}" cy="{y:.1f}" r="{size:.1f}"/>'
        )
    lines = "".join(
        f'<path class="gr" d="M{_x(k / 4):.1f},{_y(0):.1f}V{_y(1):.1f}'
        f'M{_x(0):.1f},{_y(k / 4):.1f}H{_x(1):.1f}"/>'
        f'<text class="t2" x="{_x(k / 4):.1f}" y="{_y(0) + 18:.1f}" text-anchor="middle">'
        f"{25 * k}</text>"
        f'<text class="t2" x="{_LEFT - 8:.1f}" y="{_y(k / 4) + 5:.1f}" text-anchor="end">'
        f"{25 * k}</text>"
        for k in range(5)
    )
    name = escape(say("book.picture", classes=len(scores.classes)))
    return Markup(
        f'<svg class="pic reliability" viewBox="0 0 {_LEFT + _SIDE + 16:g} {_TOP + _SIDE + 46:g}" '
        f'role="img" aria-label="{name}">{lines}'
        f'<path class="eml dash" d="M{_x(0):.1f},{_y(0):.1f}L{_x(1):.1f},{_y(1):.1f}"/>'
        f'<text class="te" x="{_x(0.05):.1f}" y="{_y(0.93):.1f}">'
        f"{escape(say('book.even'))}</text>{''.join(points)}"
        f'<text x="{_x(0.5):.1f}" y="{_y(0) + 38:.1f}" text-anchor="middle">'
        f"{escape(say('book.axis.chance'))}</text>"
        f'<text transform="translate(14,{_y(0.5):.1f}) rotate(-90)" text-anchor="middle">'
        f"{escape(say('book.axis.came'))}</text></svg>"
    )


def _x(share: float) -> float:
    return _LEFT + share * _SIDE


def _y(share: float) -> float:
    return _TOP + (1.0 - share) * _SIDE
