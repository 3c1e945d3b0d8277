"""Which strips of a fan tell most: the chances of its classes of run, where they are known."""

import numpy as np

from pourcast.learn.bank import Bank
from pourcast.learn.fan_choice import classes_of_run

ENDS = np.array([-2.0, -0.5, 0.5, 2.0])
"""Of the number that a run hangs on, where it comes into the next class."""

SHARES = np.array([0.1, 0.3, 0.6, 0.9, 1.0])
"""Of its length that a strip ran, in each class; the last is full."""


def below(number: np.ndarray) -> np.ndarray:
    """Return the share of a logistic distribution below a number."""
    return np.asarray(1.0 / (1.0 + np.exp(-number)))


def made_up(draws: int) -> tuple[Bank, np.ndarray]:
    """Return pours of one strip, and the chance of each class of its run at each studio.

    The run hangs on 3 a and a scatter of logistic distribution, so that the chance to come over
    an end is 1/(1 + exp(end - 3 a)): proportional odds, McCullagh (1980), J R Stat Soc B 42, 109,
    from memory.
    """
    rng = np.random.default_rng(8)
    a, idle = rng.uniform(-1.0, 1.0, (2, draws))
    came = np.searchsorted(ENDS, 3.0 * a + rng.logistic(size=draws))
    bank = Bank(
        parts=("strip",),
        full=(came == 4)[:, None],
        whole=(came == 4).astype(float)[:, None],
        share=SHARES[came][:, None],
        studio={"a": a, "idle": idle},
        day=rng.standard_normal((draws, 2)),
        sections=rng.standard_normal((draws, 1, 2)),
        values={},
    )
    under = below(ENDS[None, :] - 3.0 * a[:, None])
    edges = np.column_stack((np.zeros(draws), under, np.ones(draws)))
    return bank, np.diff(edges, axis=1)


def test_known_chances_of_the_classes_of_a_run_are_found_again() -> None:
    """Made with known odds, so that the truth is known: see `made_up`.

    Tolerance 0.05: 4 000 pours fit some 5 coefficients of each end, so that a chance of 0.5 is
    off by √(5 / 4000) / 2 = 0.02 as a rule, and a class is what lies between two ends.
    Found: 0.018 in 1 of 100.
    """
    bank, chances = made_up(4000)

    got = classes_of_run(bank, 0)

    studios = np.linspace(0, 3999, got.shape[0]).astype(np.int64)
    off = np.abs(got - chances[studios][:, None, :])
    assert off.mean() < 0.02
    assert np.quantile(off, 0.99) < 0.05
