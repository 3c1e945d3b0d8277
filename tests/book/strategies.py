"""Strategies: what may stand in a book, drawn at random."""

from decimal import Decimal

from hypothesis import strategies as st

from pourcast.book.model import PartOutcome
from pourcast.book.scores import Trial
from pourcast.book.words import SIGN_AMOUNTS, SIGNS


def names() -> st.SearchStrategy[str]:
    """Names of all scripts, without what the book refuses."""
    signs = st.characters(codec="utf-8", exclude_characters="\0")
    return st.text(signs, min_size=1, max_size=30)


@st.composite
def part_outcomes(draw: st.DrawFn, *, part: str, count: int) -> PartOutcome:
    """Draw an outcome of a part that can have come out so, with at most one measure."""
    state = draw(st.sampled_from(("filled", "short", "missing", "not seen")))
    members = share = by = None
    if state in ("short", "missing"):
        members = draw(st.none() | st.integers(1, count))
    if state == "short":
        measured = draw(st.sampled_from(("share", "by", "none")))
        if measured == "share":
            share = draw(st.integers(0, 99)) / 100
        elif measured == "by":
            by = draw(st.integers(1, 99_999)) / 100
    signs = draw(
        st.lists(
            st.tuples(st.sampled_from(sorted(SIGNS)), st.sampled_from(sorted(SIGN_AMOUNTS))),
            max_size=4,
            unique_by=lambda sign: sign[0],
        )
    )
    note = draw(st.sampled_from(("", "stops clean", "black, crumbly: 2 of 3", "note: within")))
    return PartOutcome(
        part=part,
        state=state,  # type: ignore[arg-type]
        members_short=members,
        filled_share=share,
        short_by_mm=by,
        signs=tuple(sorted(signs)),
        note=note,
    )


def trials() -> st.SearchStrategy[list[Trial]]:
    """Forecasts and what happened, some of them sure of themselves."""
    each = st.builds(
        Trial,
        chance=st.sampled_from((0.0, 0.2, 0.5, 0.9, 1.0)) | st.floats(0.0, 1.0),
        draws=st.sampled_from((1, 20, 400, 10_000)),
        came=st.booleans(),
    )
    return st.lists(each, min_size=1, max_size=60)


def amounts(most: int = 10**9) -> st.SearchStrategy[Decimal]:
    """Amounts of money of at most four places."""
    return st.integers(0, most).map(lambda parts: Decimal(parts).scaleb(-4))
