"""Patterns: what do unit loads do to each member by itself?

Loads and shifts of a whole piece are kept about one point, the gate.  A force f
at the place x is the wrench (f, x × f).  A member that bends by the curvature κ
over a short length ds at x turns all that lies beyond by κ ds; seen from the
gate that is the twist (x × κ ds, κ ds), and a point p beyond moves by

    u(p) = first half + second half × p                                    (1)

So wrenches and twists of a chain simply add.  With the moment about the place x
of all that lies beyond it, M = m - x × f for the wrench (f, m), and the
directions t along the member, a along its width and n through its thickness,

    κ = a (a·M)/(E I_t) + n (n·M)/(E I_b) + t (t·M)/(G J)                    (2)

for which I and J are those of `pourcast.mould.stiffness`.  The patterns, in
their order, per unit of what stands in brackets:

    0, 1   lift of the original and of its coat [density step, kg/m³]
    2 - 4  yield part of the drag of a flow up, along x, along y [Pa]
    5 - 7  viscous part, the same flows [Pa·s · m/s]
    8 - 10 twice the root of both [root of the product]                    (3)

The flow of a direction e meets each place along t, a and n by its share e·t and
so on.  Up is up as the flask stands while it is filled: button down, the piece
as it stands at the pour turned over.

Left out: shear; that a part which leans meets the flow in another way; slanted
flow pushes more square to a rod than its share says (slender bodies in plastic
flow), so drag errs to the small side for slants.

Source: statics; beam theory of Euler and Bernoulli.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.mould.drag import viscous_numbers, yield_widths
from pourcast.mould.model import Limbs, Patterns
from pourcast.mould.places import (
    PLACES,
    WEIGHTS,
    cross,
    frames,
    section_moments,
    sizes_at_places,
)
from pourcast.mould.stiffness import areas, core, twist_moment
from pourcast.piece.model import Network

LIFT_CORE, LIFT_COAT = 0, 1
YIELD, VISCOUS, BOTH = (2, 3, 4), (5, 6, 7), (8, 9, 10)
"""Numbers of the patterns, for a flow up, along x and along y."""

_UP = np.array([0.0, 0.0, -1.0])  # as the flask stands while it is filled
_FLOWS = np.array([_UP, [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])


def _turning() -> si.Ratios:
    """Return what turns loads at the places into the moment of what lies beyond each of them."""
    powers = np.arange(PLACES.size)
    rest = (1.0 - PLACES[:, None] ** (powers + 1)) / (powers + 1)
    turn = (1.0 - PLACES[:, None] ** (powers + 2)) / (powers + 2)
    return np.asarray(
        (turn - PLACES[:, None] * rest) @ np.linalg.inv(np.vander(PLACES, increasing=True))
    )


_TURN = _turning()


def patterns(
    network: Network,
    found: Limbs,
    *,
    coats: si.Metres,
    lump: si.Booleans,
    room: si.Metre,
) -> Patterns:
    """Return what unit loads do to each member.

    Parameters
    ----------
    network : Network
    found : Limbs
        Of this network.
    coats : array [m], shape (parts,)
        On every side; 0 or more.
    lump : array of bool, shape (parts,)
        True for parts that are lumps.
    room : float [m]
        Inside diameter of the flask.

    Returns
    -------
    Patterns

    Raises
    ------
    InputError
        If the shapes do not go together, or a size is not above 0.
    """
    wanted = (len(network.part_names),)
    if np.shape(coats) != wanted or np.shape(lump) != wanted:
        raise InputError("coats and lump", np.shape(coats), "", f"of shape {wanted}")
    frame = frames(network)
    places = (
        network.start_position[:, None]
        + PLACES[:, None] * ((network.end_position - network.start_position)[:, None])
    )
    core_moment, coat_moment = section_moments(network, found, coats, lump)
    load = _loads(network, frame, coats, lump, room)
    step = network.length[:, None] * WEIGHTS

    whole = core_moment + coat_moment
    soft = 1.0 / np.stack([twist_moment(whole), whole[..., 0], whole[..., 1]], axis=-1)
    # Rows of the frame: along, width, thickness.  A turn about the width bends the thickness.
    give = np.einsum("sgk,ski,skj->sgij", soft, frame, frame)

    force = np.einsum("sg,sgip->sip", step, load)
    moment = np.einsum("sg,sgip->sip", step, cross(places[..., None], load))
    wrench = np.concatenate([force, moment], axis=1)
    after = _after(wrench, found, network.member)

    turning = np.einsum("gh,ship->sgip", _TURN, load) * network.length[:, None, None, None] ** 2
    along = np.broadcast_to(frame[:, None, 0, :, None], turning.shape)
    bent = after[:, None, 3:] - cross(places[..., None], after[:, None, :3]) + cross(along, turning)
    curve = np.einsum("sgij,sgjp->sgip", give, bent)
    turn = np.einsum("sg,sgip->sip", step, curve)
    shift = np.einsum("sg,sgip->sip", step, cross(places[..., None], curve))
    twist = np.concatenate([shift, turn], axis=1)
    until = _until(twist, found, network.member)

    return Patterns(
        wrench=np.add.reduceat(wrench, found.first, axis=0),
        tip=until[found.last],
        station=until[found.station_segment],
        stretch=_stretches(network, found, places, step, give),
    )


def _loads(
    network: Network, frame: si.Ratios, coats: si.Metres, lump: si.Booleans, room: si.Metre
) -> si.Floats:
    """Return the load on unit length, shape (segments, places, 3, patterns); see (3)."""
    part = network.member_part[network.member]
    width, thickness = sizes_at_places(network)
    coat = coats[part][:, None]
    kind = network.section[:, None]
    inner = areas(kind, core(width, coat), core(thickness, coat))
    outer = areas(kind, width, thickness) - inner
    load = np.empty((*width.shape, 3, 2 + 3 * len(_FLOWS)))
    load[..., LIFT_CORE] = si.GRAVITY * inner[..., None] * _UP
    load[..., LIFT_COAT] = si.GRAVITY * outer[..., None] * _UP
    balls = lump[part][:, None] & np.ones_like(kind, dtype=bool)
    firm = yield_widths(kind, balls, width, thickness)
    flowing = viscous_numbers(balls, width, thickness, room)
    share = np.einsum("ski,fi->sfk", frame, _FLOWS)
    for numbers, size in (
        (YIELD, firm),
        (VISCOUS, flowing),
        (BOTH, 2.0 * np.sqrt(firm * flowing)),
    ):
        for flow, number in enumerate(numbers):
            load[..., number] = np.einsum("sgk,sk,ski->sgi", size, share[:, flow], frame)
    return load


def _stretches(
    network: Network, found: Limbs, places: si.Metres, step: si.Metres, give: si.Floats
) -> si.Floats:
    """Return the compliance of the way to each station from the one before it."""
    zero = np.zeros(places.shape[:2])
    x, y, z = places[..., 0], places[..., 1], places[..., 2]
    turned = np.stack(
        [
            np.stack([zero, -z, y], axis=-1),
            np.stack([z, zero, -x], axis=-1),
            np.stack([-y, x, zero], axis=-1),
        ],
        axis=-2,
    )
    lever = np.concatenate([turned, np.broadcast_to(np.eye(3), turned.shape)], axis=-2)
    each = np.einsum("sg,sgai,sgij,sgbj->sab", step, lever, give, lever)
    until = _until(each, found, network.member)[found.station_segment]
    same = np.diff(found.station_member, prepend=-1) == 0
    before = np.zeros_like(until)
    before[same] = until[np.flatnonzero(same) - 1]
    return until - before


def _until(each: si.Floats, found: Limbs, member: si.Integers) -> si.Floats:
    """Return the sum over the segments of a member from its base to each of them."""
    total = np.cumsum(each, axis=0)
    return np.asarray(total - (total - each)[found.first][member])


def _after(each: si.Floats, found: Limbs, member: si.Integers) -> si.Floats:
    """Return the sum over the segments of a member beyond each of them."""
    until = _until(each, found, member)
    return np.asarray(until[found.last][member] - until)
