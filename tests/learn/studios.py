"""Small plans, and studios that are made up by drawing the truth from the book of values."""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from pourcast.burnout.model import Kiln
from pourcast.learn.axes import Axis, axes_of, place, values_at
from pourcast.learn.bank import Bank, bank_of
from pourcast.learn.likelihood import Emulators, PourTold
from pourcast.learn.model import PartSeen, PourSeen
from pourcast.learn.sample import Sample
from pourcast.learn.solve import weigh
from pourcast.learn.weights import percentile
from pourcast.materials import Value
from pourcast.materials.draws import quantile
from pourcast.sheet.model import Plan
from tests.whole.paired import by_gravity, floret, plan_of, rod

OUTCOMES = 20
"""Of each studio."""

INFORMED = (
    "pour.film_factor",
    "pour.interface_heat_transfer",
    "pour.thin_section_factor",
    "investment.flow.permeability_burnt",
)
"""Unknowns of which such outcomes tell something; the others keep the range of the book."""


@cache
def plans(*, burnt: bool = False) -> tuple[Plan, ...]:
    """Return two plans under vacuum and two by gravity, each with parts that may come short.

    Where ``burnt`` the burnout of each is followed, in the kiln of the demo piece.
    """
    made = []
    for gravity, twig, leaf in (
        (False, 0.50, 0.25),
        (False, 0.35, 0.30),
        (True, 1.8, 0.9),
        (True, 2.2, 1.3),
    ):
        plan = plan_of(
            rod("stem", "button", 25.0, 4.0),
            replace(floret(leaf), count=4),
            rod("twig", "stem", 30.0, twig, position=(0.5, 0.5), angle=1.0),
        )
        plan = plan if burnt else replace(plan, kiln=Kiln())
        made.append(by_gravity(plan) if gravity else plan)
    return tuple(made)


@dataclass(frozen=True, kw_only=True)
class Studios:
    """Made-up studios: what came out of each, what is true of it, and what is learnt.

    Parameters
    ----------
    told : list of list of PourTold
        For each studio its outcomes.
    truth : dict of str to array, shape (studios,)
        Place of each unknown in its range.
    """

    told: list[list[PourTold]]
    truth: dict[str, np.ndarray]
    axes: tuple[Axis, ...]
    known: dict[str, Value]

    def learn(self, studio: int, draws: int, outcomes: int = OUTCOMES) -> Sample:
        """Return what one studio learns from its first outcomes."""
        told = self.told[studio][:outcomes]
        return weigh(told, (), self.axes, self.known, draws=draws, seed=studio)

    def interval(self, found: Sample, key: str) -> tuple[float, float]:
        """Return where 90 % of the weight of an unknown lies, as places in its range."""
        values = values_at(self.axes, found.share, self.known)
        at = place(self.known[key], values[key])
        low, high = percentile(at, found.weight, np.array([0.05, 0.95])).tolist()
        return low, high

    def narrowed(self, found: Sample, key: str) -> float:
        """Return by which share the interval of an unknown has narrowed."""
        value = self.known[key]
        low, high = place(value, quantile(value, np.array([0.05, 0.95]))).tolist()
        now = self.interval(found, key)
        return float(1.0 - (now[1] - now[0]) / (high - low))


def studios(count: int, *, bank: int, seed: int, burnt: bool = False) -> Studios:
    """Return studios whose truth is drawn from the book, and that pour with the real model.

    The truths and the days of their pours are drawn from other seeds than the bank
    that is learnt from.
    """
    own = plans(burnt=burnt)
    banks = [bank_of(plan, bank, seed=0, day_seed=11 + number) for number, plan in enumerate(own)]
    emulators = [Emulators(each) for each in banks]
    known: dict[str, Value] = {}
    for each in banks:
        known |= each.values
    poured = [
        bank_of(own[pour % 4], count, seed=seed, day_seed=7 * seed + pour)
        for pour in range(OUTCOMES)
    ]
    truth: dict[str, np.ndarray] = {}
    for each in poured:
        truth |= each.studio
    told = [
        [
            emulators[pour % 4].told(seen(poured[pour], own[pour % 4], studio))
            for pour in range(OUTCOMES)
        ]
        for studio in range(count)
    ]
    return Studios(told=told, truth=truth, axes=axes_of(known), known=known)


def seen(bank: Bank, plan: Plan, draw: int) -> PourSeen:
    """Return one pour of a bank as a caster would tell it; florets are counted."""
    parts = []
    for number, name in enumerate(bank.parts):
        full = bool(bank.full[draw, number])
        half = None
        if name == "floret" and not full:
            half = bool(bank.whole[draw, number] >= 0.5)
        parts.append(PartSeen(name=name, full=full, half_of_members=half))
    return PourSeen(name="made up", plan=plan, parts=tuple(parts))
