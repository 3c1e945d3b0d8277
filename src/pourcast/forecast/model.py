"""The forecast: how a hundred pours of this piece would end.

Chances and shares run from 0 to 1.  Arrays over draws are kept so that the
page and the book can look again; the JSON carries only what they say.
"""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.burnout.model import Curve
from pourcast.findings import Finding, Kind
from pourcast.finish.model import FinishResult
from pourcast.freeze.model import Feeder, HotSpot
from pourcast.melt.model import MetalAccount
from pourcast.mould.model import MixClock, Mould, SlurryResult
from pourcast.piece.model import Measures, Network
from pourcast.pour.model import Cause
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """What a studio has learnt of one unknown, in the unit of its record.

    Its kind says how it is drawn between its ends, as in `pourcast.materials.draws`.
    """

    key: str
    value: float
    low: float
    high: float
    source: str
    kind: Kind = "computed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """What a studio has learnt; `None` in its place is the book of values alone.

    Parameters
    ----------
    name : str
        As the forecast will name it.
    overrides : tuple of Override
    """

    name: str
    overrides: tuple[Override, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """10th, 50th and 90th percentile of the draws."""

    p10: float
    p50: float
    p90: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hour:
    """When something has happened in 10, 50 and 90 of 100 draws.

    Parameters
    ----------
    p10, p50, p90 : float or None [s]
        From the start of the curve; None: not within it.
    """

    p10: si.Second | None
    p50: si.Second | None
    p90: si.Second | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnoutForecast:
    """What the burnout comes to, over all draws.

    Parameters
    ----------
    curve : Curve
    dry_at, wax_gone_at, clean_at, ready_at : Hour
        No free water; no wax; char under ``clean_below``; core at casting temperature.
    clean_below : float [kg]
    chance_clean : float [-]
        That no more char is left at the pour.
    char_left : Spread [kg]
        At the end of the curve.
    peak_core, peak_wall : Spread [K]
    flask_temperature : Spread [K]
        Of the block round the piece at the end of the curve.
    overpressure : Spread [Pa]
        Worst of the day.
    stress : Spread [-]
        Worst tensile stress of the day over the strength of the block.
    ash_volume : Spread [m³]
    oxygen_used : Spread [kg]
    least_oxygen : Spread [-]
        Lowest mole fraction in the air of the kiln.
    time : array [s], shape (moments,)
    kiln : array [K], shape (moments,)
        As planned or logged.
    wall, core : array [K], shape (3, moments)
        10th, 50th and 90th percentile at each moment.
    water : array [-], shape (3, moments)
        Free water left, over what there was.
    char : array [kg], shape (3, moments)
    """

    curve: Curve
    dry_at: Hour
    wax_gone_at: Hour
    clean_at: Hour
    ready_at: Hour
    clean_below: si.Kilogram
    chance_clean: si.Ratio
    char_left: Spread
    peak_core: Spread
    peak_wall: Spread
    flask_temperature: Spread
    overpressure: Spread
    stress: Spread
    ash_volume: Spread
    oxygen_used: Spread
    least_oxygen: Spread
    time: si.Seconds
    kiln: si.Kelvins
    wall: si.Kelvins
    core: si.Kelvins
    water: si.Ratios
    char: si.Kilograms


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFreeze:
    """When a part is solid.

    Parameters
    ----------
    name : str
    solid : Spread or None [s]
        Of its last segment, from the start of the pour; None: no metal came to it.
    """

    name: str
    solid: Spread | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezeForecast:
    """What the freezing comes to, over all draws.

    Parameters
    ----------
    top : {"open", "covered"}
        Of the button.
    last : dict of str to float [-]
        Share of the draws in which the button, or a part, is solid last.
    parts : tuple of PartFreeze
    segment_solid : array [s], shape (segments,)
        Middle of the draws in which it froze; not a number where it froze in none.
    button_solid, all_solid : Spread or None [s]
        From the start of the pour; None: not within the time followed.
    lack : Spread [m³]
        What the piece must shrink without being fed, in all.
    spots : tuple of HotSpot
        Where that is, the worst first.
    feeders : tuple of Feeder
        That would mend the first of them.
    quench_from, quench_to : Hour
        From the start of the pour.
    above_760, above_900 : Spread [s]
        Of the mould face beside the button.
    """

    top: Literal["open", "covered"]
    last: dict[str, si.Ratio]
    parts: tuple[PartFreeze, ...]
    segment_solid: si.Seconds
    button_solid: Spread | None
    all_solid: Spread | None
    lack: Spread
    spots: tuple[HotSpot, ...]
    feeders: tuple[Feeder, ...]
    quench_from: Hour
    quench_to: Hour
    above_760: Spread
    above_900: Spread


@dataclass(frozen=True, slots=True, kw_only=True)
class PartForecast:
    """How one part comes out.

    Parameters
    ----------
    name : str
    count : int
        Members in all.
    thinnest : float [m]
    chance_full : float [-]
        That every member fills in the same pour.
    chance_weakest : float [-]
        That the weakest member fills.
    share : Spread
        Of the length of the part that fills, all members together.
    cause : str or None
        Commonest cause of members that do not fill.
    causes : dict
        Share of each cause among the members that do not fill; empty if all fill.
    fill_time : Spread or None [s]
        When its last member was full, of the pours in which it was.
    """

    name: str
    count: int
    thinnest: si.Metre
    chance_full: si.Ratio
    chance_weakest: si.Ratio
    share: Spread
    cause: Cause | None
    causes: dict[Cause, float]
    fill_time: Spread | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcomes:
    """How the draws end, as shares that add up to 1.

    Parameters
    ----------
    whole : float [-]
        Every member of every part is full.
    short_tips : float [-]
        Up to three members are short, each by less than half its length.
    short_parts : float [-]
        Worse than that, with at least half of the length of the piece filled.
    lost : float [-]
        Less than half of the length of the piece filled.
    """

    whole: si.Ratio
    short_tips: si.Ratio
    short_parts: si.Ratio
    lost: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """How much one uncertain value moves the outcome.

    Parameters
    ----------
    key : str
    rank_correlation : float [-]
        Spearman's, between the draws of the value and the filled share.
    value, low, high : float
        In ``unit``.
    unit : str
    kind : str
    source : str
    """

    key: str
    rank_correlation: si.Ratio
    value: float
    low: float
    high: float
    unit: str
    kind: Kind
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """All that one forecast says.

    Parameters
    ----------
    plan : Plan
    network : Network
    measures : Measures
    mould : Mould
    metal : MetalAccount
    chance_all : float [-]
        Share of the draws in which every part is full.
    chance_low, chance_high : float [-]
        80 % interval of ``chance_all`` from the number of draws alone and
        from the values that the caster can read again; see ``forecast.chances``.
    outcomes : Outcomes
    parts : tuple of PartForecast
    segment_chance : array [-], shape (segments,)
        Chance that metal reaches the end of each segment.
    unknowns : tuple of Unknown
        The strongest first.
    findings : tuple of Finding
    draws, seed : int
    calibration : str or None
    cold_shut_chance : float or None [-]
        That two cold fronts meet; None: the piece has no loops.
    learnt : Calibration or None
        What ``calibration`` names.
    burnout : BurnoutForecast or None
        None: the sheet does not say enough of the kiln.
    slurry : SlurryResult or None
        What the slurry does to the original.
    clock : MixClock or None
        Of the mixing.
    freeze : FreezeForecast or None
    finish : FinishResult or None
    """

    plan: Plan
    network: Network
    measures: Measures
    mould: Mould
    metal: MetalAccount
    chance_all: si.Ratio
    chance_low: si.Ratio
    chance_high: si.Ratio
    outcomes: Outcomes
    parts: tuple[PartForecast, ...]
    segment_chance: si.Ratios
    unknowns: tuple[Unknown, ...]
    findings: tuple[Finding, ...]
    draws: int
    seed: int
    calibration: str | None
    cold_shut_chance: si.Ratio | None
    learnt: Calibration | None = None
    burnout: BurnoutForecast | None = None
    slurry: SlurryResult | None = None
    clock: MixClock | None = None
    freeze: FreezeForecast | None = None
    finish: FinishResult | None = None
