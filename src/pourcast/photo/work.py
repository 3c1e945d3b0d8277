"""Work: the parts that are made so far, and the making of those of one stick."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from pourcast import units as si
from pourcast.photo.cross import cross_of
from pourcast.photo.grown import Made, grown
from pourcast.photo.model import Asked, Depth, PhotoPart, Section, Stick, View
from pourcast.photo.space import course
from pourcast.piece.model import Shape

_STUB = 0.35  # of its width: a part that is shorter is none; estimate
_WORDS: Mapping[Shape, str] = {"rod": "stalk", "blade": "leaf", "lump": "bud"}


@dataclass(slots=True, kw_only=True)
class Work:
    """What is made so far.

    Parameters
    ----------
    asked : Asked
    made : list of Made
    where : dict of tuple of int to int
        Number of the part, by view, stick and section.
    notes : dict of int to str
        By part: what the caster should look at.
    """

    asked: Asked
    made: list[Made] = field(default_factory=list)
    where: dict[tuple[int, int, int], int] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is known of a stick beside its own picture.

    Parameters
    ----------
    second : View or None
        The other view, where it shows the stick.
    other : Stick or None
        The same stick there.
    depth : Depth or None
    unsure : float [-]
        One standard deviation of its length, over it.
    note : str or None
    parent : int or None
        Part that it grows on; None: as its own picture shows.
    """

    second: View | None = None
    other: Stick | None = None
    depth: Depth | None = None
    unsure: si.Ratio = 0.0
    note: str | None = None
    parent: int | None = None


def take(work: Work, views: Sequence[View], v: int, index: int, told: Told) -> None:
    """Make the parts of one stick.

    Parameters
    ----------
    work : Work
        Parts and where they come from are added.
    views : sequence of View
    v, index : int
        View and stick.
    told : Told
    """
    view, stick, asked = views[v], views[v].sticks[index], work.asked
    for k, section in enumerate(stick.sections):
        parent = parent_of(work, views, v, index, k)
        if k == 0 and told.parent is not None:
            parent = told.parent
        if parent is None:
            continue
        depth = told.depth
        way = course(
            view,
            stick,
            section,
            camera=asked.camera,
            swapped=v == 1,
            depth=depth,
        )
        cross = cross_of(view, told.second, stick, told.other, k, asked)
        made = grown(
            way,
            work.made[parent] if parent >= 0 else None,
            cross,
            name=_name(cross.shape, parent, work.made),
            parent=parent,
            place=(v, index, k),
            view=view,
            twice=told.other is not None,
            known=told.other is not None or depth is not None,
            unsure=told.unsure,
            asked=asked,
        )
        if parent >= 0 and _is_stub(made.part, section):
            work.where[v, index, k] = parent
            continue
        work.where[v, index, k] = len(work.made)
        if told.note is not None:
            work.notes[len(work.made)] = told.note
        work.made.append(made)


def _is_stub(part: PhotoPart, section: Section) -> bool:
    """Tell what is too short to be a part once it is taken from the surface of its parent."""
    return section.shape == "rod" and part.length < _STUB * max(part.width)


def _name(shape: Shape, parent: int, made: Sequence[Made]) -> str:
    if parent < 0:
        return "stem"
    return f"{_WORDS[shape]} {sum(m.part.name.startswith(_WORDS[shape]) for m in made) + 1}"


def parent_of(work: Work, views: Sequence[View], v: int, index: int, k: int) -> int | None:
    """Return the part that a section grows on; None: that one was not read.

    Parameters
    ----------
    work : Work
    views : sequence of View
    v, index, k : int
        View, stick and section.

    Returns
    -------
    int or None
        -1: the button.
    """
    stick = views[v].sticks[index]
    if k > 0:
        return work.where.get((v, index, k - 1))
    if stick.parent < 0:
        return -1
    host = views[v].sticks[stick.parent].sections
    for number, section in enumerate(host):
        if stick.fork < section.end or number == len(host) - 1:
            return work.where.get((v, stick.parent, number))
    return None
