"""Records of the diagnosis: signs, what may be behind them, and what tells it.

A sign is what an eye sees at the break-out.  Behind it stand causes, and each
cause has tells: things on record, or to be looked at, that speak for it or
against it.
"""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.findings import Kind

Answer = Literal["yes", "no"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tell:
    """Something that speaks for or against a cause.

    Parameters
    ----------
    key : str
        Of `pourcast.signs.tells.TELLS`.
    expected : {"yes", "no"}
        What it is if the cause is right.
    """

    key: str
    expected: Answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One thing that leaves a sign.

    Parameters
    ----------
    key : str
    text : str
        What happened; a whole sentence.
    remedy : str
        The one change for the next pour; a whole sentence.
    tells : tuple of Tell
    kind : str
        How sure this is.
    source : str
    """

    key: str
    text: str
    remedy: str
    tells: tuple[Tell, ...]
    kind: Kind = "common practice"
    source: str = "common practice, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """What is seen on a casting.

    Parameters
    ----------
    key : str
    text : str
        What it looks like.
    causes : tuple of Cause
        The usual one first.
    """

    key: str
    text: str
    causes: tuple[Cause, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Likely:
    """How well one cause fits what is on record of a pour.

    Parameters
    ----------
    sign : Sign
        That it would leave.
    cause : Cause
    points : float [-]
        The higher, the better it fits; no chance.
    speaks_for, speaks_against, unknown : tuple of str
        Keys of its tells.
    """

    sign: Sign
    cause: Cause
    points: si.Ratio
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """What may have happened, the best fit first.

    Parameters
    ----------
    likely : tuple of Likely
        At most three; none: not known.
    ask : tuple of str
        Keys of the tells that would part them best and are not on record.
    """

    likely: tuple[Likely, ...]
    ask: tuple[str, ...]
