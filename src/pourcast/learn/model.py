"""What is learnt from, and what comes of it."""

from dataclasses import dataclass

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.forecast.model import Calibration
from pourcast.materials.model import InSI, Written
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSeen:
    """How one part came out, as far as it was seen.

    Parameters
    ----------
    name : str
    full : bool
        Every member of it is whole.
    half_of_members : bool or None
        At least half of its members are whole; None: not counted.
    low, high : float [-]
        Of the length of the part, all members together, that is there: not less
        than ``low`` and not more than ``high``; 0 and 1 where it was not judged.
    """

    name: str
    full: bool
    half_of_members: bool | None = None
    low: si.Ratio = 0.0
    high: si.Ratio = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PourSeen:
    """One pour and what was seen of it.

    Parameters
    ----------
    name : str
        As the caster knows it.
    plan : Plan
        As it was kept before the pour, with what was read at the pour in its place.
    parts : tuple of PartSeen
        Parts that were not looked at are left out.
    sure : float [-]
        That what was told is what was there; above 0.5, up to 1.
    is_test : bool
        A fan of strips and no piece.
    """

    name: str
    plan: Plan
    parts: tuple[PartSeen, ...]
    sure: si.Ratio = 0.95
    is_test: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One value that a test has measured, with its error.

    Parameters
    ----------
    key : str
        Of the record it is a value of.
    value : float [SI]
    error : float [-]
        One standard deviation: over the value where ``relative``, else in the
        unit of the value.
    relative : bool
        The logarithm of the value is normal; else the value itself.
    name : str
        Of the test.
    """

    key: str
    value: InSI
    error: si.Ratio
    relative: bool
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """Median and 90 % interval of a value.

    Parameters
    ----------
    low, middle, high : float [as written]
        5th, 50th and 95th percentile, in the unit of its record.
    """

    low: Written
    middle: Written
    high: Written


@dataclass(frozen=True, slots=True, kw_only=True)
class LearntValue:
    """What was learnt of one unknown.

    Parameters
    ----------
    key, unit : str
    before, after : Range [as written]
        By the book of values, and after the studio's own outcomes and tests.
    narrowed : float [-]
        Share of the width of the interval that is gone; below 0: it has widened.
    used : bool
        Enough was learnt for the forecast to take it.
    """

    key: str
    unit: str
    before: Range
    after: Range
    narrowed: si.Ratio
    used: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """A part that ended in a way which the book of values hardly ever has it end.

    Parameters
    ----------
    pour, part : str
        The pour as in `Learnt.odd`.
    full : bool
        How it came out.
    chance_full : float [-]
        Share of the pours of the bank in which every member of it is full.
    """

    pour: str
    part: str
    full: bool
    chance_full: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Learnt:
    """What all outcomes and tests of a studio come to.

    Parameters
    ----------
    calibration : Calibration or None
        None: nothing is known better than before.
    values : tuple of LearntValue
        What was narrowed most first.
    outcomes, tests : int
        That were learnt from.
    draws : int
        Sets of unknowns that carry the result.
    effective : float [-]
        So many independent draws they are worth (Kish).
    first_effective : float [-]
        What the first draws, from the book of values, were worth.
    rounds : int
        How often the draws were made anew, nearer to what was seen.
    odd : dict of str to float [-]
        For each pour the chance that its day was odd and tells nothing, as all the
        others have it.
    findings : tuple of Finding
    against : tuple of Against
        Parts that ended plainly against the forecast; tests are not looked at.
    """

    calibration: Calibration | None
    values: tuple[LearntValue, ...]
    outcomes: int
    tests: int
    draws: int
    effective: si.Ratio
    first_effective: si.Ratio
    rounds: int
    odd: dict[str, si.Ratio]
    findings: tuple[Finding, ...]
    against: tuple[Against, ...] = ()
