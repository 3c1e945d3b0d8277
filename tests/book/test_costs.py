"""Costs weighed with their chance: exact cases by hand, and what must always hold."""

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.book.costs import places, rounded, weigh, work
from pourcast.errors import InputError
from tests.book.strategies import amounts
from tests.outside.record import record

CHANCES = st.integers(1, 1000).map(lambda parts: parts / 1000)
MARGINS = st.integers(0, 300).map(lambda parts: Decimal(parts) / 100)


def test_piece_that_can_be_made_again_by_hand() -> None:
    """By hand: 90.00 at 0.6 takes 1.67 attempts, 150.00; a third on top makes 195.00."""
    made = weigh(Decimal(90), 0.6, currency="EUR", margin=Decimal("0.3"))

    assert made.attempts == Decimal("1.67")
    assert made.expected == Decimal("150.00")
    assert made.price == Decimal("195.00")
    assert made.expected_loss is None


def test_original_that_exists_once_by_hand() -> None:
    """By hand: 90 and an original of 30 at 0.8: 120 / 0.8 = 150; lost 0.2 of 30 = 6."""
    made = weigh(Decimal(90), 0.8, currency="EUR", margin=Decimal(0), original=Decimal(30))

    assert made.expected == Decimal("150.00")
    assert made.price == Decimal("150.00")
    assert made.expected_loss == Decimal("6.00")
    assert made.chance_lost == pytest.approx(0.2, abs=1e-15)


def test_number_of_attempts_agrees_with_a_draw_of_the_geometric_distribution() -> None:
    """Published: the geometric generator of numpy, 100 000 draws at p = 0.35.

    Tolerance 0.03: four standard errors, (sqrt(1 - p) / p) / sqrt(100 000) = 0.0073.
    """
    drawn = np.random.default_rng(1).geometric(0.35, 100_000).mean()
    made = float(weigh(Decimal(1), 0.35, currency="EUR", margin=Decimal(0)).attempts)

    record(
        "book",
        "mean attempts for a whole piece at a chance of 0.35",
        "numpy, random geometric, 100 000 draws",
        made,
        float(drawn),
        "-",
        0.03,
        kind="reference library",
    )
    assert made == pytest.approx(drawn, abs=0.03)


@given(attempt=amounts(), chance=CHANCES, margin=MARGINS)
def test_price_carries_the_pours_that_failed(
    attempt: Decimal, chance: float, margin: Decimal
) -> None:
    """Over 1000 attempts the whole pieces pay for all of them, within a cent a piece."""
    made = weigh(attempt, chance, currency="EUR", margin=margin)
    whole = round(1000 * chance)
    spent = Fraction(attempt) * 1000 * (1 + Fraction(margin))

    assert 0 <= whole * Fraction(made.price) - spent < whole * Fraction(1, 100)


@given(attempt=amounts(), first=CHANCES, second=CHANCES)
def test_surer_pour_costs_no_more(attempt: Decimal, first: float, second: float) -> None:
    low, high = sorted((first, second))
    prices = [
        weigh(attempt, chance, currency="EUR", margin=Decimal(0)).price for chance in (low, high)
    ]

    assert prices[0] >= prices[1]


@pytest.mark.parametrize(
    ("chance", "margin", "original"),
    [
        (0.0, "0", None),
        (-0.1, "0", None),
        (1.1, "0", None),
        (float("nan"), "0", None),
        (0.5, "-0.1", None),
        (0.5, "0", "-1"),
    ],
)
def test_what_carries_no_price_is_refused(chance: float, margin: str, original: str | None) -> None:
    with pytest.raises(InputError):
        weigh(
            Decimal(1),
            chance,
            currency="EUR",
            margin=Decimal(margin),
            original=None if original is None else Decimal(original),
        )


@pytest.mark.parametrize(
    ("value", "currency", "cents"),
    [
        ("2.345", "EUR", "2.34"),
        ("2.355", "EUR", "2.36"),
        ("2.5", "JPY", "2"),
        ("2.3455", "KWD", "2.346"),
        ("-0.001", "EUR", "0.00"),
    ],
)
def test_amount_is_rounded_to_the_cents_of_its_currency(
    value: str, currency: str, cents: str
) -> None:
    """ISO 4217, from memory: the yen has no cents, the Kuwaiti dinar has thousandths."""
    assert str(rounded(Decimal(value), currency)) == cents


def test_work_is_paid_by_the_minute() -> None:
    assert work(20, Decimal(10)) == Decimal("3.3333")


@pytest.mark.parametrize("code", ["", "E", "EURO", "eur", "€UR", "12A", "ÉUR"])
def test_currency_is_three_capital_letters(code: str) -> None:
    with pytest.raises(InputError, match="ISO 4217"):
        places(code)
