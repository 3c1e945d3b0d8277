"""Vents: does each thread end where the gas can go, or in the plaster?

A thread of wax leaves a way of radius a and length l behind.  It passes, in slow flow
of gas of viscosity μ,

    C = π a⁴/(8 μ l)                                                        (1)

where its end is open: over the rim, or under a pump at the steel of a perforated
flask or at the far end of the block of either flask.  One that ends in the block
passes there no more than the pores take from a half sphere as wide as the thread,

    C_b = 2 π K a/μ     so that     C_b/C = 16 K l/a³                       (2)

which for a thread of 1 mm, 20 mm long, in a block of 1e-13 m² is less than one part in
three thousand.  Such a thread is blind, and a pour is followed as if it were not there.

A thread is at least as long as the straight way from its tip to where it leads.  Left
out: threads that are led past a nearer wall to a farther one, or lie on other parts;
the seam between block and steel, through which a thread that stops just short of a
solid wall may breathe, which errs to the careful side.

Source: (1) Poiseuille's law; (2) Darcy's law about a sphere, half of it.
"""

from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.mould.model import Flask
from pourcast.piece.model import Network

SHORT_BY = 1e-3
"""By how much a thread may measure less than its way and still end there [m]: a rule is
read to 0.5 mm and a wax thread is pressed on; estimate."""


def ways_out(
    tips: si.Metres, flask: Flask, rim: si.Metre, *, to_pump: si.Booleans | bool
) -> si.Metres:
    """Return the straight way from each tip to where its thread may end [m].

    Parameters
    ----------
    tips : array [m], shape (tips, 3)
        As the network has them: the gate at 0, up is +z, the flask about the z axis.
    flask : Flask
    rim : float [m]
        Height of the open face over the gate, where the button ends.
    to_pump : array of bool, shape (tips,), or bool
        True: to where the pump draws; False: up to the air.

    Returns
    -------
    array [m], shape (tips,)
        0 where a tip reaches past it.
    """
    down = tips[:, 2] - (rim - flask.height)
    if flask.wall == "perforated":
        down = np.minimum(down, 0.5 * flask.inside_diameter - np.hypot(tips[:, 0], tips[:, 1]))
    return np.asarray(np.maximum(np.where(to_pump, down, rim - tips[:, 2]), 0.0))


def blind_ends(network: Network, flask: Flask, rim: si.Metre) -> si.Booleans:
    """Return from which nodes a thread leads that ends in the block, shape (nodes,).

    Parameters
    ----------
    network : Network
    flask : Flask
    rim : float [m]
        As `ways_out` takes it.

    Returns
    -------
    array of bool, shape (nodes,)
    """
    ways = ways_out(_places(network), flask, rim, to_pump=network.vent_to_vacuum)
    return np.asarray((network.vent_diameter > 0.0) & (network.vent_length < ways - SHORT_BY))


def parts_with_open_vents(network: Network, flask: Flask, rim: si.Metre) -> frozenset[str]:
    """Return the names of the parts that a thread leads from through which gas can leave.

    Parameters
    ----------
    network : Network
    flask : Flask
    rim : float [m]
        As `ways_out` takes it.

    Returns
    -------
    frozenset of str
    """
    leads = with_open_vents(network, flask, rim).vent_diameter > 0.0
    part = network.member_part[network.member[leads[network.end]]]
    return frozenset(network.part_names[each] for each in np.unique(part))


def with_open_vents(network: Network, flask: Flask, rim: si.Metre) -> Network:
    """Return a network with those vents alone that gas can leave through.

    Parameters
    ----------
    network : Network
    flask : Flask
    rim : float [m]
        As `ways_out` takes it.

    Returns
    -------
    Network
        The same where no thread is blind.
    """
    blind = blind_ends(network, flask, rim)
    if not blind.any():
        return network
    return replace(network, vent_diameter=np.where(blind, 0.0, network.vent_diameter))


def _places(network: Network) -> si.Metres:
    """Return where each node lies [m], shape (nodes, 3)."""
    places = np.zeros((network.vent_diameter.size, 3))
    places[network.start] = network.start_position
    places[network.end] = network.end_position
    return places
