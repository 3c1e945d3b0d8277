"""Combine: how much luck is in the best of several levers together, by hand and without a pour."""

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from pourcast import units as si
from pourcast.change import combine
from pourcast.change.ground import Ground
from pourcast.change.model import Cost, Lever, LeverKind
from pourcast.change.pours import Poured
from pourcast.forecast.prepare import prepare
from pourcast.forecast.whole import Ends, Layout
from pourcast.pour.model import CAPILLARY
from pourcast.sheet.edit import Edit
from tests.forecast.hand import example

DRAWS = 40


def ends_of(whole: si.Booleans) -> Ends:
    """Return endings of a piece of one member."""
    return Ends(
        full=whole[:, None],
        cause=np.full((whole.size, 1), CAPILLARY),
        member_part=np.array([0]),
        part_names=("stem",),
        share=whole.astype(float),
    )


def test_the_best_of_three_pairs_is_luck_three_times_as_often(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """By hand, sign test and Bonferroni over the looks and the pairs; McNemar (1947) from memory.

    Of 40 draws 16 come short.  Each of three levers mends 8 of them, two together all 16: 16 of
    16 one way is 2/2^16 by luck.  The look at all draws has a share of 0.6, and there were three
    pairs to choose from: 3 / 0.6 · 2/2^16.  Pours are put away.
    """
    plan = example("larch_twig")
    layout = cast(
        Layout,
        SimpleNamespace(plan=plan, ready=prepare(plan, None, DRAWS, 0), draws=DRAWS, laid=DRAWS),
    )
    draw = np.arange(DRAWS)
    ground = Ground(layout=layout, ends=ends_of(draw >= 16), calibration=None, threads=1, stops={})
    kinds: tuple[LeverKind, ...] = ("tilt", "mix", "head")
    made = [
        Poured(
            levers=(lever_of(kind),),
            plan=plan,
            layout=layout,
            ends=ends_of((draw >= 16) | (draw % 2 == place % 2)),
        )
        for place, kind in enumerate(kinds)
    ]

    def both(_: Ground, group: tuple[Poured, ...], __: object) -> Poured:
        return replace(group[0], levers=tuple(one.levers[0] for one in group), ends=None)

    everywhere = ends_of(np.ones(DRAWS, dtype=bool))
    monkeypatch.setattr(combine, "together", both)
    monkeypatch.setattr(combine, "_filled", lambda *_: everywhere)
    monkeypatch.setattr(combine, "_with_the_others", lambda one, *_: replace(one, ends=everywhere))
    monkeypatch.setattr(combine, "judged", lambda _, one: one)

    (change,), looked_at = combine.combinations(ground, made, None, 2)

    assert looked_at == 3
    assert change.gain == pytest.approx(0.4)
    assert change.by_luck == pytest.approx(3.0 / 0.6 * 2.0 / 2.0**16, rel=1e-9)


def lever_of(kind: LeverKind) -> Lever:
    return Lever(
        kind=kind,
        moved=kind,
        act=kind,
        before="",
        after="",
        unit="",
        edits=(Edit(path=("investment", kind), value=1.0),),
        plan=example("larch_twig"),
        cost=Cost(),
    )
