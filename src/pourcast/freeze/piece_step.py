"""Piece step: the piece in one step, before and after the button is known."""

from pourcast import units as si
from pourcast.freeze.across_rings import close_rings
from pourcast.freeze.columns import (
    FEED_STOP,
    GAP,
    LIQUID_CONDUCTIVITY,
    MOULD,
    SOLID_CONDUCTIVITY,
    TOUCH,
)
from pourcast.freeze.conduct import put_in, put_out
from pourcast.freeze.predict import faces, flows, lines, ways
from pourcast.freeze.room import Room
from pourcast.freeze.wall import MEETS, look, set_step, soak
from pourcast.kernels import kernel

_SPENT = 0.03  # of the heat of the button; the quench moves by less


@kernel
def begin_piece(
    step: si.Second,
    coldest: si.JoulePerKilogram,
    near: si.Places,
    far: si.Places,
    parameters: si.Table,
    held: Room,
) -> None:
    """Work out what the piece is to the gate in this step.

    Parameters
    ----------
    step : float [s]
    coldest : float [J/kg]
        Heat of metal as cold as the mould.
    near, far : array of int, shape (bodies,)
    parameters : array [by column], shape (PARAMETERS,)
    held : Room
        ``pull`` and ``node_given`` of node 0 are what the button sees.
    """
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
    faces(
        parameters[TOUCH],
        parameters[GAP],
        parameters[FEED_STOP],
        held.face,
        held.ends,
        held.solid,
        held.past,
        held.resistance,
        held.lost,
        held.returned,
        held.soaked,
        held.unsoaked,
    )
    ways(
        parameters[LIQUID_CONDUCTIVITY],
        parameters[SOLID_CONDUCTIVITY],
        held.solid,
        held.near_size,
        held.far_size,
        held.near_way,
        held.far_way,
    )
    lines(
        step,
        parameters[MOULD],
        coldest,
        held.base_heat,
        held.base_temperature,
        held.rise,
        held.mass,
        held.heat,
        held.temperature,
        held.slope,
        held.lost,
        held.returned,
        held.near_way,
        held.far_way,
        held.fed,
        held.lead,
        held.stiff,
        held.right,
    )
    put_out(
        near,
        far,
        held.near_way,
        held.far_way,
        held.stiff,
        held.right,
        held.pull,
        held.share,
        held.ease,
        held.node_ease,
        held.node_given,
        held.free,
    )


@kernel
def end_piece(
    step: si.Second,
    near: si.Places,
    far: si.Places,
    cut: si.Integers,
    meets: si.Integers,
    parameters: si.Table,
    held: Room,
) -> si.Watt:
    """Work out the temperatures and flows of the piece; return what its mould gets [W].

    Parameters
    ----------
    step : float [s]
    near, far : array of int, shape (bodies,)
    cut, meets : array of int, shape (rings,)
    parameters : array [by column], shape (PARAMETERS,)
    held : Room
        ``found`` of the button and ``node_found`` of the gate are known.

    Returns
    -------
    float [W]
    """
    bodies = near.size
    mould = parameters[MOULD]
    put_in(
        near,
        far,
        held.far_way,
        held.share,
        held.node_ease,
        held.node_given,
        held.free,
        held.found,
        held.node_found,
    )
    if cut.size > 0:
        close_rings(bodies, near, far, cut, meets, held.found, held.node_found, held)
    drawn = flows(
        bodies,
        mould,
        near,
        far,
        held.lost,
        held.returned,
        held.soaked,
        held.unsoaked,
        held.lead,
        held.near_way,
        held.far_way,
        held.temperature,
        held.found,
        held.node_found,
        held.flow,
        held.fed,
        held.given,
    )
    for ring in range(cut.size):
        # The far end of a cut body is its own; what runs over the cut comes beside it.
        held.given[cut[ring]] -= held.over[ring]
        held.fed[cut[ring]] -= held.over[ring]
    set_step(step, held.keep, held.gain)
    soak(held.keep, held.gain, held.flow, held.steeped)
    return drawn


@kernel
def piece_is_spent(bodies: int, coldest: si.JoulePerKilogram, held: Room) -> bool:
    """Return whether the piece holds little heat over that of the mould beside the button.

    Parameters
    ----------
    bodies : int
    coldest : float [J/kg]
        Heat of metal as cold as the mould.
    held : Room

    Returns
    -------
    bool
    """
    piece = 0.0
    for body in range(bodies):
        piece += held.mass[body] * (held.heat[body] - coldest)
    button = 0.0
    for body in range(bodies, held.mass.size):
        button += held.mass[body] * (held.heat[body] - coldest)
    return piece < _SPENT * button
