"""A corrections file that is written is read as what it was written from; house rule.

Sizes are drawn to the micrometre that the file has, places to the tenth of a millimetre.
"""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from pourcast.scan.corrections import Corrections, read_corrections
from pourcast.scan.corrections_written import written_corrections
from pourcast.scan.groups import Group
from pourcast.scan.model import Correction

SIZE = st.integers(1, 3_000_000).map(lambda microns: microns * 1e-6)
PAIR = st.tuples(SIZE, SIZE)
PLACE = st.integers(-9_999_999, 9_999_999).map(lambda tenths: tenths * 1e-4)
NAME = st.text(min_size=1, max_size=60).filter(str.isprintable)


def maybe(kind: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    return st.none() | kind


PARTS = st.builds(
    Correction,
    at=st.tuples(PLACE, PLACE, PLACE).map(np.array),
    name=maybe(NAME),
    material=maybe(NAME),
    width=maybe(PAIR),
    thickness=maybe(PAIR),
    length=maybe(SIZE),
    drop=st.booleans(),
    join=st.booleans(),
)
CLASS = PAIR.map(lambda pair: tuple(sorted(pair))).filter(lambda pair: pair[1] > pair[0])
GROUPS = st.builds(
    Group,
    shape=st.sampled_from(["rod", "blade", "lump"]),
    order=maybe(st.integers(0, 100)),
    length=maybe(CLASS),
    width=maybe(CLASS),
    colour=maybe(st.tuples(*[st.integers(0, 255)] * 3)),
    name=maybe(NAME),
    material=maybe(NAME),
    drop=st.booleans(),
    join=st.booleans(),
)


def near(one: object, other: object) -> bool:
    if one is None or other is None:
        return one is other
    return bool(np.allclose(one, other, rtol=0.0, atol=1e-12))  # type: ignore[arg-type]


@given(st.lists(PARTS | GROUPS, max_size=4))
def test_what_is_written_is_read_again(made: list[Correction | Group]) -> None:
    parts = [one for one in made if isinstance(one, Correction)]
    groups = [one for one in made if isinstance(one, Group)]

    again: Corrections = read_corrections(written_corrections((*parts, *groups)))

    assert len(again) == len(made)
    for one, read in zip((*parts, *groups), again, strict=True):
        assert type(one) is type(read)
        assert (one.name, one.material, one.drop, one.join) == (
            read.name,
            read.material,
            read.drop,
            read.join,
        )
        assert near(one.length, read.length)
        assert near(one.width, read.width)
        if isinstance(one, Correction) and isinstance(read, Correction):
            assert near(one.at, read.at)
            assert near(one.thickness, read.thickness)
        elif isinstance(one, Group) and isinstance(read, Group):
            assert (one.shape, one.order, one.colour) == (read.shape, read.order, read.colour)


def test_nothing_is_written_of_no_correction() -> None:
    assert written_corrections(()) == ""
