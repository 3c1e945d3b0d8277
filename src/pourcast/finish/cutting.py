"""Cutting: where is the casting cut, how large is each cut, and what metal comes back?

The casting is cut where the work meets what is not of it: at the gate, at both
ends of each feed that the caster names, and at each vent.  With the rate s
at which a section A is sawn,

    time = sum of A / s                                                    (1)

The cavity of the volume V held metal that was solid at its freezing; cold, all
lengths are shorter by the contraction c, so the work weighs

    m = V (1 - c)³ ρ                                                       (2)

with ρ at 20 °C.  What was weighed out, less what is lost in melting and
pouring, less the work, comes back as returns:

    back = charge (1 - f) - m                                              (3)

with the share f of `pourcast.melt.model.MetalAccount`.  Left out: saw dust and
filings, up to 1 % of a small piece, and what ran out of a leaking block.  Both
make (3) too large.

Source: mass balance.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_positive
from pourcast.finish.cantilever import section_area
from pourcast.finish.model import Balance, Cut
from pourcast.melt.model import MetalAccount
from pourcast.piece.model import Measures, Network


def cuts(
    network: Network, feeds: tuple[str, ...], saw_rate: si.SquareMetrePerSecond
) -> tuple[Cut, ...]:
    """Return where the casting is cut, from the gate on.

    Parameters
    ----------
    network : Network
    feeds : tuple of str
        Parts that are cut off with the button.
    saw_rate : float [m²/s]
        > 0.

    Returns
    -------
    tuple of Cut

    Raises
    ------
    InputError
        If a feed is no part, no work is left, or the rate is not above 0.
    """
    require_positive("saw_rate", saw_rate, "m²/s")
    is_feed = _feeds(network, feeds)[network.member_part[network.member]]
    area = section_area(network.section, network.width[:, 0], network.thickness[:, 0])
    tip_area = section_area(network.section, network.width[:, 1], network.thickness[:, 1])
    names = np.array(network.part_names)[network.member_part[network.member]]
    from_feed = np.zeros(1 + max(int(network.start.max()), int(network.end.max())), dtype=bool)
    from_feed[0] = True
    from_feed[network.end[is_feed & ~network.is_joint]] = True
    at_gate = network.start == 0
    into = ~is_feed & from_feed[network.start]
    foot = is_feed & ~from_feed[network.start]
    found: list[Cut] = []
    for place, areas in (
        ("gate", area[into & at_gate]),
        *_of_each("feed into", names, into & ~at_gate, area),
        *_of_each("foot of", names, foot, area),
        *_of_each("tip of", names, is_feed & network.is_joint, tip_area),
        *_vents(network, names),
    ):
        if areas.size:
            found.append(
                Cut(
                    place=place,
                    count=int(areas.size),
                    area=float(areas.max()),
                    time=float(areas.sum()) / saw_rate,
                )
            )
    return tuple(found)


def balance(
    network: Network,
    measures: Measures,
    account: MetalAccount,
    feeds: tuple[str, ...],
    *,
    solid_density: si.KilogramPerCubicMetre,
    contraction: si.Ratio,
) -> Balance:
    """Return where the metal of the charge is after the casting, equations (2) and (3).

    Parameters
    ----------
    network : Network
    measures : Measures
    account : MetalAccount
    feeds : tuple of str
    solid_density : float [kg/m³]
        At 20 °C; > 0.
    contraction : float [-]
        Linear, from the freezing to 20 °C; 0 to 0.1.

    Returns
    -------
    Balance
        ``button`` and ``back`` are 0 where the charge does not even fill the work.

    Raises
    ------
    InputError
        If a value is outside its limits, or a feed is no part.
    """
    require_positive("solid_density", solid_density, "kg/m³")
    require_between("contraction", contraction, "", 0.0, 0.1)
    dense = solid_density * (1.0 - contraction) ** 3
    is_feed = _feeds(network, feeds)
    volumes = np.array([part.volume for part in measures.parts])
    in_feeds = float(volumes[is_feed].sum()) * dense
    in_vents = float((math.pi / 4 * network.vent_diameter**2 * network.vent_length).sum()) * dense
    charged = account.new_metal + account.return_metal
    lost = charged * account.lost_metal / account.metal
    work = max(measures.volume * dense - in_feeds, 0.0)
    left = max(charged - lost - work, 0.0)
    button = max(left - in_feeds - in_vents, 0.0)
    return Balance(
        charged=charged,
        lost=lost,
        work=min(work, charged - lost),
        feeds=min(in_feeds, left),
        vents=min(in_vents, max(left - in_feeds, 0.0)),
        button=button,
        back=left,
    )


def _feeds(network: Network, feeds: tuple[str, ...]) -> si.Booleans:
    for name in feeds:
        if name not in network.part_names:
            raise InputError("feeds", name, "", "the name of a part")
    chosen = np.isin(np.array(network.part_names), feeds)
    if chosen.all():
        raise InputError("feeds", ", ".join(feeds), "", "fewer than all parts")
    return chosen


def _of_each(
    place: str, names: si.Integers, chosen: si.Booleans, area: si.SquareMetres
) -> list[tuple[str, si.SquareMetres]]:
    """Return the sections of the chosen segments of each part."""
    parts = dict.fromkeys(names[chosen].tolist())
    return [(f"{place} {name}", area[chosen & (names == name)]) for name in parts]


def _vents(network: Network, names: si.Integers) -> list[tuple[str, si.SquareMetres]]:
    """Return the sections of the vents of each part."""
    last = np.flatnonzero(np.append(np.diff(network.member) > 0, True))
    diameter = network.vent_diameter[network.end[last]]
    area = np.asarray(math.pi / 4 * diameter**2)
    vented = diameter > 0.0
    parts = dict.fromkeys(names[last][vented].tolist())
    return [(f"vent of {name}", area[vented & (names[last] == name)]) for name in parts]
