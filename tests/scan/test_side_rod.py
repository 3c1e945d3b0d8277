"""A rod at the side of a stem begins at its surface, and not at its middle."""

import numpy as np
import pytest

from pourcast.scan.solve import solve
from tests.scan.make import joined, record, stem
from tests.scan.test_lines import rod


@pytest.mark.parametrize("diameter", [3.0, 6.0])
def test_a_rod_at_the_side_is_as_long_as_it_stands_out(diameter: float) -> None:
    """Closed form: a rod of 14 mm from the middle of a stem stands out by 14 mm less its radius.

    Tolerance 1 %: a step of its line is 0.1 mm.  Found: 0.6 %.
    """
    thorn = rod(14.0, 1.0, [0.0, 0.0, 20.0], 90.0)

    found = solve(record(joined(stem(40.0, diameter), thorn)), rng=np.random.default_rng(0))

    _, side = found.parts
    assert side.parent == 0
    assert 1e3 * side.length == pytest.approx(14.0 - 0.5 * diameter, rel=0.01)
