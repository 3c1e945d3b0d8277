"""Records of the book: what one entry holds.

The book stands at the border, so its names carry trade units: ``short_by_mm``,
``mass_mg``.  Moments are universal time (UTC), days are the caster's own.
"""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from pourcast.book.who import UNKNOWN
from pourcast.book.words import State


@dataclass(frozen=True, slots=True, kw_only=True)
class PartChance:
    """What a kept plan said of one part.

    Parameters
    ----------
    name : str
    count : int
        Members in all.
    chance_full : float
        That every member fills in the same pour, 0 to 1.
    """

    name: str
    count: int
    chance_full: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPlan:
    """A plan as it was kept; it is never changed.

    Parameters
    ----------
    id, piece_id : str
    piece_name : str
    created : datetime
    file_name : str
        Of the piece file, without its folder.
    chance_whole : float
        That every part fills, 0 to 1.
    draws, seed : int
    version : str
        Of pourcast.
    inputs_sha256, kernels_sha256 : str
    calibration : str or None
    alloy, powder : str
        Keys of the values file.
    metal_mg, powder_mg : int
        What one pour takes.
    parts : tuple of PartChance
    sheet : str
        The piece file, sign by sign.
    document : str
        The forecast as JSON.
    who : str
        Whose hand kept it.
    """

    id: str
    piece_id: str
    piece_name: str
    created: datetime
    file_name: str
    chance_whole: float
    draws: int
    seed: int
    version: str
    inputs_sha256: str
    kernels_sha256: str
    calibration: str | None
    alloy: str
    powder: str
    metal_mg: int
    powder_mg: int
    parts: tuple[PartChance, ...]
    sheet: str
    document: str
    who: str = UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class PartOutcome:
    """How one part came out.

    Parameters
    ----------
    part : str
    state : State
    members_short : int or None
        How many members did not fill; None: not counted.
    filled_share : float or None
        Of the length of the part, 0 to 1; None: not judged.
    short_by_mm : float or None
        Of the shortest member.
    signs : tuple of (str, str)
        Sign and amount, of `pourcast.book.words`.
    note : str
    """

    part: str
    state: State = "filled"
    members_short: int | None = None
    filled_share: float | None = None
    short_by_mm: float | None = None
    signs: tuple[tuple[str, str], ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What was seen at the break-out of one pour.

    Parameters
    ----------
    id, pour_id : str
    revision : int
        The highest counts; the others are kept.
    seen : date
    created : datetime
        When this revision was entered.
    first_created : datetime
        When the first revision of the same pour was entered.
    sure : str
        Word of `pourcast.book.words.SURE`.
    button : str or None
        Word of `pourcast.book.words.BUTTONS`.
    parts : tuple of PartOutcome
    note : str
    who : str
        Whose hand entered it.
    """

    id: str
    pour_id: str
    revision: int
    seen: date
    created: datetime
    first_created: datetime
    sure: str
    button: str | None
    parts: tuple[PartOutcome, ...]
    note: str
    who: str = UNKNOWN


PourStage = Literal["in kiln", "poured", "by mistake"]
"""How far a pour has come; "by mistake": its kiln day was begun on the wrong piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pour:
    """One pour of a kept plan, as it stands.

    Parameters
    ----------
    id, plan_id : str
    day : date
        On which it was poured; while nothing says so, that on which the kiln was lit.
    created : datetime
    who : str
        Whose hand entered it.
    lit : date or None
        Day on which its block went into the kiln; None: it has no kiln day.
    stage : PourStage
    days_entered : int
        How often its day was entered by hand; the last one counts.
    """

    id: str
    plan_id: str
    day: date
    created: datetime
    who: str = UNKNOWN
    lit: date | None = None
    stage: PourStage = "poured"
    days_entered: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One line of the list of pieces.

    Parameters
    ----------
    id, name : str
    kept : datetime
        When its latest plan was kept.
    plans : int
    chance_whole : float
        Of the latest plan, 0 to 1.
    poured : date or None
        Day of the latest pour.
    begun : date or None
        Day on which its block went into the kiln, where that was later and nothing says
        yet that it was poured.
    came : str or None
        Of the latest pour: "whole", "short", "missing" or "not seen"; None: no outcome yet.
    """

    id: str
    name: str
    kept: datetime
    plans: int
    chance_whole: float
    poured: date | None
    begun: date | None
    came: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something the caster wants to remember of a piece or a pour; ``who`` wrote it."""

    id: str
    piece_id: str
    pour_id: str | None
    created: datetime
    text: str
    who: str = UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A picture, kept beside the book under the hash of its content."""

    id: str
    piece_id: str
    pour_id: str | None
    created: datetime
    sha256: str
    kind: str
    size_bytes: int
    original_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading of the day, in the unit that stands in its kind."""

    pour_id: str
    kind: str
    taken: datetime
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptEvent:
    """An act as it stands in the book.

    Parameters
    ----------
    id, pour_id, key, act : str
    at : datetime
        When it was done.
    setting : float or None
    reading : str or None
        Kind of the reading that it is about.
    takes_back : str or None
        Id of the event that it takes back.
    note : str
    created : datetime
        When it was entered.
    """

    id: str
    pour_id: str
    key: str
    act: str
    at: datetime
    setting: float | None
    reading: str | None
    takes_back: str | None
    note: str
    created: datetime
