"""Banks: pours of each plan that was poured, one plan after another, on any executor."""

from collections.abc import Iterator, Sequence
from zlib import crc32

from pourcast.execute import Executor, shared_out
from pourcast.learn.bank import Bank, bank_of
from pourcast.learn.model import PourSeen
from pourcast.sheet.model import Plan

BANK = 1500
"""Pours of each plan; our choice: with fewer, intervals came out too narrow."""


def banks_of(
    pours: Sequence[PourSeen],
    draws: int | None,
    seed: int,
    executor: Executor | None,
    threads: int,
) -> Iterator[Bank]:
    """Yield a bank for each plan, in the order in which the plans first come.

    Parameters
    ----------
    pours : sequence of PourSeen
    draws : int or None
        Of each; None: `BANK`.
    seed : int
    executor : Executor or None
        Who pours the plans; None: one after another, each on ``threads``.
    threads : int

    Yields
    ------
    Bank
    """
    hands, _, inner = shared_out(executor, threads)
    yield from hands.map(_bank, inner, _asked(pours, draws, seed))


def _asked(
    pours: Sequence[PourSeen], draws: int | None, seed: int
) -> Iterator[tuple[Plan, int, int, int]]:
    """Yield each plan once, with its draws and its seeds."""
    seen: list[Plan] = []
    for number, pour in enumerate(pours):
        if pour.plan not in seen:
            seen.append(pour.plan)
            yield pour.plan, draws or BANK, seed, _day_seed(seed, number)


def _bank(threads: int, asked: tuple[Plan, int, int, int]) -> Bank:
    plan, draws, seed, day_seed = asked
    return bank_of(plan, draws, seed=seed, day_seed=day_seed, threads=threads)


def _day_seed(seed: int, number: int) -> int:
    return crc32(f"day of pour {number} of {seed}".encode())
