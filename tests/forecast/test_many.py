"""Many: chances of more draws than one block, whoever follows them and in any order.

The counts are held against keeping every draw; numpy's percentiles and scipy's rank
correlation stand outside.
"""

import subprocess
import sys
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import spearmanr

from pourcast.errors import InputError
from pourcast.execute import Cancel, CancelledError, Executor, Threads
from pourcast.forecast.chances import members
from pourcast.forecast.document import document
from pourcast.forecast.many import BLOCK, MOST_DRAWS, Work, follow, seed_of_block
from pourcast.forecast.model import Forecast
from pourcast.forecast.prepare import case_of, prepare
from pourcast.forecast.solve import forecast
from pourcast.forecast.tally import added, tally
from pourcast.pour.solve import solve
from tests.execute.works import Shuffled
from tests.sweep.small import plan

DRAWS = 2 * BLOCK + 300


def tree(said: Forecast) -> dict[str, object]:
    """Return all that a forecast says as plain values."""
    return document(said, version="0")


@pytest.fixture(scope="module")
def by_one() -> Forecast:
    """Return a forecast of three blocks, followed by one thread."""
    return forecast(plan(), draws=DRAWS, rng=5)


@pytest.mark.parametrize(
    "hands", [Threads(2), Threads(5), Shuffled(1), Shuffled(2)], ids=["2", "5", "mixed", "again"]
)
def test_the_forecast_is_the_same_bit_for_bit_for_any_executor(
    by_one: Forecast, hands: Executor
) -> None:
    assert tree(forecast(plan(), draws=DRAWS, rng=5, executor=hands)) == tree(by_one)


def test_the_forecast_is_the_same_from_a_cluster(by_one: Forecast) -> None:
    pytest.importorskip("distributed")
    from pourcast.execute.cluster import Cluster

    with Cluster(workers=2) as hands:
        made = forecast(plan(), draws=DRAWS, rng=5, executor=hands)

    assert tree(made) == tree(by_one)


def test_chances_are_those_of_keeping_every_draw(by_one: Forecast) -> None:
    """Each block poured by itself and all its draws laid end to end.

    Counts are exact.  Percentiles may be off by a step of 1/4096.  The rank correlation
    of a block differs from that of all draws by luck of about 1/sqrt(draws) of itself;
    0.02 is what the mean of three may differ from one of 2300.
    """
    first = prepare(plan(), None, BLOCK, 5)
    ends, drawn, filled = [], [], []
    for block, count in enumerate((BLOCK, BLOCK, 300)):
        ready = prepare(plan(), None, count, seed_of_block(5, block))
        case = case_of(plan(), ready, None)
        if block:  # what is weighed out is settled by the first block
            over = (first.metal.metal - first.metal.short_by) / (
                ready.metal.metal - ready.metal.short_by
            )
            volume = case.stream.metal_volume * over
            case = replace(case, stream=replace(case.stream, metal_volume=volume))
        result = solve(ready.network, case)
        ends.append(members(ready.network, result, ready.book.pour["full_share"].si))
        drawn.append(ready.drawn["permeability_burnt"])
        filled.append(ends[-1].share.mean(axis=1))
    full = np.concatenate([end.full for end in ends])
    spine = first.network.member_part == 1

    assert by_one.chance_all == full.all(axis=1).mean()
    assert by_one.parts[1].chance_full == full[:, spine].all(axis=1).mean()
    assert by_one.parts[1].chance_weakest == full[:, spine].mean(axis=0).min()
    share = np.concatenate([end.share[:, spine].mean(axis=1) for end in ends])
    assert by_one.parts[1].share.p50 == pytest.approx(np.median(share), rel=2.0**-11)
    want = spearmanr(np.concatenate(drawn), np.concatenate(filled)).statistic
    got = next(
        each.rank_correlation for each in by_one.unknowns if each.key.endswith("permeability_burnt")
    )
    assert got == pytest.approx(want, abs=0.02)


def test_a_block_in_two_halves_counts_the_same() -> None:
    """Counts do not hang on where a block is cut."""
    ready = prepare(plan(), None, 80, 3)
    result = solve(ready.network, case_of(plan(), ready, None))
    ends = members(ready.network, result, 0.95)
    whole = tally(ready.network, result, ends, {})

    halves = []
    for cut in (slice(0, 30), slice(30, 80)):
        some_result = replace(
            result, **{each.name: getattr(result, each.name)[cut] for each in fields(result)}
        )
        some_ends = replace(
            ends, **{each.name: getattr(ends, each.name)[cut] for each in fields(ends)}
        )
        halves.append(tally(ready.network, some_result, some_ends, {}))
    both = added(*halves)

    assert np.array_equal(both.ends, whole.ends)
    assert np.array_equal(both.segments, whole.segments)
    assert [part.whole for part in both.parts] == [part.whole for part in whole.parts]
    assert all(
        np.array_equal(mine.causes, theirs.causes)
        for mine, theirs in zip(both.parts, whole.parts, strict=True)
    )


def test_a_block_and_less_is_the_forecast_of_one_block() -> None:
    """No finding on blocks, and the whole forecast from every draw."""
    said = forecast(plan(), draws=50, rng=1, executor=Threads(2))

    assert tree(said) == tree(forecast(plan(), draws=50, rng=1))
    assert not any("those of the first" in finding.text for finding in said.findings)


def test_the_forecast_says_what_is_told_of_all_and_what_of_the_first(by_one: Forecast) -> None:
    texts = [finding.text for finding in by_one.findings]

    assert any(f"those of {DRAWS} pours" in text for text in texts)
    assert by_one.draws == DRAWS
    assert sum("rests most on" in text or "No single guessed" in text for text in texts) == 1


def test_seeds_of_blocks_differ_and_the_first_is_the_seed() -> None:
    seeds = {seed_of_block(7, block) for block in range(10_000)}

    assert len(seeds) == 10_000
    assert seed_of_block(7, 0) == 7


def test_no_block_is_followed_twice() -> None:
    """The first is followed for the whole forecast; only the others are given out."""
    hands = Shuffled(1)

    forecast(plan(), draws=DRAWS, rng=5, executor=hands)

    assert len(hands.order) == -(-DRAWS // BLOCK) - 1


def test_too_many_draws_are_refused_before_any_is_followed() -> None:
    """A plan without a piece would break the first block."""
    broken = replace(plan(), piece=None)  # type: ignore[arg-type]

    with pytest.raises(InputError, match="draws is"):
        forecast(broken, draws=MOST_DRAWS + 1)


def test_what_is_weighed_out_is_that_of_the_first_block_in_all() -> None:
    """A later block takes what it is given: a fiftieth of the metal fills fewer."""
    metal = prepare(plan(), None, BLOCK, 5).metal
    work = Work(
        plan=plan(), calibration=None, draws=DRAWS, seed=5, metal=metal,
        ranked=(), steps=None, curve=None,
    )  # fmt: skip
    little = replace(work, metal=replace(metal, metal=0.02 * metal.metal))

    assert follow(little, 2).ends[0] < 0.5 * follow(work, 2).ends[0]


def test_progress_is_told_block_by_block() -> None:
    seen: list[tuple[int, int]] = []
    forecast(plan(), draws=DRAWS, progress=lambda *counts: seen.append(counts))

    assert seen == [(BLOCK, DRAWS), (2 * BLOCK, DRAWS), (DRAWS, DRAWS)]


def test_work_can_be_called_off() -> None:
    cancel = Cancel()
    cancel.call_off()

    with pytest.raises(CancelledError):
        forecast(plan(), draws=DRAWS, cancel=cancel)


@pytest.mark.parametrize("draws", [0, MOST_DRAWS + 1])
def test_draws_outside_their_limits_are_refused(draws: int) -> None:
    with pytest.raises(InputError, match="draws is"):
        forecast(plan(), draws=draws)


GROWTH = """
import resource, sys
from pourcast.forecast.solve import forecast
from pourcast.sheet import read_plan
from tests.sweep.small import TEXT
most = lambda: resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
plan = read_plan(TEXT)
forecast(plan, draws=2000)
before = most()
forecast(plan, draws=int(sys.argv[1]))
print(most() - before)
"""


def _growth(draws: int) -> float:
    done = subprocess.run(
        [sys.executable, "-c", GROWTH, str(draws)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    )
    return float(done.stdout)


@pytest.mark.long
@pytest.mark.parametrize("draws", [100_000, 1_000_000])
def test_memory_does_not_grow_with_the_draws(draws: int) -> None:
    """House bar: flat from a thousand draws on, greatest memory of a process of its own.

    Tolerance 20 MB: what the allocator keeps from one block to the next; a list of the
    ends of 100 000 draws alone would be over 100 MB.
    """
    assert _growth(draws) < 20.0
