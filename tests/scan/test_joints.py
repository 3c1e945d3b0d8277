"""Which body a third one grows on, where two of them meet it at one joint.

House rules on plain boxes of cells; no outside number.
"""

import numpy as np

from pourcast import units as si
from pourcast.scan.joints import parted


def box(low: tuple[int, int, int], high: tuple[int, int, int]) -> si.Integers:
    """Return the cells of a box; the upper corner is left out."""
    cells: si.Integers = np.argwhere(np.ones(np.subtract(high, low), dtype=bool)) + np.array(low)
    return cells


def bodies(*cells: si.Integers) -> tuple[si.Integers, si.Integers]:
    return np.concatenate(cells), np.repeat(np.arange(len(cells)), [len(some) for some in cells])


STEM = box((0, 0, 0), (6, 6, 20))
LEFT = box((0, 1, 17), (3, 4, 40))
RIGHT = box((3, 1, 17), (6, 4, 40))


def test_a_ray_beside_a_ray_grows_on_the_stem() -> None:
    """Both rays begin inside the stem and lie against each other all the way up."""
    place, body = bodies(STEM, LEFT, RIGHT)

    assert parted(place, body, np.array([-1, 0, 1])).tolist() == [-1, 0, 0]


def test_a_row_of_rays_grows_on_the_stem() -> None:
    """Each hangs on the one before it; the third leans away above the stem."""
    third = np.concatenate([box((3, 4, 17), (6, 6, 22)), box((3, 6, 20), (6, 9, 40))])
    place, body = bodies(STEM, LEFT, RIGHT, third)

    assert parted(place, body, np.array([-1, 0, 1, 2])).tolist() == [-1, 0, 0, 0]


def test_a_side_shoot_that_grazes_the_stem_stays_on_its_branch() -> None:
    """It begins inside the branch and has but a few cells of the stem beside it."""
    branch = box((6, 1, 10), (30, 5, 14))
    shoot = box((6, 2, 12), (9, 4, 40))
    place, body = bodies(STEM, branch, shoot)

    assert parted(place, body, np.array([-1, 0, 1])).tolist() == [-1, 0, 1]


def test_what_touches_the_stem_elsewhere_stays_on_its_branch() -> None:
    """Its contact with the stem is not at the joint of its branch."""
    branch = box((6, 1, 2), (30, 5, 6))
    shoot = box((20, 1, 5), (24, 5, 18))
    back = box((6, 1, 14), (24, 5, 18))
    place, body = bodies(STEM, branch, np.concatenate([shoot, back]))

    assert parted(place, body, np.array([-1, 0, 1])).tolist() == [-1, 0, 1]


def test_a_loose_body_stays_loose() -> None:
    place, body = bodies(STEM, LEFT, RIGHT + np.array([40, 0, 0]))

    assert parted(place, body, np.array([-1, 0, -2])).tolist() == [-1, 0, -2]
