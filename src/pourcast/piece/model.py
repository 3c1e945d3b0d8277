"""The original as measured, and the network of thin passages that it leaves.

A `Piece` is what the caster measured: a button and parts that grow on each
other.  A `Network` is what metal meets: segments between nodes, each with a
section at both ends and its place in the flask as it stands at the pour, the
button up and the piece hanging.  The z axis points up and is 0 where the
button ends and the piece begins (the gate).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError

Shape = Literal["rod", "blade", "lump"]

USUAL_MATERIALS: Mapping[str, str] = {"rod": "herb_stem", "blade": "leaf", "lump": "seed_head"}
"""What a part that was read from a scan or a photograph is taken for, until the caster says
what it is: key of its record; estimate."""

ROUND, RECTANGLE, ELLIPSE = 0, 1, 2
"""Sections of a segment: of a rod, of a blade, of a lump that is not round."""

NINE_OF_TEN = 1.645
"""Standard deviations to each side of the mean that hold nine of ten, of a normal distribution.

Standard table of that distribution (from memory: 1.6449).
"""

MOST_MEMBERS = 2_000
"""Members of a piece; more would be hairs, which need another model (estimate)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the original, alike for all its members.

    Parameters
    ----------
    name : str
        As in the piece file.
    parent : str
        Name of the part that it grows on; "button" for the first.
    shape : {"rod", "blade", "lump"}
        A rod is round, a blade flat, a lump an ellipsoid.
    count : int
        Members on each member of the parent.
    length : float [m]
        Along the part, from the surface of its parent.
    width, thickness : pair of float [m]
        At its base and its tip.  A rod has its diameter in both.  A lump has
        its largest width and thickness, twice the same.
    position : pair of float [-]
        Place along the parent, 0 at the base of it and 1 at its tip.  Both the
        same: a whorl.  Different: a row, spaced evenly from the first to the second.
    angle : float [rad]
        From the direction of the parent; 0 goes on straight.
    turn : float [rad]
        About the direction of the parent, of the first member.
    turn_step : float [rad]
        From one member to the next.
    bend : float [rad]
        How far the direction turns from base to tip; a crozier has several turns.
    coat : float [m]
        Wax or lacquer put on, on every side; the cavity is larger by it.
    material : str
        Key of a plant or wax record.
    tip_on : str or None
        Name of a part that the tip is joined to (a thread of wax, a leaf
        that touches); the joint makes a loop.
    tip_position : float [-]
        Place along that part.
    measure_error : float or None [-]
        One standard deviation of width and thickness, over them; None: as of a caliper.
    """

    name: str
    parent: str
    shape: Shape
    count: int
    length: si.Metre
    width: tuple[si.Metre, si.Metre]
    thickness: tuple[si.Metre, si.Metre]
    position: tuple[si.Ratio, si.Ratio]
    angle: si.Radian
    turn: si.Radian
    turn_step: si.Radian
    bend: si.Radian
    coat: si.Metre
    material: str
    tip_on: str | None = None
    tip_position: si.Ratio = 1.0
    measure_error: si.Ratio | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """The wax button: a cone that becomes the cup.

    Parameters
    ----------
    diameter : float [m]
        At the rim, where the metal is poured.
    height : float [m]
        From the rim down to the gate.
    gate_diameter : float [m]
        Where the piece begins.
    material : str
        Key of a wax record.
    tilt : float [rad]
        Lean of the piece from hanging straight down.
    top : {"open", "covered"}
        Whether its top is covered after the pour, with fibre or powder, to keep it hot.
    """

    diameter: si.Metre
    height: si.Metre
    gate_diameter: si.Metre
    material: str
    tilt: si.Radian = 0.0
    top: Literal["open", "covered"] = "open"


@dataclass(frozen=True, slots=True, kw_only=True)
class Vent:
    """A thin open way from the tip of a part to the outside.

    Parameters
    ----------
    part : str
        Name of the part whose every member has one, at its tip.
    diameter, length : float [m]
    leads_to : {"air", "vacuum"}
        To the open air above, or to the wall that the pump draws on.
    """

    part: str
    diameter: si.Metre
    length: si.Metre
    leads_to: Literal["air", "vacuum"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """The original on its button, as measured.

    Parameters
    ----------
    name : str
    parts : tuple of Part
        Each after its parent.
    button : Button
    vents : tuple of Vent
    displaced_volume : float or None [m³]
        Of the original without its button, by displaced water.
    weighed_mass : float or None [kg]
        Of the original without its button.
    """

    name: str
    parts: tuple[Part, ...]
    button: Button
    vents: tuple[Vent, ...] = ()
    displaced_volume: si.CubicMetre | None = None
    weighed_mass: si.Kilogram | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """Passages of the cavity as the flask stands at the pour.

    Node 0 is the gate.  A segment joins two nodes and is written from the node
    nearer to the gate along the piece.  Without joints the network is a tree
    and segments come after the segment that leads to them.

    Parameters
    ----------
    start, end : array of int, shape (segments,)
        Nodes.
    start_position, end_position : array [m], shape (segments, 3)
        Where the middle line of the segment begins and ends; x and y from the axis of the
        flask, z up from the gate.  A part begins on the surface of its
        parent, so the ends of two segments at one node may differ.
    section : array of int, shape (segments,)
        ROUND, RECTANGLE or ELLIPSE.
    length : array [m], shape (segments,)
    width, thickness : array [m], shape (segments, 2)
        At start and end, coat included; equal where the section is round.
    member : array of int, shape (segments,)
        Which member of which part; a member is one spine, one leaf.
    member_part : array of int, shape (members,)
        Index into ``part_names``.
    part_names : tuple of str
    vent_diameter, vent_length : array [m], shape (nodes,)
        Of a vent that leaves from a node; diameter 0 where there is none.
    vent_to_vacuum : array of bool, shape (nodes,)
    is_joint : array of bool, shape (segments,)
        True for the last segment of a part whose tip is joined to another.
    across : array [-] or None, shape (segments, 3)
        Direction of the width, square to the segment; None: not known.
    measure_error : array [-] or None, shape (parts,)
        One standard deviation of width and thickness, over them; nan: as of a caliper.
        None: so for all parts.
    """

    start: si.Integers
    end: si.Integers
    start_position: si.Metres
    end_position: si.Metres
    section: si.Integers
    length: si.Metres
    width: si.Metres
    thickness: si.Metres
    member: si.Integers
    member_part: si.Integers
    part_names: tuple[str, ...]
    vent_diameter: si.Metres
    vent_length: si.Metres
    vent_to_vacuum: si.Booleans
    is_joint: si.Booleans
    across: si.Ratios | None = None
    measure_error: si.Ratios | None = None


def first_segments(network: Network) -> si.Integers:
    """Return the first segment of each member, and one past the last of all.

    Parameters
    ----------
    network : Network

    Returns
    -------
    array of int, shape (members + 1,)

    Raises
    ------
    InputError
        If there is no segment, or they do not stand member by member.
    """
    if network.member.size == 0 or (np.diff(network.member) < 0).any():
        raise InputError("network", "a network", "", "segments in the order of their members")
    return np.searchsorted(network.member, np.arange(network.member_part.size + 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMeasures:
    """What a part comes to, all its members together.

    Parameters
    ----------
    name : str
    members : int
    volume : float [m³]
        Of the cavity, coat included.
    area : float [m²]
        Of the sides; ends that join are not counted.
    thinnest : float [m]
        Least way across, coat included.
    lowest, highest : float [m]
        Over the gate (below it: negative).
    reach : float [m]
        Farthest from the axis of the flask.
    """

    name: str
    members: int
    volume: si.CubicMetre
    area: si.SquareMetre
    thinnest: si.Metre
    lowest: si.Metre
    highest: si.Metre
    reach: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What the piece comes to.

    Parameters
    ----------
    parts : tuple of PartMeasures
    volume : float [m³]
        Of the cavity of the piece without the button.
    area : float [m²]
    thinnest : float [m]
    button_volume : float [m³]
    joint_overlap : float [m³]
        Volume of the small wedges that are counted twice or not at all where
        parts meet; an estimate, not taken off.
    original_volume : float [m³]
        Without coats.
    coat_volume : float [m³]
    lowest : float [m]
        Below the gate, so negative.
    reach : float [m]
        Radius about the axis of the flask that holds all of it.
    """

    parts: tuple[PartMeasures, ...]
    volume: si.CubicMetre
    area: si.SquareMetre
    thinnest: si.Metre
    button_volume: si.CubicMetre
    joint_overlap: si.CubicMetre
    original_volume: si.CubicMetre
    coat_volume: si.CubicMetre
    lowest: si.Metre
    reach: si.Metre
