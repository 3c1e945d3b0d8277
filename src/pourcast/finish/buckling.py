"""Buckling: how hard can a part be pushed on its end?

A straight part held at its root and free at its tip, pushed along itself, bows
out at the force P of the least answer of

    E I u'' + P u = 0,   u = 0 at the tip, u' = 0 at the root              (1)

where u is how far a place has moved from the line of the push.  Where the
section is the same all along, P = π² E I / (4 L²).  (1) is solved by putting a
guess of u into the second term and integrating twice, over and over: each turn
makes the error of u nine times less where the section is even.

A stub is crushed before it bows out: P is at most σ A of the thinnest section.

Left out: that the part is bent from the start or pushed off its axis, and that
the root gives way.  All three lower P.

Source: Euler (1744), from memory; the method is that of Vianello (1898), from
memory; values for tapers in Timoshenko and Gere, Theory of Elastic Stability
(1961), tables of chapter 2, from memory.
"""

from typing import Annotated, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.errors import SolveError, require_positive
from pourcast.finish.cantilever import second_moment, section_area
from pourcast.piece.model import Network

SquareMetresOfEnd: TypeAlias = Annotated[si.Floats, si.Unit("m²")]
SecondMoments: TypeAlias = Annotated[si.Floats, si.Unit("m⁴")]

_STEPS = 400
_MOST_TURNS = 200
_ENOUGH = 1e-9  # of P, from one turn to the next


def end_stiffness(moment: SecondMoments, length: si.Metres) -> SquareMetresOfEnd:
    """Return the force on the end at which columns bow out, over Young's modulus.

    Parameters
    ----------
    moment : array [m⁴], shape (columns, places)
        Second moments at even steps from the tip to the root; > 0.
    length : array [m], shape (columns,)
        > 0.

    Returns
    -------
    array [m²], shape (columns,)

    Raises
    ------
    InputError
        If a length or moment is not above 0.
    SolveError
        If it does not settle.
    """
    require_positive("moment", moment, "m⁴")
    require_positive("length", length, "m")
    step = 1.0 / (moment.shape[1] - 1)
    # In shares of the length and of the least moment, so that all numbers are near 1.
    least = moment.min(axis=1)
    soft = least[:, None] / moment
    bow = np.sin(np.linspace(0.0, np.pi / 2, moment.shape[1])) * np.ones_like(moment)
    last = np.zeros(len(moment))
    change = np.inf
    for _ in range(_MOST_TURNS):
        slope = _sum_to_end(bow * soft, step)
        new = _sum_from_start(slope, step)
        # Rayleigh's quotient: its error is the square of that of the bow.
        force = (bow * new * soft).sum(axis=1) / (new * new * soft).sum(axis=1)
        change = float(np.abs(force / np.where(last > 0.0, last, np.inf) - 1.0).max())
        if change < _ENOUGH:
            stiffness: SquareMetresOfEnd = force * least / length**2
            return stiffness
        last = force
        bow = new / new[:, -1:]
    raise SolveError("buckling of a part", _MOST_TURNS, change)


def of_parts(network: Network) -> tuple[SquareMetresOfEnd, si.SquareMetres]:
    """Return the stiffness of the ends of parts, and their thinnest sections.

    Parameters
    ----------
    network : Network

    Returns
    -------
    stiffness : array [m²], shape (parts,)
        See `end_stiffness`; the members of a part are alike.
    section : array [m²], shape (parts,)
    """
    members = np.searchsorted(network.member_part, np.arange(len(network.part_names)))
    shares = np.linspace(1.0, 0.0, _STEPS + 1)
    moments, sections, lengths = [], [], []
    for member in members:
        chosen = np.flatnonzero(network.member == member)
        kind = network.section[chosen][0]
        ends = np.concatenate([[0.0], np.cumsum(network.length[chosen])])
        way = shares * ends[-1]
        width = _at(way, ends, network.width[chosen])
        thickness = _at(way, ends, network.thickness[chosen])
        moments.append(second_moment(kind, width, thickness))
        sections.append(section_area(kind, width, thickness).min())
        lengths.append(ends[-1])
    return end_stiffness(np.array(moments), np.array(lengths)), np.array(sections)


def _at(way: si.Metres, ends: si.Metres, sizes: si.Metres) -> si.Metres:
    """Return a size along a member; where two segments meet, that of the first is kept."""
    return np.asarray(np.interp(way, ends, np.concatenate([sizes[:1, 0], sizes[:, 1]])))


def _sum_to_end(values: si.Floats, step: si.Ratio) -> si.Floats:
    pieces = 0.5 * step * (values[:, :-1] + values[:, 1:])
    back = np.cumsum(pieces[:, ::-1], axis=1)[:, ::-1]
    return np.hstack([back, np.zeros((len(values), 1))])


def _sum_from_start(values: si.Floats, step: si.Ratio) -> si.Floats:
    pieces = 0.5 * step * (values[:, :-1] + values[:, 1:])
    return np.hstack([np.zeros((len(values), 1)), np.cumsum(pieces, axis=1)])
