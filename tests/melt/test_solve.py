"""The metal account of one pour."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.melt.model import Charge, MetalAccount
from pourcast.melt.solve import solve
from tests.mould.cases import measures


def charge(
    *,
    on_hand: float | None = None,
    returns: float | None = None,
    poured: float | None = None,
    pour_temperature: float = 1363.15,
) -> Charge:
    """Return a charge of silicon bronze."""
    return Charge(
        alloy="si_bronze_c87300",
        pour_temperature=pour_temperature,
        on_hand=on_hand,
        returns=returns,
        poured=poured,
    )


def account(
    of: Charge | None = None,
    *,
    volume: float = 8e-6,
    button_volume: float = 6e-6,
    density: tuple[float, ...] = (7550.0,),
    loss: tuple[float, ...] = (0.03,),
    scale: tuple[float, ...] = (1.0,),
) -> MetalAccount:
    """Return the account of an invented piece."""
    return solve(
        measures(volume=volume, button_volume=button_volume),
        of or charge(),
        liquid_density=np.array(density),
        loss=np.array(loss),
        volume_scale=np.array(scale),
        solid_density=8360.0,
        wax_density=950.0,
    )


def test_account_worked_out_by_hand() -> None:
    """Exact: 14 cm³ at 7.55 g/cm³ are 105.7 g, and 3 % lost of 108.97 g melted."""
    found = account()

    assert found.metal == pytest.approx(0.1057 / 0.97, rel=1e-12)
    assert found.lost_metal == pytest.approx(0.1057 / 0.97 * 0.03, rel=1e-12)
    assert found.piece_metal == pytest.approx(8e-6 * 7550.0, rel=1e-12)
    assert found.button_metal == pytest.approx(6e-6 * 7550.0, rel=1e-12)
    assert found.wax_equivalent == pytest.approx(8e-6 * 950.0, rel=1e-12)
    assert found.wax_factor == pytest.approx(8.8, rel=1e-12)
    assert found.cavity_volume == pytest.approx(14e-6, rel=1e-12)


def test_a_piece_that_is_larger_than_measured_takes_more_of_the_metal() -> None:
    """Exact: 8 cm³ measured 10 % too small are 8.8 cm³, at 7.55 g/cm³ 66.44 g; the button stays."""
    found = account(scale=(1.1,))

    assert found.piece_metal == pytest.approx(66.44e-3, rel=1e-12)
    assert found.button_metal == pytest.approx(45.3e-3, rel=1e-12)


@given(
    scale=st.lists(st.floats(0.8, 1.2), min_size=1, max_size=30),
    loss=st.floats(0.0, 0.1),
)
def test_parts_of_the_metal_are_the_metal(scale: list[float], loss: float) -> None:
    """Conservation: piece, button and loss are what is melted."""
    draws = len(scale)

    found = account(density=(7550.0,) * draws, loss=(loss,) * draws, scale=tuple(scale))

    parts = found.piece_metal + found.button_metal + found.lost_metal
    assert parts == pytest.approx(found.metal, rel=1e-12)
    assert found.metal_low <= found.metal <= found.metal_high


def test_spread_is_the_5th_and_95th_percentile() -> None:
    """Exact: of 101 even steps the 5th and 95th percentile are the 6th and 96th."""
    steps = tuple(np.linspace(7000.0, 8000.0, 101))

    found = account(density=steps, loss=(0.0,) * 101, scale=(1.0,) * 101)

    assert found.metal_low == pytest.approx(14e-6 * 7050.0, rel=1e-12)
    assert found.metal_high == pytest.approx(14e-6 * 7950.0, rel=1e-12)
    assert found.metal == pytest.approx(14e-6 * 7500.0, rel=1e-12)


def test_charge_is_made_up_for_what_the_caster_pours() -> None:
    """Exact: 200 g asked for, 120 g new and 50 g of returns leave 30 g missing."""
    found = account(charge(on_hand=0.12, returns=0.05, poured=0.2))

    assert found.new_metal == pytest.approx(0.12, rel=1e-12)
    assert found.return_metal == pytest.approx(0.05, rel=1e-12)
    assert found.short_by == pytest.approx(0.03, rel=1e-9)


def test_without_a_word_on_stock_nothing_is_short() -> None:
    found = account()

    assert found.short_by == 0.0
    assert found.new_metal == pytest.approx(found.metal, rel=1e-12)


def test_draws_of_different_number_are_refused() -> None:
    with pytest.raises(InputError, match="arrays of one shape"):
        account(density=(7550.0, 7600.0))


def test_single_number_in_place_of_draws_is_refused() -> None:
    with pytest.raises(InputError, match="arrays of one shape"):
        solve(
            measures(),
            charge(),
            liquid_density=np.float64(7550.0),  # type: ignore[arg-type]
            loss=np.float64(0.03),  # type: ignore[arg-type]
            volume_scale=np.float64(1.0),  # type: ignore[arg-type]
            solid_density=8360.0,
            wax_density=950.0,
        )
