"""The casting out of its mould: how strong each part is, and what may touch it.

A draw is one casting with one set of the values that nobody knows exactly.
The worst member of a part is, draw by draw, the one that gives way first.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal, TypeAlias

from pourcast import units as si

Act = Literal["wheel", "hand brush", "pressure blast", "light blast only", "leave"]
"""What may be done to a part, from the roughest to nothing at all."""

SquareMetreOfWay: TypeAlias = Annotated[si.Floats, si.Unit("m²")]
PerMetres: TypeAlias = Annotated[si.Floats, si.Unit("1/m")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """How the metal bends, draw by draw.

    Parameters
    ----------
    yield_strength : array [Pa], shape (draws,)
        As cast: beyond it the metal stays bent.
    youngs_modulus : array [Pa], shape (draws,)
    """

    yield_strength: si.Pascals
    youngs_modulus: si.Pascals


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """How hard each tool pushes, draw by draw.

    Parameters
    ----------
    hand_brush, wheel, water_jet : array [N], shape (draws,)
        On one part, at its tip.
    blast, light_blast : array [Pa], shape (draws,)
        On the whole face of a part, square to it.
    """

    hand_brush: si.Newtons
    wheel: si.Newtons
    water_jet: si.Newtons
    blast: si.Pascals
    light_blast: si.Pascals


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearers:
    """Which members bear a load on a member, and how well: one row for each pair.

    A member bears the loads on itself and on all that grows on it.  Rows are
    in the order of the loaded members; the first row of each is the member
    itself, then its parent, and so on to the gate.  All numbers are of the
    sizes as measured; see `pourcast.finish.chain`.

    Parameters
    ----------
    loaded, bearer : array of int, shape (pairs,)
        Members.
    first : array of int, shape (members,)
        First row of each loaded member.
    tip, middle : array [m²], shape (pairs,)
        Least section modulus over lever: times the yield strength it is the
        force on the tip, or half-way along, at which the bearer yields.
    face : array [-], shape (pairs,)
        The same for an even pressure on the face of the loaded member.
    give : array [1/m], shape (pairs,)
        Deflection of the tip for a unit of force over Young's modulus.
    face_give : array [m], shape (pairs,)
        The same for a unit of pressure on the face over Young's modulus.
    """

    loaded: si.Integers
    bearer: si.Integers
    first: si.Integers
    tip: SquareMetreOfWay
    middle: SquareMetreOfWay
    face: si.Ratios
    give: PerMetres
    face_give: si.Metres


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What each part bears, draw by draw; the worst member of each part.

    Parameters
    ----------
    tip_force, middle_force : array [N], shape (draws, parts)
        Across the part, at which something on the way to the gate yields.
    end_force : array [N], shape (draws, parts)
        Along the part, at which it buckles or is crushed.
    pressure : array [Pa], shape (draws, parts)
        On its face.
    deflection : array [m], shape (draws, parts)
        Of the tip under the hand brush, or where something yields; the largest.
    blast_deflection : array [m], shape (draws, parts)
        The same under the light blast.
    """

    tip_force: si.Newtons
    middle_force: si.Newtons
    end_force: si.Newtons
    pressure: si.Pascals
    deflection: si.Metres
    blast_deflection: si.Metres


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFinish:
    """What may touch a part.

    Parameters
    ----------
    name : str
    members : int
    act : str
        The roughest act that is allowed.
    allowed : tuple of str
        All acts that are allowed.
    bent : mapping of str to float [-]
        For each act but "leave", the share of the draws in which the worst member bends.
    bent_by_water : float [-]
        The same for a water jet at the break-out.
    bends_at : str
        The part that gives way first under a push on the tip: itself, or one that it grows on.
    tip_force, middle_force, end_force : float [N]
        Median of the worst member.
    tip_force_low : float [N]
        5th percentile.
    pressure : float [Pa]
        Median of the worst member.
    deflection, blast_deflection : float [m]
        Median of the worst member under the hand brush and under the light blast.
    """

    name: str
    members: int
    act: Act
    allowed: tuple[Act, ...]
    bent: Mapping[Act, si.Ratio]
    bent_by_water: si.Ratio
    bends_at: str
    tip_force: si.Newton
    middle_force: si.Newton
    end_force: si.Newton
    tip_force_low: si.Newton
    pressure: si.Pascal
    deflection: si.Metre
    blast_deflection: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One place where the casting is cut.

    Parameters
    ----------
    place : str
        "gate", or "feed into", "foot of", "tip of" or "vent of" and the part.
    count : int
        Like cuts.
    area : float [m²]
        Section of one.
    time : float [s]
        To saw all of them.
    """

    place: str
    count: int
    area: si.SquareMetre
    time: si.Second


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """Where the metal of the charge is after the casting.

    Parameters
    ----------
    charged : float [kg]
        Weighed out.
    lost : float [kg]
        To skimming and splash.
    work : float [kg]
        In the piece, with the stumps that are filed down.
    feeds, vents : float [kg]
        Cut off.
    button : float [kg]
        What is left: button, and metal poured on top.
    back : float [kg]
        Feeds, vents and button: returns for another charge.
    """

    charged: si.Kilogram
    lost: si.Kilogram
    work: si.Kilogram
    feeds: si.Kilogram
    vents: si.Kilogram
    button: si.Kilogram
    back: si.Kilogram


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishCase:
    """All that the finishing of one forecast starts from.

    Parameters
    ----------
    strength : Strength
    loads : Loads
    section_scale : array [-], shape (draws, members)
        True width and thickness over those measured.
    saw_rate : float [m²/s]
        Section sawn in a second.
    solid_density : float [kg/m³]
        At 20 °C.
    contraction : float [-]
        Linear, of the solid from its freezing to 20 °C.
    feeds : tuple of str
        Parts that are not of the work and are cut off with the button.
    """

    strength: Strength
    loads: Loads
    section_scale: si.Ratios
    saw_rate: si.SquareMetrePerSecond
    solid_density: si.KilogramPerCubicMetre
    contraction: si.Ratio
    feeds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishResult:
    """How the casting can be cleaned and cut.

    Parameters
    ----------
    parts : tuple of PartFinish
    cuts : tuple of Cut
    balance : Balance
    """

    parts: tuple[PartFinish, ...]
    cuts: tuple[Cut, ...]
    balance: Balance
