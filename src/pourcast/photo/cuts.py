"""Cuts: where does a part end that two pictures cut at different places?

What stands before a stick makes it look wider there, never narrower.  So of two pictures
that show a stick the one with fewer parts along it is right, and its cuts are carried over
to the other, by the line in space.
"""

from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.photo.bench import in_picture, on_bench
from pourcast.photo.lines import NOT_ONE, by_line, place_at
from pourcast.photo.model import Section, Stick, View
from pourcast.photo.space import flat_places

_FORESHORTENED = 0.5  # of its length in the other: what looks shorter is not asked; estimate
_PLACES = 201


def with_fewer_cuts(
    view: View,
    stick: Stick,
    turn: si.Radian,
    other: tuple[View, Stick, si.Radian],
    camera: si.Metre | None,
) -> Stick:
    """Return a stick with the sections of another view, if that shows fewer.

    Parameters
    ----------
    view : View
    stick : Stick
    turn : float [rad]
        Of the view.
    other : View, Stick and float [rad]
        The same stick in another view, and the turn of that.
    camera : float or None [m]

    Returns
    -------
    Stick
    """
    second, there, towards = other
    long, short = (s.along[-1] * v.scale.size for s, v in ((stick, view), (there, second)))
    fewer = 0 < len(there.sections) < len(stick.sections)
    if not fewer or there.joined >= 0 or short < _FORESHORTENED * long:
        return stick
    if (there.sections[0].shape == "lump") != (stick.sections[0].shape == "lump"):
        return stick
    depth = by_line(view, stick, turn, [other], None, camera, -1)
    if depth.off > NOT_ONE:
        return stick
    share = np.linspace(0.0, 1.0, _PLACES)
    flat = flat_places(view, stick, share * float(stick.along[-1]))
    bench = on_bench(view, flat, depth.along(share), turn, camera)
    laid = in_picture(second, bench, towards, camera)
    larger = second.scale.size / view.scale.size

    def carried(along: float) -> float:
        off = laid - place_at(there, along)
        return float(share[int(np.hypot(*off.T).argmin())] * stick.along[-1])

    made: list[Section] = []
    for section in there.sections:
        wide = section.width[0] * larger, section.width[1] * larger
        start = made[-1].end if made else stick.sections[0].start
        end = carried(section.end)
        if section is there.sections[-1]:
            end = stick.sections[-1].end
        if end <= start:
            return stick
        made.append(replace(section, start=start, end=end, width=wide))
    return replace(stick, sections=tuple(made))
