"""The forecast: how a hundred pours of this piece would end.

Chances and shares run from 0 to 1.  Arrays over draws are kept so that the
page and the book can look again; the JSON carries only what they say.
"""

from dataclasses import dataclass

from pourcast import units as si
from pourcast.findings import Finding, Kind
from pourcast.melt.model import MetalAccount
from pourcast.mould.model import Mould
from pourcast.piece.model import Measures, Network
from pourcast.pour.model import Cause
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """What a studio has learnt of one unknown, in the unit of its record."""

    key: str
    value: float
    low: float
    high: float
    source: str


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
