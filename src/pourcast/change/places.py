"""Places: in which order do the rows of a table stand, and which share a place?

1. what takes a STOP away by bringing back what is plainly out of the usual, whatever it costs
   in chance: such a plan is not poured,
2. what takes a STOP away otherwise and no chance with it; in both, more of them first,
3. what brings back what is plainly out of the usual and stops nobody, whatever it costs too:
   the trade has tried nothing out there, and this forecast has been held against nothing,
4. gains beyond the noise of the table; in all so far the greatest gain, and with it each that
   is not told apart from it, share a place; then the greatest of the others, and so on,
5. what takes a WATCH of the burnout away and no chance with it,
6. what is within the noise: nobody knows in which order,
7. what is of harm beyond the noise, the least of it first.

Among rows that share a place the cheaper stands first: less work, then less metal.  What
needs another original comes after what does not; what gained comes before what lost, and
what moved no draw comes last.
"""

from collections.abc import Sequence
from dataclasses import replace

from pourcast import units as si
from pourcast.change.ends import first_of
from pourcast.change.family import apart, by_luck, pairs_of, tally
from pourcast.change.ground import Ground
from pourcast.change.model import Change
from pourcast.change.pours import Poured, change_of

_ANOTHER = ("two", "specimen")


def order(change: Change) -> tuple[int, int, bool, int, si.Second, si.Kilogram, si.Ratio]:
    """Return what a row of a table is sorted by, as the module says.

    Parameters
    ----------
    change : Change

    Returns
    -------
    tuple of int, int, bool, int, float [s], float [kg] and float [-]
    """
    cost = change.cost
    return (
        _class(change),
        change.place or 0,
        change.levers[0].kind in _ANOTHER,
        _way(change),
        cost.time,
        cost.metal,
        -change.gain,
    )


def table(ground: Ground, made: Sequence[Poured]) -> tuple[Change, ...]:
    """Return the rows of a table in their order, with their places.

    Parameters
    ----------
    ground : Ground
    made : sequence of Poured
    """
    every = ground.layout.draws
    tallies = [tally(first_of(ground.ends, one.whole.size).whole, one.whole, every) for one in made]
    rows = [
        (replace(change_of(ground, one), by_luck=luck), one.whole)
        for one, luck in zip(made, by_luck(tallies), strict=True)
    ]
    pairs = pairs_of(len(rows) + 1)
    told: list[Change] = []
    for first in range(4):
        left = sorted(
            (pair for pair in rows if _class(pair[0]) == first),
            key=lambda pair: (-len(pair[0].mends), -pair[0].gain),
        )
        while left:
            leader, best = left[0]
            alike = [
                len(row.mends) == len(leader.mends) and not apart(tally(best, whole, every), pairs)
                for row, whole in left
            ]
            told += _shared(
                [row for (row, _), like in zip(left, alike, strict=True) if like], len(told) + 1
            )
            left = [pair for pair, like in zip(left, alike, strict=True) if not like]
    for rest in (4, 5):
        told += _shared([row for row, _ in rows if _class(row) == rest], len(told) + 1)
    harm = sorted((row for row, _ in rows if _class(row) == 6), key=lambda row: -row.gain)
    for row in harm:
        told += _shared([row], len(told) + 1)
    return tuple(sorted(told, key=order))


def _shared(rows: Sequence[Change], place: int) -> list[Change]:
    return [replace(row, place=place) for row in rows]


def _way(change: Change) -> int:
    if change.gain > 0.0:
        return 0
    return 1 if change.standard_error else 2


def _class(change: Change) -> int:
    """Return to which of the seven of the module a row belongs, from 0."""
    if change.cures:
        return 0 if change.plainly else 1
    if change.puts_right:
        return 2
    if change.beyond_noise and change.gain > 0.0:
        return 3
    if change.eases and change.gain >= 0.0:
        return 4
    return 6 if change.harms else 5
