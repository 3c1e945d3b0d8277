"""Strategies: records of flasks and proposals, drawn at random within sensible limits."""

import math

import numpy as np
from hypothesis import strategies as st

from pourcast.gating.flasks import stand
from pourcast.gating.model import (
    Circle,
    Costs,
    Cut,
    FlaskChoice,
    FlaskFit,
    Load,
    Pose,
    Proposal,
    ShelfFlask,
    Stand,
    WaxPiece,
)
from pourcast.gating.packing import Packed, packed
from pourcast.gating.share import SharedFlask
from pourcast.sheet.edit import Edit
from tests.strategies import angles, sizes


def shelf_flasks() -> st.SearchStrategy[ShelfFlask]:
    """Flasks of 40 to 150 mm."""
    return st.builds(
        ShelfFlask,
        name=st.sampled_from(("small", "wide", "tall")),
        inside_diameter=sizes(0.04, 0.15),
        height=sizes(0.05, 0.25),
        wall=st.sampled_from(("solid", "perforated")),
        wall_thickness=sizes(0.001, 0.005),
        count=st.integers(1, 6),
    )


def circles() -> st.SearchStrategy[Circle]:
    """Circles of 5 to 60 mm, up to 30 mm off the axis."""
    return st.builds(Circle, x=sizes(-0.03, 0.03), y=sizes(-0.03, 0.03), radius=sizes(0.005, 0.06))


def packings() -> st.SearchStrategy[Packed]:
    """One to four circles, packed."""
    return st.lists(sizes(0.005, 0.03), min_size=1, max_size=4).map(np.array).map(packed)


def poses() -> st.SearchStrategy[Pose]:
    """Poses with a lean of up to 20 degrees."""
    return st.builds(
        Pose,
        turn=angles(0.0, 2.0 * math.pi),
        tilt=angles(0.0, math.radians(20.0)),
        reach=sizes(0.01, 0.06),
        depth=sizes(0.02, 0.2),
        level_area=st.floats(0.0, 1e-3),
        rising=st.integers(0, 5),
    )


@st.composite
def stands(draw: st.DrawFn, flask: ShelfFlask | None = None) -> Stand:
    """How a drawn pose stands in a flask."""
    steel = flask or draw(shelf_flasks())
    return stand(draw(poses()), steel.inside_diameter, steel.height)


def loads() -> st.SearchStrategy[Load]:
    """Flasks of 0.3 to 12 kg."""
    return st.builds(
        Load,
        steel=st.floats(0.1, 2.0),
        fresh=st.floats(0.5, 12.0),
        burnt=st.floats(0.3, 9.0),
        poured=st.floats(0.4, 10.0),
        heat=st.floats(1e5, 2e7),
        power_time=st.none() | st.floats(60.0, 2e4),
        lag=st.floats(60.0, 6000.0),
    )


@st.composite
def fits(draw: st.DrawFn) -> FlaskFit:
    """One flask with a drawn piece in it."""
    flask = draw(shelf_flasks())
    planned = draw(stands(flask))
    return FlaskFit(
        flask=flask,
        planned=planned,
        best=draw(st.just(planned) | stands(flask)),
        load=draw(st.none() | loads()),
    )


def cuts() -> st.SearchStrategy[Cut]:
    """Up to 12 members to be cut."""
    return st.builds(
        Cut,
        part=st.sampled_from(("ray", "leaf")),
        members=st.integers(1, 12),
        length=sizes(0.0005, 0.03),
    )


@st.composite
def choices(draw: st.DrawFn) -> FlaskChoice:
    """One to four flasks on a shelf, the first that goes in taken."""
    drawn = tuple(draw(st.lists(fits(), min_size=1, max_size=4)))
    taken = next((f for f in drawn if "none" not in (f.planned.room, f.best.room)), None)
    return FlaskChoice(
        needed_diameter=draw(sizes(0.04, 0.15)),
        needed_height=draw(sizes(0.05, 0.25)),
        circle=draw(circles()),
        fits=drawn,
        taken=taken,
        needs_pose=taken is not None and taken.planned.room != taken.best.room,
        nearest=taken or drawn[-1],
        cuts=() if taken else tuple(draw(st.lists(cuts(), max_size=4))),
        freed=draw(poses()),
    )


@st.composite
def shared_flasks(draw: st.DrawFn) -> SharedFlask:
    """Two to four circles in one flask."""
    drawn = tuple(draw(st.lists(circles(), min_size=2, max_size=4)))
    return SharedFlask(
        flask=draw(shelf_flasks()),
        names=tuple(f"piece {n}" for n in range(len(drawn))),
        circles=drawn,
        gap=draw(sizes(-0.02, 0.03)),
        wall=draw(sizes(-0.02, 0.03)),
        cover=draw(sizes(-0.02, 0.05)),
        needed_diameter=draw(sizes(0.05, 0.2)),
    )


def wax_pieces() -> st.SearchStrategy[WaxPiece]:
    """Threads and rods of wax."""
    return st.builds(
        WaxPiece,
        what=st.sampled_from(("feeder", "vent thread")),
        diameter=sizes(0.0008, 0.012),
        length=sizes(0.003, 0.1),
        count=st.integers(1, 48),
    )


def cost_records() -> st.SearchStrategy[Costs]:
    """Nothing to three hours, and up to 200 g of metal."""
    return st.builds(Costs, bench=st.floats(0.0, 1e4), metal=st.floats(0.0, 0.2))


def proposals() -> st.SearchStrategy[Proposal]:
    """Proposals that coat a part."""
    edits = st.builds(
        Edit,
        path=st.just(("part", "stem", "coat_mm")),
        value=st.integers(1, 9).map(lambda n: n / 10),
    )
    return st.builds(
        Proposal,
        name=st.sampled_from(("thicker gate to head", "vent leaf")),
        kind=st.sampled_from(("feeder", "gate", "vent", "join", "tilt", "flask")),
        part=st.none() | st.just("stem"),
        words=st.just("Why."),
        edits=edits.map(lambda edit: (edit,)),
        wax=st.lists(wax_pieces(), max_size=3).map(tuple),
        clean_off=st.sampled_from(("", "File it back")),
        costs=cost_records(),
    )
