"""Blocks of draws: which are still to be followed after the first, counted by hand."""

from types import SimpleNamespace
from typing import Any, cast

import pytest

from pourcast.forecast.many import BLOCK, follow_all


class Noting:
    """Stands for an executor: it follows nothing and notes what it was asked for."""

    def __init__(self) -> None:
        self.blocks: list[int] = []

    def map(self, _follow: object, _work: object, blocks: range, **_: object) -> list[Any]:
        """Note the blocks."""
        self.blocks += blocks
        return []


@pytest.mark.parametrize(
    ("draws", "more"), [(1, []), (BLOCK, []), (BLOCK + 1, [1]), (3 * BLOCK, [1, 2])]
)
def test_the_last_draws_are_followed_though_they_fill_no_block(draws: int, more: list[int]) -> None:
    """By hand: a block that is begun is followed, and the first one not again."""
    noting = Noting()
    first = cast(Any, SimpleNamespace(draws=min(draws, BLOCK)))

    told = follow_all(cast(Any, SimpleNamespace(draws=draws)), first, executor=cast(Any, noting))

    assert told is first
    assert noting.blocks == more
