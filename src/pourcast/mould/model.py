"""The flask, the powder and water, what they come to, and the original in the slurry.

A draw is one investing with one set of the values that nobody knows exactly.
"""

from dataclasses import dataclass
from typing import Annotated, Literal, TypeAlias

from pourcast import units as si

Wall = Literal["solid", "perforated"]

State = Literal["dry", "fresh", "soaked"]
"""How the original goes into the slurry."""

When = Literal["rise", "side", "froth", "still"]
"""The slurry rises, flows round from the side, froths in the vacuum chamber, or stands."""

Pusher = Literal["yield stress", "viscosity", "buoyancy"]
"""What bends a part most."""

Wrenches: TypeAlias = Annotated[si.Floats, si.Unit("N and N·m")]
"""Force and its moment about the gate: six rows, three of each."""

Twists: TypeAlias = Annotated[si.Floats, si.Unit("m and rad")]
"""Shift at the gate and turn of a body: six rows, three of each."""

Compliances: TypeAlias = Annotated[si.Floats, si.Unit("twist over wrench, at unit modulus")]
"""Six by six: twist of the end of a stretch under a wrench beyond it, E = 1 Pa."""

PerPascals: TypeAlias = Annotated[si.Floats, si.Unit("1/Pa")]
SecondMoments: TypeAlias = Annotated[si.Floats, si.Unit("m⁴")]
Stiffnesses: TypeAlias = Annotated[si.Floats, si.Unit("N·m²")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flask:
    """The steel flask.

    Parameters
    ----------
    inside_diameter, height : float [m]
    wall : {"solid", "perforated"}
    wall_thickness : float [m]
    temperature : float or None [K]
        Of the mould at the pour; None: not said.
    """

    inside_diameter: si.Metre
    height: si.Metre
    wall: Wall
    wall_thickness: si.Metre
    temperature: si.Kelvin | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """Powder and water as the caster mixes them.

    Parameters
    ----------
    powder : str
        Key of an investment record.
    water_to_powder : float [-]
        Mass of water over mass of powder.
    temperature : float [K]
        Of water and powder.
    """

    powder: str
    water_to_powder: si.Ratio
    temperature: si.Kelvin


@dataclass(frozen=True, slots=True, kw_only=True)
class Powder:
    """The dry powder: gypsum binder and silica.

    Parameters
    ----------
    true_density : float [kg/m³]
        Of the grains, without the air between them.
    hemihydrate_fraction : float [-]
        Mass of the binder, CaSO₄·½H₂O, over mass of powder; the rest is silica.
    hydration_water : float [-]
        Mass of water that sets unit mass of binder to gypsum.
    """

    true_density: si.KilogramPerCubicMetre
    hemihydrate_fraction: si.Ratio
    hydration_water: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Mould:
    """What the block comes to.

    Parameters
    ----------
    slurry_volume : float [m³]
        To mix, waste included.
    slurry_density : float [kg/m³]
    powder, water : float [kg]
        To weigh out, waste included.
    waste : float [-]
        Slurry that stays in the bowl, over the slurry that fills the flask.
    powder_per_volume : float [kg/m³]
        Of slurry.
    burnt_porosity : float [-]
    burnt_density : float [kg/m³]
    full_mass : float [kg]
        Of the slurry in the flask.
    wall_gap : float [m]
        Least block between the piece and the steel; negative: the piece does not fit.
    far_cover : float [m]
        Block over the far end of the piece.
    depth : float [m]
        From the rim of the flask down to the lowest point of the piece.
    """

    slurry_volume: si.CubicMetre
    slurry_density: si.KilogramPerCubicMetre
    powder: si.Kilogram
    water: si.Kilogram
    waste: si.Ratio
    powder_per_volume: si.KilogramPerCubicMetre
    burnt_porosity: si.Ratio
    burnt_density: si.KilogramPerCubicMetre
    full_mass: si.Kilogram
    wall_gap: si.Metre
    far_cover: si.Metre
    depth: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class SlurryCase:
    """The slurry and the original in it, draw by draw.

    Parameters
    ----------
    density : array [kg/m³], shape (draws,)
        Of the slurry without froth.
    yield_stress : array [Pa], shape (draws,)
        Of the slurry until ``growth_from``; it then grows.
    plastic_viscosity : array [Pa·s], shape (draws,)
        Bingham's, until ``growth_from``.
    growth_from, growth_time : array [s], shape (draws,)
        Age at which the slurry begins to stiffen, and in what time it grows e-fold.
    poured_age, froth_age : array [s], shape (draws,)
        From the first powder to the end of the pour and to the end of the second vacuum.
    rise_speed : array [m/s], shape (draws,)
        Of the surface in the flask while it is filled.
    froth_rise : array [-], shape (draws,)
        Volume of the froth over that of the slurry; above 1.
    froth_time : array [s], shape (draws,)
        In which the froth climbs.
    part_density : array [kg/m³], shape (draws, parts)
        Of the original without coat.
    part_youngs : array [Pa], shape (draws, parts)
    coat_density : array [kg/m³], shape (draws,)
    coat_youngs : array [Pa], shape (draws,)
        Of what the coats are made of.
    joint_strength : array [Pa], shape (draws,)
        At which the wax joint on the button tears.
    section_scale : array [-], shape (draws, members)
        True width and thickness over those measured.
    """

    density: si.KilogramsPerCubicMetre
    yield_stress: si.Pascals
    plastic_viscosity: si.PascalSeconds
    growth_from: si.Seconds
    growth_time: si.Seconds
    poured_age: si.Seconds
    froth_age: si.Seconds
    rise_speed: si.MetresPerSecond
    froth_rise: si.Ratios
    froth_time: si.Seconds
    part_density: si.KilogramsPerCubicMetre
    part_youngs: si.Pascals
    coat_density: si.KilogramsPerCubicMetre
    coat_youngs: si.Pascals
    joint_strength: si.Pascals
    section_scale: si.Ratios


@dataclass(frozen=True, slots=True, kw_only=True)
class Limbs:
    """How the members of a piece hang together, as measured.

    A station is a place on a member where others grow.  Stations stand in the
    order of their members, from base to tip.

    Parameters
    ----------
    first, last : array of int, shape (members,)
        Segments.
    level : array of int, shape (members,)
        0 where it grows on the button, 1 on such a one, and so on.
    station : array of int, shape (members,)
        On which it grows; -1: on the button.
    station_segment, station_member : array of int, shape (stations,)
        The segment that ends there, and its member.
    tip : array [m], shape (members, 3)
    length : array [m], shape (members,)
        Along the member.
    """

    first: si.Integers
    last: si.Integers
    level: si.Integers
    station: si.Integers
    station_segment: si.Integers
    station_member: si.Integers
    tip: si.Metres
    length: si.Metres


@dataclass(frozen=True, slots=True, kw_only=True)
class Patterns:
    """What unit loads do to each member by itself, at a modulus of 1 Pa.

    Parameters
    ----------
    wrench : array [N and N·m], shape (members, 6, patterns)
        Of the load on the member.
    tip, station : array [m and rad], shape (members or stations, 6, patterns)
        Twist of the member there, its base held.
    stretch : array [twist over wrench, at unit modulus], shape (stations, 6, 6)
        Of the way to a station from the one before it on its member, or from the base.
    """

    wrench: Wrenches
    tip: Twists
    station: Twists
    stretch: Compliances


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """How the members move, draw by draw.

    Parameters
    ----------
    lean : array [-], shape (members, 4, draws)
        What the tip moves over its base, over the length; in the cases "rise",
        "side", "froth" and "still".
    shift : array [m], shape (members, 4, draws)
        Of the tip, with what the member grows on.
    by_buoyancy : array [-], shape (members, draws)
        Lean under the buoyancy alone, in full slurry.
    """

    lean: si.Ratios
    shift: si.Metres
    by_buoyancy: si.Ratios


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatStep:
    """What a further coat on a part would do.

    Parameters
    ----------
    coat : float [m]
        Added on every side.
    lean : float or None [-]
        Of the worst member, tip over length, median; None: it still lies over.
    leans, lies_over : float [-]
        Share of the draws over 0.1 and over 0.3.
    """

    coat: si.Metre
    lean: si.Ratio | None
    leans: si.Ratio
    lies_over: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSlurry:
    """What the slurry does to a part.

    Parameters
    ----------
    name : str
    members : int
    lean : float or None [-]
        How far the tip of the worst member bends out over its length, the base
        held; median.  None: more than 0.3, where the beam says nothing.
    leans, lies_over : float [-]
        Share of the draws in which the worst member leans by over 0.1 and by over 0.3.
    moves : float or None [m]
        How far that tip moves with what it grows on; None: something lies over.
    when : {"rise", "side", "froth", "still"}
        When it bends most.
    pushed_by : {"yield stress", "viscosity", "buoyancy"}
    lift : float [N]
        Net buoyancy of all its members; negative: it sinks.  Median.
    floats : float [-]
        Share of the draws in which it is lighter than the slurry.
    held : float [-]
        Share of the draws in which the yield stress alone would hold a member that came loose.
    wall_gap : float [m]
        Least from a member to the flask; negative: it does not fit.
    neighbour_gap : float or None [m]
        Least from a member to another; None: none is within 5 mm.
    neighbour : str or None
        Part of that other.
    touches : float [-]
        Share of the draws in which a member moves as far as its nearest wall or neighbour.
    coats : tuple of CoatStep
    """

    name: str
    members: int
    lean: si.Ratio | None
    leans: si.Ratio
    lies_over: si.Ratio
    moves: si.Metre | None
    when: When
    pushed_by: Pusher
    lift: si.Newton
    floats: si.Ratio
    held: si.Ratio
    wall_gap: si.Metre
    neighbour_gap: si.Metre | None
    neighbour: str | None
    touches: si.Ratio
    coats: tuple[CoatStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """How the slurry pulls the piece off its button.

    Parameters
    ----------
    force : float [N]
        Largest on the joint; median.
    stress : float [Pa]
        Largest in the joint, bending included; median.
    strength : float [Pa]
        Median.
    tears : float [-]
        Share of the draws in which the stress is over the strength.
    """

    force: si.Newton
    stress: si.Pascal
    strength: si.Pascal
    tears: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTrap:
    """Undersides of a part that hold bubbles while the flask is filled.

    Parameters
    ----------
    name : str
    area : float [m²]
        That faces down within 15° of level.
    share : float [-]
        Of the surface of the part.
    bell : bool
        True where its members stand round a hollow that is open downwards.
    """

    name: str
    area: si.SquareMetre
    share: si.Ratio
    bell: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AirTraps:
    """Where air stays under the original.

    Parameters
    ----------
    parts : tuple of PartTrap
    area : float [m²]
    tilt : float or None [rad]
        Least lean of the flask that leaves under a tenth of that area so near level;
        None: none up to 30° does; 0: there is none to speak of.
    tilt_area : float [m²]
        So near level at that lean, or at the best where there is none.
    bubble : float [m]
        Largest bubble that the yield stress holds; median.
    """

    parts: tuple[PartTrap, ...]
    area: si.SquareMetre
    tilt: si.Radian | None
    tilt_area: si.SquareMetre
    bubble: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowGap:
    """Members of two parts that stand so near that the mould between them is a web.

    Parameters
    ----------
    part, other : str
        May be the same.
    distance : float [m]
        Between the surfaces of the nearest two; 0: they touch or cross.
    pairs : int
        Of members.
    """

    part: str
    other: str
    distance: si.Metre
    pairs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SlurryResult:
    """Whether the slurry moves the original.

    Parameters
    ----------
    parts : tuple of PartSlurry
    joint : Joint
    traps : AirTraps
    gaps : tuple of NarrowGap
    lean : array [-], shape (members,)
        Median; not to be trusted over 0.3.
    lies_over : array [-], shape (members,)
        Share of the draws.
    """

    parts: tuple[PartSlurry, ...]
    joint: Joint
    traps: AirTraps
    gaps: tuple[NarrowGap, ...]
    lean: si.Ratios
    lies_over: si.Ratios


@dataclass(frozen=True, slots=True, kw_only=True)
class PartWater:
    """What water does to a part: what it drinks, or what it lost.

    Parameters
    ----------
    name : str
    organ : str
        Key of its plant record.
    swelling : float or None [-]
        Growth across from dry to wet; None: it does not go in dry.
    grows : float or None [m]
        The same at its thickest place.
    lost : float or None [-]
        Share of the fresh mass that was lost since it was picked; None: not fresh,
        or the hours are not said.
    wilts_in : float or None [s]
        From picking until it hangs; None: not fresh.
    """

    name: str
    organ: str
    swelling: si.Ratio | None
    grows: si.Metre | None
    lost: si.Ratio | None
    wilts_in: si.Second | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockCase:
    """How long each act of the mixing takes, draw by draw, at 21 °C and 40:100.

    Parameters
    ----------
    mix_time, first_vacuum, pour_time, second_vacuum : array [s], shape (draws,)
    work_time, gloss_off, hard_set : array [s], shape (draws,)
        From the first powder.
    still_before_gloss : array [s], shape (draws,)
        How long before gloss-off the slurry is moved last.
    water_exponent : array [-], shape (draws,)
        Power of the water to powder with which the setting times grow.
    bench_time : array [s], shape (draws,)
        From hard set to the opening of the gate.
    """

    mix_time: si.Seconds
    first_vacuum: si.Seconds
    pour_time: si.Seconds
    second_vacuum: si.Seconds
    work_time: si.Seconds
    gloss_off: si.Seconds
    hard_set: si.Seconds
    still_before_gloss: si.Seconds
    water_exponent: si.Ratios
    bench_time: si.Seconds


@dataclass(frozen=True, slots=True, kw_only=True)
class MixClock:
    """The clock from the first powder; arrays [s] have shape (draws,).

    Parameters
    ----------
    mixed, debubbled, poured, done : array [s], shape (draws,)
        End of the mixing, of the first vacuum, of the pour and of the second vacuum.
    still_by : array [s], shape (draws,)
        The slurry must not be moved after it.
    gloss_off, hard_set, open_at : array [s], shape (draws,)
        The shine is gone; set; the gate is opened and the block goes to the kiln damp.
    late : float [-]
        Share of the draws in which the acts end after ``still_by``.
    shift : float [s]
        By which the work time differs from that at 21 °C and 40:100; median.
    """

    mixed: si.Seconds
    debubbled: si.Seconds
    poured: si.Seconds
    done: si.Seconds
    still_by: si.Seconds
    gloss_off: si.Seconds
    hard_set: si.Seconds
    open_at: si.Seconds
    late: si.Ratio
    shift: si.Second


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCase:
    """What the block over the far end bears, draw by draw; arrays of shape (draws,).

    Parameters
    ----------
    pressure : array [Pa]
        From inside to outside while the metal comes: vacuum, and weight of the metal.
    tensile_strength : array [Pa]
        Of the burnt, hot block.
    permeability : array [m²]
        Of the burnt block.
    gas_viscosity : array [Pa·s]
    air_pressure, vacuum : array [Pa]
        Outside, and how far under it the pump draws; 0 for a pour by gravity.
    """

    pressure: si.Pascals
    tensile_strength: si.Pascals
    permeability: si.SquareMetres
    gas_viscosity: si.PascalSeconds
    air_pressure: si.Pascals
    vacuum: si.Pascals


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCheck:
    """One thickness of the far end.

    Parameters
    ----------
    rule : {"as planned", "quarter of the diameter", "20 mm"}
    cover : float [m]
    stress : float [Pa]
        Tension in the plate; median.
    breaks : float [-]
        Share of the draws in which it is over the strength.
    empty_time : float or None [s]
        Until the cavity has lost nine tenths of what the pump can take; median.  None: by gravity.
    """

    rule: Literal["as planned", "quarter of the diameter", "20 mm"]
    cover: si.Metre
    stress: si.Pascal
    breaks: si.Ratio
    empty_time: si.Second | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FarEnd:
    """Does the far end hold, and does it let the air out?

    Parameters
    ----------
    checks : tuple of EndCheck
        As planned (left out where the piece does not fit), and by both rules of practice.
    needed : float [m]
        Cover that breaks in no more than 5 of 100 draws.
    """

    checks: tuple[EndCheck, ...]
    needed: si.Metre
