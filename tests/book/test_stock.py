"""Stock: no milligram and no ten-thousandth of the currency is lost or made."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from pourcast.book.checks import findings
from pourcast.book.holdings import Lot
from pourcast.book.ledger import line_costs, worth
from pourcast.book.model import KeptPlan
from pourcast.book.outcomes import begin_pour
from pourcast.book.settings import change_settings, flasks, put_flask, read_settings
from pourcast.book.spending import attempt_cost, costs_of, spend
from pourcast.book.stock import buy, lots, move, movements
from pourcast.book.store import Book, open_book
from pourcast.errors import InputError
from tests.book.conftest import AT, DAY, LATER, kept
from tests.book.strategies import amounts

KILO = 1_000_000


def bought(book: Book, kind: str = "metal", mass_mg: int = 2 * KILO, price: str = "84.50") -> Lot:
    material = {"metal": "si_bronze_c87300", "powder": "gypsum_silica", "wax": "casting"}[kind]
    change_settings(book, currency="EUR")
    return buy(
        book, kind, material, mass_mg=mass_mg, price=Decimal(price), bought=DAY, at=AT, name=kind
    )


@given(
    price=amounts(),
    mass=st.integers(1, 10**9),
    changes=st.lists(st.integers(-(10**9), 10**9), max_size=30),
)
def test_costs_of_all_lines_and_what_is_left_make_the_price(
    price: Decimal, mass: int, changes: list[int]
) -> None:
    """Conservation, to the last ten-thousandth; made-up ledgers, some below nothing."""
    costs = line_costs(price, mass, changes)

    assert sum(costs, Decimal(0)) + worth(price, mass, mass + sum(changes)) == price


@given(price=amounts(), mass=st.integers(1, 10**9), taken=st.integers(0, 10**9))
def test_cost_of_a_line_is_within_a_rounding_of_its_share(
    price: Decimal, mass: int, taken: int
) -> None:
    """Two roundings to a ten-thousandth, half a step each."""
    (cost,) = line_costs(price, mass, [-taken])

    assert abs(cost - price * taken / mass) <= Decimal("0.0001")


def test_costs_of_a_lot_by_hand() -> None:
    """By hand: 30 for 1000 mg is 0.03 a mg; 250 taken 7.50, 100 back -3.00."""
    assert line_costs(Decimal(30), 1000, [-250, 100]) == (Decimal("7.5"), Decimal("-3"))


def test_ledger_adds_up(book: Book, plan: KeptPlan) -> None:
    lot = bought(book)
    pour = begin_pour(book, plan.id, day=DAY, at=AT)
    move(book, lot.id, "taken", 400_000, pour_id=pour.id, at=AT)
    move(book, lot.id, "returned", 150_000, pour_id=pour.id, at=LATER)
    left = move(book, lot.id[:6], "lost", 1, reason="spilt", at=LATER)

    assert left.balance_mg == 2 * KILO - 400_000 + 150_000 - 1
    first = movements(book, lot.id)[0]
    assert (first.move, first.change_mg) == ("bought", 2 * KILO)
    assert sum(line.change_mg for line in movements(book, lot.id)) == left.balance_mg


def test_balance_falls_below_nothing_only_with_a_reason(book: Book) -> None:
    lot = bought(book, mass_mg=1000)

    with pytest.raises(InputError, match="its reason must be noted"):
        move(book, lot.id, "taken", 1001, at=AT)
    assert lots(book)[0].balance_mg == 1000
    move(book, lot.id, "taken", 1001, reason="scales were wrong", at=AT)
    with pytest.raises(InputError, match="its reason must be noted"):
        move(book, lot.id, "taken", 1, at=AT)
    assert move(book, lot.id, "found", 1, reason="weighed", at=LATER).balance_mg == 0


@pytest.mark.parametrize(
    ("act", "mass", "reason", "said"),
    [
        ("bought", 5, "", "one of taken"),
        ("eaten", 5, "", "one of taken"),
        ("taken", 0, "", "above 0"),
        ("taken", -5, "", "above 0"),
        ("lost", 5, " ", "why it was lost"),
        ("found", 5, "", "why it was found"),
    ],
)
def test_movement_that_says_too_little_is_refused(
    book: Book, act: str, mass: int, reason: str, said: str
) -> None:
    lot = bought(book)

    with pytest.raises(InputError, match=said):
        move(book, lot.id, act, mass, reason=reason, at=AT)
    assert len(movements(book, lot.id)) == 1


def test_money_needs_its_currency_and_keeps_it(book: Book, plan: KeptPlan) -> None:
    with pytest.raises(InputError, match="set first"):
        buy(book, "wax", "casting", mass_mg=1, price=Decimal(1), bought=DAY, at=AT)
    pour = begin_pour(book, plan.id, day=DAY, at=AT)
    with pytest.raises(InputError, match="set first"):
        spend(book, pour.id, "gas", amount=Decimal(1), at=AT)
    change_settings(book, currency="EUR")
    with pytest.raises(InputError, match="book set --rate"):
        spend(book, pour.id, "hours", minutes=30, at=AT)
    change_settings(book, currency="CHF")
    bought_once = buy(book, "wax", "casting", mass_mg=1, price=Decimal(1), bought=DAY, at=AT)
    with pytest.raises(InputError, match="amounts stand in the book"):
        change_settings(book, currency="EUR")
    assert bought_once.price == Decimal(1)
    assert read_settings(book).currency == "CHF"


@pytest.mark.parametrize(
    "wrong",
    [
        {"currency": "Euro"},
        {"currency": "eur"},
        {"margin": Decimal(-1)},
        {"rate_per_hour": Decimal("NaN")},
        {"least_mg": {"gold": 1}},
        {"least_mg": {"metal": -1}},
    ],
)
def test_setting_that_cannot_be_is_refused(book: Book, wrong: dict[str, object]) -> None:
    before = read_settings(book)
    with pytest.raises(InputError):
        change_settings(book, **wrong)  # type: ignore[arg-type]
    assert read_settings(book) == before


@pytest.mark.parametrize(
    ("kind", "amount", "minutes"),
    [("hours", Decimal(1), None), ("gas", None, 5), ("gas", Decimal(1), 5), ("gas", None, None)],
)
def test_cost_says_either_an_amount_or_a_time(
    book: Book, plan: KeptPlan, kind: str, amount: Decimal | None, minutes: int | None
) -> None:
    change_settings(book, currency="EUR", rate_per_hour=Decimal(30))
    pour = begin_pour(book, plan.id, day=DAY, at=AT)

    with pytest.raises(InputError, match="hours with minutes"):
        spend(book, pour.id, kind, amount=amount, minutes=minutes, at=AT)
    assert costs_of(book, pour.id) == ()


def test_attempt_is_added_up_by_hand(book: Book, plan: KeptPlan) -> None:
    """By hand, lots of 2 kg at 84.50 and of 20 kg at 30.00.

    Metal 400 g out: 16.90; 150 g back: 6.3375; powder 900 g: 1.35; gas 4.20; 2.5 h
    at 30: 75; other -1.  16.90 - 6.3375 + 1.35 + 4.20 + 75 - 1 = 90.1125.
    """
    metal, powder = bought(book), bought(book, "powder", 20 * KILO, "30.00")
    change_settings(book, rate_per_hour=Decimal(30))
    pour = begin_pour(book, plan.id, day=DAY, at=AT)
    other = begin_pour(book, plan.id, day=DAY, at=AT)
    move(book, metal.id, "taken", 100_000, pour_id=other.id, at=AT)  # 4.225, to spare
    move(book, metal.id, "taken", 400_000, pour_id=pour.id, at=AT + timedelta(hours=1))
    move(book, metal.id, "returned", 150_000, pour_id=pour.id, at=LATER)
    move(book, powder.id, "taken", 900_000, pour_id=pour.id, at=AT)
    spend(book, pour.id, "gas", amount=Decimal("4.20"), at=LATER)
    spend(book, pour.id, "other", amount=Decimal(-1), at=LATER, note="deposit back")
    spend(book, pour.id, "hours", minutes=150, at=LATER)
    change_settings(book, rate_per_hour=Decimal(99))  # hours keep the rate of their day

    made = attempt_cost(book, pour.id)

    assert made.metal == Decimal("10.5625")
    assert made.powder == Decimal("1.35")
    assert made.hours == Decimal(75)
    assert made.total == Decimal("90.1125")


@settings(max_examples=10, phases=(Phase.reuse, Phase.generate))
@given(
    price=amounts(10**8),
    lines=st.lists(
        st.tuples(st.sampled_from(("taken", "returned")), st.integers(1, 10**6), st.integers(0, 2)),
        max_size=12,
    ),
)
def test_costs_of_all_pours_and_what_is_left_make_the_price(
    price: Decimal, lines: list[tuple[str, int, int]]
) -> None:
    """Conservation through the store: three pours share one lot."""
    with TemporaryDirectory() as held, open_book(Path(held)) as book:
        plan = kept(book)
        change_settings(book, currency="EUR")
        lot = buy(book, "metal", "x", mass_mg=KILO, price=price, bought=DAY, at=AT)
        pours = [begin_pour(book, plan.id, day=DAY, at=AT) for _ in range(3)]
        for number, (act, mass, which) in enumerate(lines):
            at = AT + timedelta(minutes=1 + number)
            move(book, lot.id, act, mass, pour_id=pours[which].id, at=at, reason="made up")
        left = lots(book)[0].balance_mg
        total = sum((attempt_cost(book, pour.id).total for pour in pours), Decimal(0))

    assert left == KILO + sum(mass if act == "returned" else -mass for act, mass, _ in lines)
    assert total + worth(price, KILO, left) == price


def test_low_stock_is_found(book: Book, plan: KeptPlan) -> None:
    """House rule: too little for the plan stops, too little for a second one is watched."""
    change_settings(book, currency="EUR", least_mg={"wax": 500})
    metal = Lot(
        id="m" * 16,
        kind="metal",
        material=plan.alloy,
        name="bar",
        composition="",
        remelts=0,
        bought=DAY,
        bought_mg=KILO,
        price=Decimal(1),
        balance_mg=plan.metal_mg,
    )
    powder = replace(metal, kind="powder", material=plan.powder, balance_mg=plan.powder_mg - 1)
    other = replace(metal, material="another alloy", balance_mg=-5)

    found = findings((metal, powder, other), read_settings(book), plan)

    assert [(each.level, each.unit, each.limit) for each in found] == [
        ("WATCH", "g", 0.0),
        ("WATCH", "g", 0.5),
        ("WATCH", "g", 2 * plan.metal_mg / 1000),
        ("STOP", "g", plan.powder_mg / 1000),
    ]
    plenty = replace(metal, balance_mg=2 * plan.metal_mg)
    assert [each.level for each in findings((plenty,), read_settings(book), plan)][1] == "GOOD"
    assert all(each.text and each.source for each in found)


def test_flasks_are_counted_anew_under_their_name(book: Book) -> None:
    put_flask(book, "tall", inside_diameter_mm=90.0, height_mm=180.0, count=3)
    put_flask(book, "small", inside_diameter_mm=60.0, height_mm=80.0, wall="perforated")
    put_flask(book, "tall", inside_diameter_mm=90.0, height_mm=180.0, count=2)

    assert [(flask.name, flask.count) for flask in flasks(book)] == [("small", 1), ("tall", 2)]
    for wrong in (
        {"inside_diameter_mm": float("nan"), "height_mm": 80.0},
        {"inside_diameter_mm": 60.0, "height_mm": 80.0, "wall": "glass"},
        {"inside_diameter_mm": 60.0, "height_mm": 80.0, "count": -1},
    ):
        with pytest.raises(InputError):
            put_flask(book, "tall", **wrong)
    assert len(flasks(book)) == 2
