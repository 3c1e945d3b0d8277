"""Cross: how wide and how thick is a part, from one view or two?

In one view a rod and a lump are taken for round.  In two, a part that is much
wider in one than in the other is flat, a lump has two widths, and a rod that
reads wider in one view has something beside it there.  Of a leaf the width is
seen and the thickness is not: it is what the caster measured, or the usual.

One standard deviation of a section is that of the outline and of the scale, and
3 % because no stem is a cone (estimate); of a leaf also that of its thickness,
whose range is taken for nine of ten.
"""

import math
from dataclasses import dataclass

from pourcast import units as si
from pourcast.photo.model import Asked, Section, Stick, View
from pourcast.piece.model import NINE_OF_TEN, Shape

_REAL = 0.03  # see above
_UNLIKE = 1.6  # one width over the other in two views: the part is flat; estimate
_ROUND = 1.15  # within this a lump is round; estimate
_TEN = 2.0 * NINE_OF_TEN  # standard deviations between which nine of ten lie
_MOST = 0.5  # more says no more


@dataclass(frozen=True, slots=True, kw_only=True)
class Cross:
    """Shape, width and thickness of a part, and how far they may be off.

    Parameters
    ----------
    shape : {"rod", "blade", "lump"}
    width, thickness : pair of float [m]
    error : float [-]
        One standard deviation, over them.
    """

    shape: Shape
    width: tuple[si.Metre, si.Metre]
    thickness: tuple[si.Metre, si.Metre]
    error: si.Ratio


def cross_of(
    first: View, second: View | None, stick: Stick, other: Stick | None, k: int, asked: Asked
) -> Cross:
    """Return how wide and how thick a part is.

    Parameters
    ----------
    first : View
    second : View or None
    stick : Stick
        Of the first view.
    other : Stick or None
        The same in the second.
    k : int
        Which section of the stick.
    asked : Asked

    Returns
    -------
    Cross
    """
    section = stick.sections[k]
    size = first.scale.size
    shape, wide = section.shape, _metres(section, size)
    thick = wide
    error = section.error * size / max(min(wide), size)
    if second is not None and other is not None and len(other.sections) == len(stick.sections):
        beside = other.sections[k]
        also = _metres(beside, second.scale.size)
        one, two = sum(wide), sum(also)
        if shape == "lump":
            wide, thick = max(wide, also), min(wide, also)
            if max(one, two) < _ROUND * min(one, two):
                wide = thick = _mean(wide, thick)
        elif max(one, two) > _UNLIKE * min(one, two) or "blade" in (shape, beside.shape):
            shape, wide = "blade", max(wide, also)
        else:
            wide = thick = _mean(wide, also) if abs(one / two - 1) < 0.1 else min(wide, also)
    error = math.hypot(math.hypot(_REAL, error), first.scale.error)
    if shape == "blade":
        thick = (asked.leaf.value, asked.leaf.value)
        error = math.hypot(error, math.log(asked.leaf.high / asked.leaf.low) / _TEN)
    return Cross(shape=shape, width=wide, thickness=thick, error=min(error, _MOST))


def _metres(section: Section, size: si.Metre) -> tuple[si.Metre, si.Metre]:
    return section.width[0] * size, section.width[1] * size


def _mean(
    one: tuple[si.Metre, si.Metre], two: tuple[si.Metre, si.Metre]
) -> tuple[si.Metre, si.Metre]:
    return 0.5 * (one[0] + two[0]), 0.5 * (one[1] + two[1])
