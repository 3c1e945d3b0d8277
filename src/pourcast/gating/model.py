"""Flasks that are to be chosen from, and changes of the wax that can be taken or dropped."""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.sheet.edit import Edit

ProposalKind = Literal["feeder", "gate", "vent", "join", "tilt", "flask"]

Room = Literal["usual", "tight", "none"]
"""Wall and cover as usual in practice; no less than the least seen; less than that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaxPiece:
    """Wax to cut for a proposal.

    Parameters
    ----------
    what : str
        Such as "feeder" or "vent thread".
    diameter : float [m]
    length : float [m]
        Of each, with what is melted into the joints.
    count : int
    """

    what: str
    diameter: si.Metre
    length: si.Metre
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """What a proposal costs beside the wax.

    Parameters
    ----------
    bench : float [s]
        To fit the wax, and to cut and clean the metal afterwards; an estimate.
    metal : float [kg]
        More to melt; below 0 where it is less.  Most of it comes back as returns.
    """

    bench: si.Second
    metal: si.Kilogram


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """One change of the wax, the lean or the flask, that can be shown, taken or dropped.

    It claims no gain: that is worked out by a forecast of the changed piece file.

    Parameters
    ----------
    name : str
        Short, and its own among the proposals of a piece: "feeder to head".
    kind : {"feeder", "gate", "vent", "join", "tilt", "flask"}
    part : str or None
        Name of the part that it is for; None: for all of the piece.
    words : str
        What to do and why, in whole sentences.
    edits : tuple of Edit
        Of the piece file; see `pourcast.gating.take`.
    wax : tuple of WaxPiece
        To cut.
    clean_off : str
        Where it is taken off afterwards; "" where nothing is left.
    costs : Costs
    """

    name: str
    kind: ProposalKind
    part: str | None
    words: str
    edits: tuple[Edit, ...]
    wax: tuple[WaxPiece, ...]
    clean_off: str
    costs: Costs


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle seen along the axis of the flask.

    Parameters
    ----------
    x, y : float [m]
        Of its middle, from the axis.
    radius : float [m]
    """

    x: si.Metre
    y: si.Metre
    radius: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfFlask:
    """A kind of flask that stands on the shelf.

    Parameters
    ----------
    name : str
    inside_diameter, height : float [m]
    wall : {"solid", "perforated"}
    wall_thickness : float [m]
        Of the steel.
    count : int
        How many there are.
    """

    name: str
    inside_diameter: si.Metre
    height: si.Metre
    wall: Literal["solid", "perforated"]
    wall_thickness: si.Metre
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """How the piece stands on its button, and what that comes to.

    Parameters
    ----------
    turn : float [rad]
        About its own direction, from how it stands in the piece file.
    tilt : float [rad]
        From hanging straight down.
    reach : float [m]
        Radius about the axis that holds piece and button.
    depth : float [m]
        From the rim of the button to the lowest point.
    level_area : float [m²]
        Undersides near level, which hold bubbles.
    rising : int
        Members whose tip stands higher than their base.
    """

    turn: si.Radian
    tilt: si.Radian
    reach: si.Metre
    depth: si.Metre
    level_area: si.SquareMetre
    rising: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """A pose in a flask.

    Parameters
    ----------
    pose : Pose
    wall : float [m]
        Least block beside piece and button; below 0: it does not go in.
    cover : float [m]
        Block over the far end; below 0: the flask is too low.
    room : {"usual", "tight", "none"}
    """

    pose: Pose
    wall: si.Metre
    cover: si.Metre
    room: Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What a full flask weighs and how much heat it takes.

    Parameters
    ----------
    steel : float [kg]
    fresh : float [kg]
        Slurry and steel, on the bench.
    burnt : float [kg]
        Dry block and steel, out of the kiln.
    poured : float [kg]
        The same with the metal in it.
    heat : float [J]
        That block, water and steel take from the room to the top of the burnout.
    power_time : float or None [s]
        In which the kiln gives as much at full power; None: its power is not said.
    lag : float [s]
        By which the middle of the block comes after its wall on a steady ramp.
    """

    steel: si.Kilogram
    fresh: si.Kilogram
    burnt: si.Kilogram
    poured: si.Kilogram
    heat: si.Joule
    power_time: si.Second | None
    lag: si.Second


@dataclass(frozen=True, slots=True, kw_only=True)
class FlaskFit:
    """One flask of the shelf with the piece in it.

    Parameters
    ----------
    flask : ShelfFlask
    planned : Stand
        As the piece file says.
    best : Stand
        Turned and leaned for the most room; the same as ``planned`` where nothing is won.
    load : Load or None
        None: the piece does not go in.
    """

    flask: ShelfFlask
    planned: Stand
    best: Stand
    load: Load | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What would have to be taken off a part so that it goes into a flask.

    Parameters
    ----------
    part : str
    members : int
        That reach past what the flask leaves.
    length : float [m]
        To take off the tips of those, at most.
    """

    part: str
    members: int
    length: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class FlaskChoice:
    """Which flask of the shelf to take.

    Parameters
    ----------
    needed_diameter, needed_height : float [m]
        Inside, for the piece as it stands, with the usual wall and cover.
    circle : Circle
        The smallest that holds piece and button, wherever the middle of the flask is.
    fits : tuple of FlaskFit
        The smallest flask first.
    taken : FlaskFit or None
        The smallest with the usual room; else the smallest that it goes into tightly; None: none.
    needs_pose : bool
        True: only as its ``best`` stand.
    nearest : FlaskFit
        ``taken``, or the flask that lacks least.
    cuts : tuple of Cut
        To go into ``nearest`` with the least wall; empty where it goes in.
    freed : Pose
        With the least undersides near level that still goes into ``nearest``.
    """

    needed_diameter: si.Metre
    needed_height: si.Metre
    circle: Circle
    fits: tuple[FlaskFit, ...]
    taken: FlaskFit | None
    needs_pose: bool
    nearest: FlaskFit
    cuts: tuple[Cut, ...]
    freed: Pose
