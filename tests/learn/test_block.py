"""Weighings of a block, and one logged day of the kiln."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.burnout.kiln import Body, air_of
from pourcast.burnout.log import KilnLog
from pourcast.errors import InputError
from pourcast.learn import block, kiln_day

ROOM = 293.15


def test_water_of_a_block_by_hand() -> None:
    """By hand: 1 000 g of powder with 0.40, of which 0.10 is bound: 300 g of free water.

    30 g lost on the bench leave 0.9 of it.  Scales of 1 g: error 0.005 from two weighings,
    and 2 % of a tenth from the free water; the least told is 0.01.
    """
    got = block.fit(1.400, 1.370, powder=1.0, water_to_powder=0.40, bound_water=0.10)

    assert got.free_water == pytest.approx(0.300, rel=1e-12)
    assert got.kept == pytest.approx(0.9, rel=1e-12)
    assert got.kept_error == pytest.approx(0.01)
    assert got.mixed is None
    assert got.measured.key == "kiln.free_water_kept"


@given(st.floats(0.05, 5.0), st.floats(0.30, 0.60), st.floats(0.0, 1.0))
def test_any_share_of_the_water_comes_back(powder: float, water: float, kept: float) -> None:
    """Mass is conserved: what is weighed is made from powder, water and a share lost."""
    set_mass = powder * (1.0 + water)
    free = powder * (water - 0.12)
    kiln_mass = set_mass - (1.0 - kept) * free

    got = block.fit(
        set_mass, kiln_mass, powder=powder, water_to_powder=water, bound_water=0.12,
        dry_mass=set_mass - free, scales=1e-4,
    )  # fmt: skip

    assert got.kept == pytest.approx(kept, abs=1e-9)
    assert got.mixed == pytest.approx(water, rel=1e-9)


@pytest.mark.parametrize(
    ("set_mass", "kiln_mass", "dry", "words"),
    [
        (1.4, 1.5, None, "1.4 or less"),
        (1.4, 1.0, None, "at most 300.0"),
        (1.4, 1.3, 1.35, "1.3 or less"),
        (1.4, 1.4, 1.3995, "more than the scales"),
        (0.0, 1.0, None, "greater than 0"),
    ],
)
def test_weighings_that_cannot_be_are_refused(
    set_mass: float, kiln_mass: float, dry: float | None, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        block.fit(
            set_mass, kiln_mass, powder=1.0, water_to_powder=0.4, bound_water=0.1, dry_mass=dry
        )


def log(seed: int, *, dial: bool = True) -> KilnLog:
    """Return a made-up day of a kiln that loses 0.2 an hour, read to 1 K."""
    body = Body(
        loss=0.2 / 3600.0,
        glow=0.0,
        settings=np.array([0.0, 1.0, 2.0]),
        heating=np.array([0.0, 60.0, 140.0]) / 3600.0,
        room=ROOM,
    )
    time = 900.0 * np.arange(48.0)
    turned = np.repeat([1.0, 2.0, 0.0], 16)
    air = air_of(body, time, turned, start=ROOM)
    read = air + np.random.default_rng(seed).standard_normal(48)
    return KilnLog(
        time=time, temperature=read, dial=turned if dial else None,
        line=np.arange(48), start=None, told=(),
    )  # fmt: skip


def test_second_day_makes_the_kiln_surer() -> None:
    """Truth known: 0.2 an hour.  Tolerance 5 %: four times the error of one such day."""
    first = kiln_day.fit(log(1))
    second = kiln_day.fit(log(2), before=log(1))

    assert first.before is None
    assert second.before is not None
    for fit in (first.after, second.after):
        assert 3600.0 * fit.body.loss == pytest.approx(0.2, rel=0.05)
    assert second.after.loss_error < first.after.loss_error


def test_log_without_a_dial_is_refused() -> None:
    with pytest.raises(InputError, match="column dial"):
        kiln_day.fit(log(1, dial=False))
