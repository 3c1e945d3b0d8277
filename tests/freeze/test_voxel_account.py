"""The account of heat of the voxel solver: it says how much is missing."""

from types import SimpleNamespace
from typing import cast

import pytest

from pourcast.freeze.voxel_march import held_heat
from pourcast.freeze.voxel_watch import Watch, account
from tests.freeze.voxel_cases import bronze, line, marched, plain_mould


def test_heat_that_is_there_twice_is_told_as_its_share() -> None:
    """Conservation of energy: 5 J out of nothing are a fortieth of 200 J.

    The largest miss on the way is kept.
    """
    march = marched(line(10, 3, 1e-3), bronze(), plain_mould(), 1100, 550)
    seen = SimpleNamespace(total=held_heat(march), reference=200.0, error=0.0)

    account(march, cast(Watch, seen))

    assert seen.error == pytest.approx(0.0, abs=1e-9)
    for more, error in ((5.0, 0.025), (-9.0, 0.045), (1.0, 0.045)):
        march.lost_above = more
        account(march, cast(Watch, seen))
        assert seen.error == pytest.approx(error, rel=1e-6)
