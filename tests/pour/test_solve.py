"""Solve: draws stand alone, threads change nothing, and wrong values are refused."""

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.piece.model import Network
from pourcast.pour.model import PourCase, PourResult
from pourcast.pour.solve import solve
from tests.pour.cases import Builder, bar, case, char, spray, uncertain


def _same(one: PourResult, other: PourResult) -> None:
    for field in fields(PourResult):
        np.testing.assert_array_equal(getattr(one, field.name), getattr(other, field.name))


@pytest.mark.parametrize("vacuum", [0.0, 60e3])
def test_any_number_of_threads_gives_the_same_bits(vacuum: float) -> None:
    """Reproducible: 1, 2 and 5 threads, 11 draws, not one bit apart."""
    network = spray(segments=120)
    pour = uncertain(network, 11, vacuum=vacuum)

    alone = solve(network, pour)

    for threads in (2, 5):
        _same(alone, solve(network, pour, threads=threads))


def _with_a_loop() -> Network:
    builder = Builder()
    fork = builder.add(0, 5e-3, 3e-3)
    near = builder.add(fork, 10e-3, 2.5e-3, rise=0.0)
    builder.add(fork, 12e-3, 2.4e-3, end=near, rise=-0.2)
    return builder.network()


def _one_draw(pour: PourCase, draw: int) -> PourCase:
    """Return a case of one draw alone."""

    def cut(record: Any) -> Any:
        return replace(
            record,
            **{
                field.name: getattr(record, field.name)[draw : draw + 1].copy()
                for field in fields(record)
                if isinstance(getattr(record, field.name), np.ndarray)
            },
        )

    return replace(
        pour,
        metal=cut(pour.metal),
        block=cut(pour.block),
        stream=cut(pour.stream),
        section_scale=pour.section_scale[draw : draw + 1].copy(),
        entry_factor=pour.entry_factor[draw : draw + 1].copy(),
        **char(np.zeros((1, pour.section_scale.shape[1]))),
    )


@pytest.mark.parametrize("network", [spray(segments=120), _with_a_loop()], ids=["tree", "loop"])
@pytest.mark.parametrize("draw", [0, 3, 9])
def test_a_draw_among_ten_ends_as_it_does_alone(network: Network, draw: int) -> None:
    """Independent: no draw sees what the one before it left behind, bit for bit."""
    pour = uncertain(network, 10, vacuum=40e3)
    together = solve(network, pour)

    alone = solve(network, _one_draw(pour, draw))

    for field in fields(PourResult):
        np.testing.assert_array_equal(
            getattr(alone, field.name)[0], getattr(together, field.name)[draw]
        )


def test_a_result_says_what_it_must() -> None:
    """Shapes and limits: shares 0 to 1, a time where full and none where not."""
    network = spray(segments=120)
    result = solve(network, uncertain(network, 5))

    full = result.filled == 1.0
    assert result.filled.shape == (5, network.length.size)
    assert np.all((result.filled >= 0.0) & (result.filled <= 1.0))
    assert np.all((result.cause == 0) == full)
    assert np.all(np.isfinite(result.fill_time) == full)
    assert np.all((result.solid_fraction >= 0.0) & (result.solid_fraction <= 1.0))
    assert np.all(result.metal_left >= 0.0)
    assert full.any()
    assert not full.all()


@pytest.mark.parametrize("size", ["length", "width", "thickness"])
@pytest.mark.parametrize("value", [-1e-3, 0.0, np.nan, np.inf])
def test_a_size_that_cannot_be_is_refused(size: str, value: float) -> None:
    network = bar(0.02, 2e-3, 2, width=5e-3)
    sizes = getattr(network, size).copy()
    sizes.flat[1] = value

    with pytest.raises(InputError, match=size):
        solve(replace(network, **{size: sizes}), case(network))


@pytest.mark.parametrize("name", ["density", "temperature", "permeability", "pour_rate", "vacuum"])
@pytest.mark.parametrize("value", [np.nan, np.inf])
def test_a_value_that_is_not_finite_is_refused(name: str, value: float) -> None:
    network = bar(0.02, 2e-3, 2)

    with pytest.raises(InputError):
        solve(network, case(network, 1, **{name: value}))


@pytest.mark.parametrize(
    "changes",
    [{"metal_volume": -1e-6}, {"section_scale": np.nan}, {"entry_factor": np.nan}],
    ids=str,
)
def test_a_draw_that_gives_no_number_is_refused(changes: dict[str, Any]) -> None:
    network = bar(0.02, 2e-3, 2)

    with pytest.raises(InputError):
        solve(network, case(network, **changes))


@pytest.mark.parametrize(
    "changes",
    [
        {"viscosity": 0.0},
        {"permeability": 0.0},
        {"porosity": 1.5},
        {"vacuum": 120e3},
        {"pump_time": 0.0},
        {"tip_stop": 1.5},
    ],
    ids=str,
)
def test_a_value_outside_its_limits_is_refused(changes: dict[str, Any]) -> None:
    """A stated limit is a kept limit: the docstring of `solve` promises `InputError`."""
    network = bar(0.02, 2e-3, 2)

    with pytest.raises(InputError):
        solve(network, case(network, **changes))
