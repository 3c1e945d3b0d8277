"""Solve: what all outcomes and tests of a studio say of its unknowns."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.execute import Executor
from pourcast.forecast.model import Calibration, Override
from pourcast.learn.axes import Axis, axes_of, place, values_at
from pourcast.learn.banks import banks_of
from pourcast.learn.checks import findings
from pourcast.learn.likelihood import (
    ODD,
    Emulators,
    PourTold,
    measured_likelihood,
    pour_likelihood,
    with_odd_days,
)
from pourcast.learn.model import Against, Learnt, LearntValue, Measured, PourSeen
from pourcast.learn.sample import Sample, sample
from pourcast.learn.squeeze import (
    ENOUGH,
    ends_of,
    narrowed,
    range_by_the_book,
    range_learnt,
)
from pourcast.materials import Library, Value, library
from pourcast.sheet.model import Plan

DRAWS = 4000
"""Sets of unknowns that are weighed; our choice."""


def learn(
    pours: Sequence[PourSeen],
    measured: Sequence[Measured] = (),
    *,
    seed: int = 0,
    bank: int | None = None,
    draws: int = DRAWS,
    threads: int = 1,
    progress: Callable[[int, int], None] | None = None,
    executor: Executor | None = None,
) -> Learnt:
    """Return what outcomes and tests say of the studio's unknowns.

    Parameters
    ----------
    pours : sequence of PourSeen
        Those whose plan was kept before the outcome was known.
    measured : sequence of Measured
        By tests.
    seed : int
        The same number gives the same answer.
    bank : int, optional
        Pours of each plan that are followed; left out: `BANK`.
    draws : int
        Sets of unknowns that are weighed.
    threads : int
        The result is the same for any number.
    progress : callable, optional
        Is told how many plans are done, and of how many.
    executor : Executor, optional
        Who pours the plans; left out: one after another, each on ``threads``.

    Returns
    -------
    Learnt

    Raises
    ------
    InputError
        If a part is not one of its plan, or a value is outside its limits.
    SourceError
        If a test measured a value that no record has.
    """
    emulators: list[tuple[Plan, Emulators]] = []
    told: list[PourTold] = []
    against: list[Against] = []
    known: dict[str, Value] = {}
    banks = banks_of(pours, bank, seed, executor, threads)
    for number, pour in enumerate(pours):
        if progress:
            progress(number, len(pours))
        made = next((each for plan, each in emulators if plan == pour.plan), None)
        if made is None:
            pool = next(banks)
            made = Emulators(pool)
            emulators.append((pour.plan, made))
            known |= pool.values
        told.append(made.told(pour))
        if not pour.is_test:
            against += made.against(pour, f"{number + 1}: {pour.name}")
    book = library()
    known |= {each.key: book.find(each.key)[0] for each in measured}
    axes = axes_of(known)
    found = weigh(told, measured, axes, known, draws=draws, seed=seed)
    return conclude(
        found,
        axes,
        known,
        outcomes=sum(not pour.is_test for pour in pours),
        tests=len({each.name for each in measured}) + sum(pour.is_test for pour in pours),
        odd=_odd_days(found, told, axes, known, draws, seed),
        against=tuple(against),
    )


def weigh(
    told: Sequence[PourTold],
    measured: Sequence[Measured],
    axes: tuple[Axis, ...],
    known: Mapping[str, Value],
    *,
    draws: int,
    seed: int,
) -> Sample:
    """Return draws on the axes, weighed by what was seen.

    Parameters
    ----------
    told : sequence of PourTold
    measured : sequence of Measured
    axes : tuple of Axis
    known : mapping of str to Value
        By key.
    draws, seed : int

    Raises
    ------
    SolveError
        If nothing explains what was seen.
    """
    keys = frozenset(each.key for each in measured).union(*(each.keys for each in told))
    moved = np.array(
        [
            number
            for number, axis in enumerate(axes)
            if any(value.key in keys for value in axis.values)
        ],
        dtype=np.int64,
    )
    pours_by_book = _by_the_book(told, axes, known, draws, seed)
    tests_by_book = _measured_by_the_book(measured, axes, known, draws, seed)

    def log_likelihood(share: si.Ratios) -> si.Floats:
        values = values_at(axes, share, known)
        places = {key: place(known[key], values[key]) for key in values}
        total = np.zeros(share.shape[0])
        for each, mean in zip(told, pours_by_book, strict=True):
            seen = pour_likelihood(each, places, share.shape[0])
            total += np.log(with_odd_days(seen, mean))
        for test, mean in zip(measured, tests_by_book, strict=True):
            seen = measured_likelihood(test, values[test.key])
            total += np.log(np.maximum(with_odd_days(seen, mean), 1e-300))
        return total

    return sample(log_likelihood, len(axes), moved, draws, np.random.default_rng([seed, 1]))


def conclude(
    found: Sample,
    axes: tuple[Axis, ...],
    known: Mapping[str, Value],
    *,
    outcomes: int,
    tests: int,
    odd: dict[str, si.Ratio],
    against: tuple[Against, ...] = (),
) -> Learnt:
    """Return what weighted draws come to, value by value.

    Parameters
    ----------
    found : Sample
    axes : tuple of Axis
    known : mapping of str to Value
        By key.
    outcomes, tests : int
    odd : dict of str to float [-]
        By pour.
    against : tuple of Against
    """
    drawn = values_at(axes, found.share, known)
    told: list[LearntValue] = []
    overrides: list[Override] = []
    source = f"learnt here from {_count(outcomes, 'outcome')} and {_count(tests, 'test')}"
    for axis in axes:
        for value in axis.values:
            before = range_by_the_book(value)
            after = range_learnt(value, drawn[value.key], found.weight)
            less, moved = narrowed(value, before, after)
            used = max(less, moved) >= ENOUGH
            told.append(
                LearntValue(
                    key=value.key,
                    unit=value.unit,
                    before=before,
                    after=after,
                    narrowed=less,
                    used=used,
                )
            )
            if used:
                ends = ends_of(value, drawn[value.key], found.weight)
                overrides.append(
                    Override(
                        key=value.key,
                        value=ends.value,
                        low=ends.low,
                        high=ends.high,
                        source=source,
                        kind=ends.kind,
                    )
                )
    calibration = Calibration(name=source, overrides=tuple(overrides)) if overrides else None
    learnt = Learnt(
        calibration=calibration,
        values=tuple(sorted(told, key=lambda each: (not each.used, -each.narrowed))),
        outcomes=outcomes,
        tests=tests,
        draws=found.weight.size,
        effective=found.effective,
        first_effective=found.first_effective,
        rounds=found.rounds,
        odd=odd,
        against=against,
        findings=(),
    )
    return replace(learnt, findings=findings(learnt))


def _odd_days(
    found: Sample,
    told: Sequence[PourTold],
    axes: tuple[Axis, ...],
    known: Mapping[str, Value],
    draws: int,
    seed: int,
) -> dict[str, si.Ratio]:
    """Return the chance that the day of each pour was odd, after all that was seen."""
    values = values_at(axes, found.share, known)
    places = {key: place(known[key], values[key]) for key in values}
    made = {}
    by_the_book = _by_the_book(told, axes, known, draws, seed)
    for number, (each, mean) in enumerate(zip(told, by_the_book, strict=True), start=1):
        seen = pour_likelihood(each, places, found.weight.size)
        odd = ODD * mean / with_odd_days(seen, mean)
        made[f"{number}: {each.name}"] = float(found.weight @ odd)
    return made


def _by_the_book(
    told: Sequence[PourTold],
    axes: tuple[Axis, ...],
    known: Mapping[str, Value],
    draws: int,
    seed: int,
) -> list[si.Ratio]:
    """Return the chance of each pour over draws from the book of values."""
    values = values_at(axes, _book_shares(axes, draws, seed), known)
    places = {key: place(known[key], values[key]) for key in values}
    return [float(pour_likelihood(each, places, draws).mean()) for each in told]


def _measured_by_the_book(
    measured: Sequence[Measured],
    axes: tuple[Axis, ...],
    known: Mapping[str, Value],
    draws: int,
    seed: int,
) -> list[si.Ratio]:
    values = values_at(axes, _book_shares(axes, draws, seed), known)
    return [float(measured_likelihood(each, values[each.key]).mean()) for each in measured]


def _book_shares(axes: tuple[Axis, ...], draws: int, seed: int) -> si.Ratios:
    return np.random.default_rng([seed, 2]).random((draws, len(axes)))


def _value(book: Library, key: str) -> Value:
    return next(value for value in book.find(key) if value.key == key)


def _count(number: int, what: str) -> str:
    return f"{number} {what}" + ("" if number == 1 else "s")
