"""Race: who goes on, and that nothing is poured twice or lost by it."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.change.ask import Ask
from pourcast.change.ground import Ground
from pourcast.change.paired import moved_by
from pourcast.change.pours import Poured, change_of, grown, poured
from pourcast.change.race import KEPT, could_gain, going_on, looks, most
from pourcast.change.same_pours import ends_like, pour_some, same_draws, same_passages
from pourcast.forecast.whole import lay_out, pour_ends
from tests.change.small import ask_of, by_kind, ground, levers_of, only


def _made(base: Ground, draws: int, whole: np.ndarray) -> Poured:
    full = np.repeat(whole[:draws, None], base.ends.full.shape[1], axis=1)
    ends = replace(base.ends, full=full, cause=base.ends.cause[:draws], share=whole[:draws] * 1.0)
    return Poured(levers=(), plan=base.layout.plan, layout=base.layout, ends=ends)


def test_what_is_told_apart_from_the_leader_is_left_behind_and_nothing_else() -> None:
    """By hand, 40 draws: one whole in all, four as good as it, one short in all of 20 draws."""
    base = ground("larch_twig")
    every = np.ones(40, dtype=bool)
    short = base.ends.whole & False
    alike = [_made(base, 20, every) for _ in range(KEPT + 1)]
    behind = _made(base, 20, short)

    going = going_on(base, [behind, *alike], 40)

    assert all(any(one is each for each in going) for one in alike)
    assert not any(each is behind for each in going)
    assert looks(400) == (200, 400)


def test_a_gain_that_no_draw_could_show_is_poured_no_further() -> None:
    """By hand: with one draw short of 40 no change can be beyond the noise, p = 1."""
    base = ground("dragonfly")
    tried = _made(base, 10, np.ones(40, dtype=bool))

    assert int((~base.ends.whole).sum()) <= 1
    assert not could_gain(base, tried)
    assert most(np.array([True, False, False]), np.array([True])).gained == 2


def test_one_plan_has_one_chance_in_every_row() -> None:
    """Difference of pairs, added to the mean of all: gain of 10 draws, chance of 40.

    Source: the plain form of a control variate with the coefficient 1 (Hammersley and
    Handscomb, 1964; from memory).  The first 10 draws by themselves stand at another chance.
    """
    base = ground("larch_twig")
    (lever,) = by_kind(levers_of(ask_of(base)), "pour temperature")[:1]
    tried = poured(base, (lever,), lever.plan, draws=10)
    assert isinstance(tried, Poured)
    stands, first = base.ends.whole.mean(), base.ends.whole[:10].mean()

    change = change_of(base, tried)

    assert first != stands
    assert change.draws == 10
    assert change.gain == pytest.approx(tried.whole.mean() - first)
    assert change.chance_before == stands
    assert change.chance_after == pytest.approx(stands + change.gain)
    assert all(move.before == base.ends.part(move.name).mean() for move in change.parts)


@pytest.mark.parametrize(
    ("chance", "gain", "told"), [(0.3, 0.2, 0.5), (0.1, -0.2, 0.0), (0.9, 0.2, 1.0)]
)
def test_a_gain_of_other_draws_never_leads_past_none_or_all(
    chance: float, gain: float, told: float
) -> None:
    """By hand: no chance is under 0 or over 1."""
    assert moved_by(chance, gain) == pytest.approx(told)


@pytest.mark.parametrize("name", ["larch_twig", "sea_holly"])
def test_regression_draws_taken_over_end_as_if_they_were_poured(name: str) -> None:
    """House rule: to the last bit, for every lever."""
    base = ground(name)
    taken = 0
    for lever in only(levers_of(ask_of(base))):
        if lever.second or lever.kind in ("specimen", "alloy", "flask"):
            continue
        layout = lay_out(lever.plan, None, 40, 0)
        told = ends_like(layout, base.layout, base.ends, start=5, stop=40)
        want = pour_ends(layout, start=5)
        if same_passages(layout.ready.network, base.layout.ready.network):
            taken += int(same_draws(layout.case, base.layout.case, 40).sum())
        for field in ("full", "cause", "share"):
            assert np.array_equal(getattr(told, field), getattr(want, field)), lever.act
    assert taken >= 40


def test_chosen_draws_end_as_all_of_them_do() -> None:
    """House rule: each draw stands by itself."""
    layout = ground("larch_twig").layout
    which = np.array([7, 3, 31])

    made, every = pour_some(layout, which), pour_ends(layout)

    assert np.array_equal(made.full, every.full[which])
    assert np.array_equal(made.share, every.share[which])


def test_what_moves_the_passages_is_poured_anew() -> None:
    base = ground("larch_twig")
    ask: Ask = ask_of(base)
    lever = by_kind(only(levers_of(ask)), "coat")[0]
    made = poured(base, (lever,), lever.plan, draws=4)

    assert isinstance(made, Poured)
    assert not same_passages(made.layout.ready.network, base.layout.ready.network)
    assert grown(base, made, 8).whole.size == 8
