"""Findings: what a stage tells the caster.

A finding is a sentence with its value, its limit and where that limit comes
from.  A casting that will fail is a finding (`STOP`), never an error.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from pourcast import units as si

_SURE = 1.0 - 1e-12

Level = Literal["GOOD", "WATCH", "STOP"]

Kind = Literal["published", "computed", "common practice", "from memory", "estimate"]
"""How sure a number is, from a named source down to a guess by hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One sentence for the caster.

    Parameters
    ----------
    stage : str
        The stage that found it, by its folder name.
    key : str
        What it is of, a plain word that is kept for good, such as "ash-left"; a program that
        looks for one finding goes by it.  All are listed in docs/findings.md.
    level : {"GOOD", "WATCH", "STOP"}
    text : str
        A whole sentence in the trade's words, with its numbers and units.
    part : str or None
        Name of the part of the piece that it is about.
    value, limit : float or None
        What was found and the limit it was held against, in ``unit``.
    unit : str
        Trade unit of ``value`` and ``limit``; "" where there is none.
    source : str
        Where the limit comes from.
    kind : str
        How sure the limit is.
    first : bool
        Whether all else rests on it, so that it is told and mended before anything else.
    """

    stage: str
    key: str
    level: Level
    text: str
    part: str | None = None
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    kind: Kind = "estimate"
    first: bool = False


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings as they are told: what all else rests on, then in the order of the work.

    Parameters
    ----------
    found : iterable of Finding
        In the order of the work.

    Returns
    -------
    tuple of Finding
    """
    return tuple(sorted(found, key=lambda finding: not finding.first))


def half_up(value: si.Ratio) -> int:
    """Return the nearest whole number; a half goes up, also where the last bit is lost [-].

    Parameters
    ----------
    value : float [-]
        0 or more.

    Examples
    --------
    >>> half_up(62.5), half_up(100.0 * 0.575), half_up(0.49)
    (63, 58, 0)
    """
    return math.floor(round(value, 9) + 0.5)


def figures(value: si.Ratio, digits: int) -> str:
    """Return a number with no more figures than count; digits before the point are always written.

    Parameters
    ----------
    value : float [-]
        In the unit that will stand behind it.
    digits : int
        That count.

    Examples
    --------
    >>> figures(107.3, 2), figures(0.1 + 0.05, 4), figures(99.96, 2), figures(8.0, 3)
    ('107', '0.15', '100', '8')
    """
    whole = len(f"{abs(float(f'{value:.{digits}g}')):.0f}")
    return f"{value:.{max(digits, whole)}g}"


def in_100(share: si.Ratio) -> str:
    """Return a chance or share as a count in 100, the same on every page and in every sentence.

    Parameters
    ----------
    share : float [-]
        0 to 1.

    Returns
    -------
    str
        A whole number, halves up; "over 99" and "under 1" near the ends.

    Examples
    --------
    >>> in_100(0.615), in_100(0.9975), in_100(1.0)
    ('62', 'over 99', '100')
    """
    rounded = half_up(100.0 * share)
    if rounded >= 100 and share < 1.0:
        return "over 99"
    if rounded <= 0 and share > 0.0:
        return "under 1"
    return str(rounded)


def in_100_draws(share: si.Ratio) -> str:
    """Return a share of draws as a count in 100; some hundred draws make no certainty.

    Parameters
    ----------
    share : float [-]
        0 to 1.

    Returns
    -------
    str
        As `in_100`, but "over 99" where every draw has it.
    """
    return in_100(min(share, _SURE))
