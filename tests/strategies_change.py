"""Strategies: changes of a plan and what they would buy, drawn at random."""

from hypothesis import strategies as st

from pourcast.change.ask import Ask
from pourcast.change.at_hand import AtHand, Specimen
from pourcast.change.compared import Comparison, Difference, PlanFigures
from pourcast.change.ground import Ground
from pourcast.change.keys import Key
from pourcast.change.model import (
    Change,
    Cost,
    Lever,
    PartMove,
    Ranking,
    Refused,
    TrialPour,
)
from pourcast.change.pours import Poured
from pourcast.forecast.whole import Ends, Layout, lay_out, pour_ends
from pourcast.pour.model import CAUSES
from pourcast.sheet.edit import Edit
from pourcast.sheet.model import Plan
from tests.forecast.hand import example
from tests.strategies import flasks, plans

WORDS = st.text("abc “”ü", min_size=1, max_size=12)
SHARES = st.integers(0, 40).map(lambda whole: whole / 40)
ERRORS = st.integers(0, 30).map(lambda whole: whole / 100)
CAUSE_SHARES = st.dictionaries(st.sampled_from(CAUSES), SHARES, max_size=3)


def keys() -> st.SearchStrategy[Key]:
    """Keys of a piece file."""
    return st.builds(
        Key,
        record=st.just("flask"),
        field=st.just("height"),
        unit=st.sampled_from(("mm", None)),
        words=WORDS,
    )


def costs() -> st.SearchStrategy[Cost]:
    """Costs of up to a day and a kilogram, more or less."""
    return st.builds(
        Cost,
        time=st.integers(0, 86_400).map(float),
        metal=st.integers(-1000, 1000).map(lambda grams: grams * 1e-3),
        words=WORDS,
        risk=st.just("") | WORDS,
        detail=st.just("") | WORDS,
    )


@st.composite
def levers(draw: st.DrawFn, plan: Plan | None = None) -> Lever:
    """Levers of every kind; what they would edit is the flask."""
    kept = draw(plans()) if plan is None else plan
    two = draw(st.booleans())
    return Lever(
        kind=draw(st.sampled_from(("vent", "coat", "flask temperature", "two", "feeder"))),
        moved=draw(WORDS),
        act=draw(WORDS),
        before=draw(WORDS),
        after=draw(WORDS),
        unit=draw(st.sampled_from(("", "mm", "°C", "°"))),
        edits=(Edit(path=("flask", "height_mm"), value=draw(st.integers(80, 200))),),
        plan=kept,
        cost=draw(costs()),
        part=draw(st.none() | WORDS),
        plainly=draw(st.booleans()),
        second=kept if two else None,
        counted=draw(st.sampled_from(("any", "both"))) if two else "one",
    )


def part_moves() -> st.SearchStrategy[PartMove]:
    """Parts whose chance moves, or not."""
    return st.builds(PartMove, name=WORDS, before=SHARES, after=SHARES, standard_error=ERRORS)


@st.composite
def changes(draw: st.DrawFn, plan: Plan | None = None) -> Change:
    """Up to three levers, whose gain is that of their chances."""
    before, after = draw(SHARES), draw(SHARES)
    kept = draw(plans()) if plan is None else plan
    return Change(
        levers=tuple(draw(st.lists(levers(kept), min_size=1, max_size=3))),
        chance_before=before,
        chance_after=after,
        gain=after - before,
        standard_error=draw(ERRORS),
        draws=draw(st.sampled_from((100, 400))),
        parts=tuple(draw(st.lists(part_moves(), max_size=2))),
        causes=draw(CAUSE_SHARES),
        mends=tuple(draw(st.lists(WORDS, max_size=1))),
        rights=tuple(draw(st.lists(WORDS, max_size=1))),
    )


def refusals(plan: Plan) -> st.SearchStrategy[Refused]:
    """Levers that are not offered."""
    return st.builds(Refused, lever=levers(plan), reason=WORDS)


def trials() -> st.SearchStrategy[TrialPour]:
    """Trial pours that teach much or nothing."""
    return st.builds(
        TrialPour,
        specimen=WORDS,
        chance_trial=SHARES,
        without=SHARES,
        with_trial=SHARES,
        standard_error=ERRORS,
        spread_taken=SHARES,
        draws=st.just(400),
    )


@st.composite
def rankings(draw: st.DrawFn) -> Ranking:
    """Rankings with up to four changes, in any order."""
    plan = draw(plans())
    return Ranking(
        plan=plan,
        chance=draw(SHARES),
        changes=tuple(draw(st.lists(changes(plan), max_size=4))),
        combinations=tuple(draw(st.lists(changes(plan), max_size=2))),
        refused=tuple(draw(st.lists(refusals(plan), max_size=2))),
        draws=400,
        seed=draw(st.integers(0, 9)),
        complete=draw(st.booleans()),
        looked_at=draw(st.integers(0, 8)),
        trials=tuple(draw(st.lists(trials(), max_size=2))),
    )


def specimens() -> st.SearchStrategy[Specimen]:
    """Other originals."""
    return st.builds(Specimen, name=WORDS, plan=plans())


def hands() -> st.SearchStrategy[AtHand]:
    """Studios with little or much."""
    return st.builds(
        AtHand,
        alloys=st.lists(
            st.sampled_from(("sn_bronze_cusn10", "copper")), max_size=2, unique=True
        ).map(tuple),
        flasks=st.lists(flasks(), max_size=2).map(tuple),
        vacuum=st.none() | st.integers(30, 95).map(lambda pressure: pressure * 1e3),
        specimens=st.lists(specimens(), max_size=1).map(tuple),
        twin=st.booleans(),
    )


def differences() -> st.SearchStrategy[Difference]:
    """Keys in which two plans differ."""
    return st.builds(
        Difference,
        key=st.just("flask.height_mm"),
        words=WORDS,
        one=WORDS,
        other=WORDS,
        unit=st.sampled_from(("", "mm", "°")),
    )


def plan_figures() -> st.SearchStrategy[PlanFigures]:
    """Figures of one plan."""
    return st.builds(
        PlanFigures,
        name=WORDS,
        chance=SHARES,
        causes=CAUSE_SHARES,
        metal=st.integers(10, 2000).map(lambda grams: grams * 1e-3),
        powder=st.integers(100, 5000).map(lambda grams: grams * 1e-3),
        stops=st.lists(WORDS, max_size=2).map(tuple),
    )


@st.composite
def comparisons(draw: st.DrawFn) -> Comparison:
    """Two plans side by side, whose gain is that of their chances."""
    one, other = draw(plan_figures()), draw(plan_figures())
    return Comparison(
        one=one,
        other=other,
        differences=tuple(draw(st.lists(differences(), max_size=3))),
        gain=other.chance - one.chance,
        standard_error=draw(ERRORS),
        parts=tuple(draw(st.lists(part_moves(), max_size=3))),
        alone=((), tuple(draw(st.lists(WORDS, max_size=1)))),
        draws=400,
        seed=0,
    )


def layouts() -> st.SearchStrategy[Layout]:
    """Layouts of a few draws of the demo pieces."""
    named = st.sampled_from(("dragonfly", "larch_twig"))
    return named.map(lambda name: lay_out(example(name), None, 4, 0))


def ends() -> st.SearchStrategy[Ends]:
    """How such layouts end."""
    return layouts().map(pour_ends)


def grounds() -> st.SearchStrategy[Ground]:
    """Demo pieces as they stand."""
    return layouts().map(
        lambda layout: Ground(
            layout=layout, ends=pour_ends(layout), calibration=None, threads=1, stops={}
        )
    )


def poured() -> st.SearchStrategy[Poured]:
    """Levers that are poured."""
    return layouts().flatmap(
        lambda layout: levers(layout.plan).map(
            lambda lever: Poured(
                levers=(lever,), plan=layout.plan, layout=layout, ends=pour_ends(layout)
            )
        )
    )


def asks() -> st.SearchStrategy[Ask]:
    """Plans as they stand, with what is at hand."""
    return st.tuples(layouts(), hands()).map(
        lambda pair: Ask(
            plan=pair[0].plan,
            text=None,
            ready=pair[0].ready,
            ends=pour_ends(pair[0]),
            at_hand=pair[1],
        )
    )
