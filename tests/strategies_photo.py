"""Strategies: records of the reader of photographs, drawn within sensible limits."""

import math

import numpy as np
from hypothesis import strategies as st

from pourcast.photo.cross import Cross
from pourcast.photo.fit import Fit
from pourcast.photo.model import (
    Asked,
    Mark,
    PerPixel,
    PhotoPart,
    Reading,
    Scale,
    Section,
    Silhouette,
    Stick,
    Thickness,
    TwoPoints,
    View,
)
from pourcast.photo.skeleton import Branch, Skeleton
from pourcast.photo.space import Course
from pourcast.photo.strokes import Stroke
from tests.strategies import angles, sizes

SIDE = 60  # pixels of a drawn picture


def pixels(low: float = 0.0, high: float = SIDE) -> st.SearchStrategy[float]:
    """Places and widths in pixels, to a tenth."""
    return st.integers(round(10 * low), round(10 * high)).map(lambda tenths: tenths / 10)


def points() -> st.SearchStrategy[tuple[float, float]]:
    """Column and row."""
    return st.tuples(pixels(), pixels())


def pairs(low: float, high: float) -> st.SearchStrategy[tuple[float, float]]:
    """Two sizes in metres."""
    return st.tuples(sizes(low, high), sizes(low, high))


def shares() -> st.SearchStrategy[float]:
    """From 0 to 1, to a hundredth."""
    return st.integers(0, 100).map(lambda percent: percent / 100)


def marks() -> st.SearchStrategy[Mark]:
    """Bars of 10 to 200 mm."""
    return st.builds(Mark, length=sizes(0.01, 0.2))


def two_points() -> st.SearchStrategy[TwoPoints]:
    """Two places and 10 to 200 mm."""
    return st.builds(TwoPoints, first=points(), second=points(), length=sizes(0.01, 0.2))


def per_pixel() -> st.SearchStrategy[PerPixel]:
    """Pixels of 20 to 200 µm."""
    return st.builds(PerPixel, size=sizes(2e-5, 2e-4))


def scales() -> st.SearchStrategy[Scale]:
    """Scales as they are read."""
    ends = st.none() | st.tuples(points(), points())
    return st.builds(Scale, size=sizes(2e-5, 2e-4), error=shares(), mark=ends)


def thicknesses() -> st.SearchStrategy[Thickness]:
    """Leaves of 0.1 to 2 mm."""
    return sizes(1e-4, 2e-3).flatmap(
        lambda size: st.builds(
            Thickness,
            value=st.just(size),
            low=st.just(0.6 * size),
            high=st.just(2.0 * size),
            material=st.just("leaf"),
            measured=st.booleans(),
        )
    )


def askeds() -> st.SearchStrategy[Asked]:
    """Draw what a caster says of one photograph."""
    return st.builds(
        Asked,
        name=st.just("twig"),
        scales=(marks() | two_points() | per_pixel()).map(lambda given: (given,)),
        leaf=thicknesses(),
        camera=st.none() | sizes(0.3, 3.0),
        flat=st.booleans(),
    )


def sections() -> st.SearchStrategy[Section]:
    """Draw a stretch of 5 to 50 pixels."""
    return st.builds(
        Section,
        shape=st.sampled_from(("rod", "blade", "lump")),
        start=st.just(2.0),
        end=pixels(7, 50),
        width=st.tuples(pixels(1, 20), pixels(1, 20)),
        error=pixels(0.1, 2),
    )


def sticks() -> st.SearchStrategy[Stick]:
    """Draw a straight stem from the foot up, with one part."""
    along = np.arange(0.0, 50.0)
    line = np.column_stack([np.full(50, SIDE / 2), SIDE - 5 - along])
    return sections().map(
        lambda section: Stick(
            parent=-1,
            line=line,
            along=along,
            width=np.full(50, section.width[0]),
            sections=(section,),
        )
    )


def silhouettes() -> st.SearchStrategy[Silhouette]:
    """Draw a dark band on a light ground."""

    def band(half: int) -> Silhouette:
        light = np.ones((SIDE, SIDE))
        light[5:-5, SIDE // 2 - half : SIDE // 2 + half] = 0.3
        return Silhouette(light=light, inside=light < 0.5, contrast=0.7, loose=0)

    return st.integers(1, 10).map(band)


def views() -> st.SearchStrategy[View]:
    """Draw a photograph of one stem."""
    return st.builds(
        View,
        scale=scales(),
        foot=st.just((SIDE / 2, SIDE - 5.0)),
        sticks=sticks().map(lambda stick: (stick,)),
        crossings=st.lists(points(), max_size=2).map(tuple),
        silhouette=silhouettes(),
    )


def photo_parts() -> st.SearchStrategy[PhotoPart]:
    """Draw a stem."""
    return pairs(5e-4, 8e-3).flatmap(
        lambda width: st.builds(
            PhotoPart,
            name=st.just("stem"),
            parent=st.just(-1),
            shape=st.just("rod"),
            length=sizes(2e-3, 0.1),
            length_error=shares(),
            longest=sizes(0.1, 0.2),
            width=st.just(width),
            thickness=st.just(width),
            section_error=st.integers(0, 50).map(lambda percent: percent / 100),
            at=shares(),
            angle=angles(0.0, math.pi),
            turn=angles(-math.pi, math.pi),
            bend=angles(-1.0, 1.0),
            material=st.just("herb_stem"),
            seen_twice=st.booleans(),
            view=st.just(0),
            stick=st.just(0),
            section=st.just(0),
            middle=st.just((0.0, 0.0, 0.02)),
        )
    )


def readings() -> st.SearchStrategy[Reading]:
    """One photograph of one stem."""
    return st.builds(
        Reading,
        name=st.sampled_from(("twig", 'a "leaf" & <b>', "Ähre")),
        parts=photo_parts().map(lambda part: (part,)),
        views=views().map(lambda view: (view,)),
        findings=st.just(()),
        notes=st.just({}),
    )


def crosses() -> st.SearchStrategy[Cross]:
    """Sections of 0.2 to 20 mm."""
    return st.builds(
        Cross,
        shape=st.sampled_from(("rod", "blade", "lump")),
        width=pairs(2e-4, 2e-2),
        thickness=pairs(2e-4, 2e-2),
        error=shares(),
    )


def fits() -> st.SearchStrategy[Fit]:
    """Shapes along a stretch."""
    return st.builds(
        Fit, cost=shares(), lump=st.booleans(), first=pixels(1, 20), last=pixels(1, 20)
    )


def courses() -> st.SearchStrategy[Course]:
    """Draw a straight line upwards from the fork."""
    up = np.array([0.0, 0.0, 1.0])
    return sizes(2e-3, 0.1).map(
        lambda length: Course(
            fork=np.zeros(3),
            start=np.zeros(3),
            end=length * up,
            leaves=up,
            arrives=up,
            length=length,
            bend=0.0,
            line=np.linspace(0.0, length, 11)[:, np.newaxis] * up,
        )
    )


def branches() -> st.SearchStrategy[Branch]:
    """Draw a straight branch of 10 to 40 pixels."""
    return st.integers(10, 40).map(
        lambda count: Branch(
            ends=(0, 1),
            line=np.column_stack([np.arange(count, dtype=np.float64), np.zeros(count)]),
            radius=np.full(count, 3.0),
        )
    )


def skeletons() -> st.SearchStrategy[Skeleton]:
    """One branch between two ends."""
    return branches().map(
        lambda branch: Skeleton(
            branches=(branch,),
            place=branch.line[[0, -1]],
            radius=branch.radius[[0, -1]],
            degree=np.array([1, 1]),
        )
    )


def strokes() -> st.SearchStrategy[Stroke]:
    """One stroke between two ends."""
    return branches().map(
        lambda branch: Stroke(line=branch.line, radius=branch.radius, nodes=(0, 1))
    )
