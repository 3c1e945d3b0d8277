"""Kinks: where along a strand a limb has a knee.

The knee of a leg turns by `KINK` or more at one place, and a bend turns evenly.
The turn is read from the middles of the pieces, so not where these stand askew:
beside the foot of a child, next to the parent, and at a blunt end.

The limits are our own choice, tried on a few drawn plants (estimate).
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.scan.model import Pieces
from pourcast.scan.slices import Slices

KINK = math.radians(20.0)
"""Turn at one place that makes a cut [rad]."""

_KNEE = 3  # pieces on each side of a kink that its turn is read from
_ROUND = 5  # pieces at an end that its width is read from
_USUAL = 25.0  # percentile of the turns that a strand has where it has no kink
_SHARP = 2.5  # times the usual turn of the strand, from which a turn is a kink


def limbs(
    line: si.Integers,
    pieces: Pieces,
    slices: Slices,
    forks: si.Booleans,
    *,
    clear_foot: bool = False,
) -> list[si.Integers]:
    """Return the runs of pieces of a strand, cut where it has a kink.

    Parameters
    ----------
    line : array of int, shape (pieces of the strand,)
        In their order.
    pieces : Pieces
    slices : Slices
    forks : array of bool, shape (pieces,)
        Pieces whose section holds the foot of another part.
    clear_foot : bool
        True if the first piece stands off the parent, for those before it were not apart.

    Returns
    -------
    list of array of int
    """
    many = len(line)
    if many < 2 * _KNEE + 3:
        return [line]
    middle = pieces.middle[line]
    clear = np.flatnonzero(~forks[line])
    if len(clear) >= 2:
        # The foot of a child pulls the middle of its pieces aside: they are read across.
        at = np.arange(many)
        middle = np.stack([np.interp(at, clear, middle[clear, k]) for k in range(3)], axis=1)
    # The first pieces lean to the parent, and those of the end are cut off askew, as far as
    # half of its width: they tell no turn.
    askew = max(1, math.ceil(0.5 * float(slices.wide[line[-_ROUND:]].max()) / pieces.step))
    inside = range(_KNEE if clear_foot else _KNEE + 1, many - _KNEE + 1 - askew)
    if len(clear) >= 2:
        inside = range(max(inside.start, clear[0]), min(inside.stop, clear[-1]))
    place = _sharpest(middle, inside, across=0)
    if place is None:
        # Cells round a knee off: over the piece that holds it the turn is told in full.
        place = _sharpest(middle, range(inside.start, inside.stop - 1), across=1)
    if place is None:
        return [line]
    return [
        *limbs(line[:place], pieces, slices, forks, clear_foot=clear_foot),
        *limbs(line[place:], pieces, slices, forks),
    ]


def _sharpest(middle: si.Metres, inside: range, *, across: int) -> int | None:
    """Return where a row of middles turns most, if that is a kink; None: it is none.

    The turn at a piece is that between the ways to it and from it, or, ``across`` it, to the
    piece before and from the piece behind.
    """
    if not len(inside):
        return None
    turn = np.zeros(len(middle))
    for k in inside:
        last, first = k - across, k + across
        came, goes = (
            middle[last] - middle[last - _KNEE + 1],
            middle[first + _KNEE - 1] - middle[first],
        )
        size = max(float(np.linalg.norm(came) * np.linalg.norm(goes)), 1e-300)
        turn[k] = math.acos(max(-1.0, min(1.0, float(came @ goes) / size)))
    # A leg with two knees has more turns at knees than elsewhere: the median would be one of them.
    usual = float(np.percentile(turn[inside.start : inside.stop], _USUAL))
    # The first piece leans to the parent.
    turn[: inside.start + across] = 0.0
    place = int(turn.argmax())
    return None if turn[place] < max(KINK, _SHARP * usual) else place
