"""Findings: what a stage tells the caster.

A finding is a sentence with its value, its limit and where that limit comes
from.  A casting that will fail is a finding (`STOP`), never an error.
"""

from dataclasses import dataclass
from typing import Literal

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
    """

    stage: str
    level: Level
    text: str
    part: str | None = None
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    kind: Kind = "estimate"
