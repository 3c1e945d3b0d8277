"""Steep: what the mould took while the metal still ran.

The time of the pour is gone through in a few even steps.  The metal of each
segment goes on a straight line from the heat of the cup, when it came, to that in
which the pour left it; the cup is as hot as it was poured all the while, as the
pour says too.

Left out: heat that the stream carried through a segment after it was full, which
errs to the cold side in stems.
"""

from pourcast import units as si
from pourcast.freeze.columns import END_TIME, MOULD, POURED_AT, ROOM, TOUCH
from pourcast.freeze.rings import SLICES, rings_in, rings_out
from pourcast.freeze.room import Room
from pourcast.freeze.wall import MEETS, look, set_step, soak
from pourcast.kernels import kernel

_SOAKS = 6


@kernel
def soak_while_pouring(bodies: int, parameters: si.Table, held: Room) -> None:
    """Warm the walls and the rings by what they took while the metal ran.

    Parameters
    ----------
    bodies : int
    parameters : array [by column], shape (PARAMETERS,)
    held : Room
        ``wetted``, walls, rings and the state at the end of the pour are set.
    """
    end = parameters[END_TIME]
    mould = parameters[MOULD]
    poured = parameters[POURED_AT]
    touch = 1.0 / parameters[TOUCH]
    step = end / _SOAKS
    if step <= 0.0:
        return
    for number in range(_SOAKS):
        now = (number + 1) * step
        set_step(MEETS * step, held.keep, held.gain)
        look(
            held.keep,
            held.gain,
            held.weight,
            held.swift,
            held.steeped,
            held.past,
            held.resistance,
        )
        for body in range(bodies):
            held.flow[body] = 0.0
            touched = min(max((now - held.wetted[body]) / step, 0.0), 1.0)
            if held.volume[body] > 0.0 and touched > 0.0:
                since = held.wetted[body]
                share = (now - since) / max(end - since, step)
                metal = poured + min(share, 1.0) * (held.temperature[body] - poured)
                drawn = (metal - mould - held.past[body]) / (touch + held.resistance[body])
                held.flow[body] = touched * drawn
        set_step(step, held.keep, held.gain)
        soak(held.keep, held.gain, held.flow, held.steeped)
        for place in range(SLICES):
            if held.volume[bodies + place] <= 0.0:
                continue
            rings_out(
                place,
                step,
                parameters[TOUCH] * held.slice_face[place],
                0.0,
                parameters[ROOM],
                held.ring_room,
                held.ring_way,
                held.ring,
                held.ring_share,
                held.ring_free,
                held.ring_hold,
                held.ring_drawn,
            )
            rings_in(place, poured, held.ring, held.ring_share, held.ring_free)
