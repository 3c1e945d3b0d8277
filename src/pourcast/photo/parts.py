"""Parts: from the sticks of one view or more to the parts of a piece file."""

from collections.abc import Mapping, Sequence

from pourcast.photo.both import of_two
from pourcast.photo.model import Asked, PhotoPart, View
from pourcast.photo.work import Told, Work, take


def parts(
    views: Sequence[View], asked: Asked
) -> tuple[tuple[PhotoPart, ...], Mapping[int, str], tuple[View, ...]]:
    """Return the parts of the original and, by part, what the caster should look at.

    Parameters
    ----------
    views : sequence of View
        One, two or three.
    asked : Asked

    Returns
    -------
    tuple of PhotoPart
    dict of int to str
    tuple of View
        With the sections that the parts are made of.
    """
    work = Work(asked=asked)
    if len(views) == 1:
        for index in range(len(views[0].sticks)):
            take(work, views, 0, index, Told())
    else:
        views = of_two(work, views)
    return tuple(each.part for each in work.made), work.notes, tuple(views)
