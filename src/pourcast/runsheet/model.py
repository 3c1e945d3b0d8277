"""The run sheet: what to weigh, and each act of the job with its time.

Times count from the start of the bench evening.  The start itself and the hours
of the wall clock come in from outside; see `pourcast.runsheet.clock`.
"""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.findings import Finding, Kind
from pourcast.materials import Fact
from pourcast.speech import CELSIUS, Speech

Stage = Literal["bench", "kiln", "pour", "break-out"]

TITLES: dict[Stage, str] = {
    "bench": "Bench",
    "kiln": "Kiln",
    "pour": "Melt and pour",
    "break-out": "Break-out",
}
"""What each stretch of the job is called, in the order of the work."""

MARKS: dict[Kind, str] = {
    "published": "p",
    "computed": "w",
    "common practice": "c",
    "from memory": "m",
    "estimate": "e",
}
"""Letter behind a number that says where it comes from."""

MARKS_TOLD = (
    "Behind a number: (p) published, (w) worked out for this piece, (c) common practice, "
    "(m) from memory, (e) estimate. No letter: your own plan."
)

LAST_WORD = "Local codes and the maker’s data sheet come first."
"""Stands wherever cautions stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """The wall clock over the job: how far it stands ahead of universal time, and since when.

    Parameters
    ----------
    name : str
        Such as "Europe/Berlin".
    since : tuple of float [s]
        Since 1970 in universal time, rising; the first holds before it as well.
    ahead : tuple of float [s]
        One for each moment of ``since``.
    letters : tuple of str
        What the time is called from then on, such as "CET".
    """

    name: str
    since: tuple[si.Second, ...]
    ahead: tuple[si.Second, ...]
    letters: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A span of time after the pour, with who says so.

    Parameters
    ----------
    opens, shuts : float [s]
        Since the pour.
    kind : str
    source : str
    """

    opens: si.Second
    shuts: si.Second
    kind: Kind
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What to write down at an act.

    Parameters
    ----------
    what : str
    unit : str
        Behind the space for a number; "" where there is no number.
    choices : tuple of str
        Words to tick; empty: a number is asked for.
    """

    what: str
    unit: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One act of the job.

    Parameters
    ----------
    key : str
        Kept from one run sheet of a plan to the next.
    stage : {"bench", "kiln", "pour", "break-out"}
    at : float [s]
        Since the start.
    what : str
        What to do, in one sentence.
    kind : str or None
        How sure the time is; None: the caster has chosen it.
    source : str
        Who says so.
    why : str
        One short sentence, or "".
    until : float or None [s]
        When it ends, since the start.
    early, late : float or None [s]
        Between which the time may fall, since the start; for an act of the caster
        ``late`` is the latest moment.
    cautions : tuple of str
        Keys of `Library.facts`.
    readings : tuple of Reading
    alarm : float or None [s]
        How long before it a calendar calls; None: it is not in the calendar.
    setting : float or None [-]
        Of the dial, where the act is one turn of it.
    gauge : float or None [K]
        What the gauge should show as it is turned.
    """

    key: str
    stage: Stage
    at: si.Second
    what: str
    kind: Kind | None
    source: str
    why: str = ""
    until: si.Second | None = None
    early: si.Second | None = None
    late: si.Second | None = None
    cautions: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    alarm: si.Second | None = None
    setting: si.Ratio | None = None
    gauge: si.Kelvin | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """One line for the scales.

    Parameters
    ----------
    what : str
    mass : float [kg]
    low, high : float or None [kg]
    kind : str or None
        None: the caster has chosen it.
    weighed : bool
        It goes on the scales; False: said beside the others.
    """

    what: str
    mass: si.Kilogram
    low: si.Kilogram | None = None
    high: si.Kilogram | None = None
    kind: Kind | None = "computed"
    weighed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """What belongs to a stretch of the job as a whole.

    Parameters
    ----------
    stage : {"bench", "kiln", "pour", "break-out"}
    ready : tuple of str
        What to have ready.
    care : tuple of Fact
        What can hurt, with the usual precaution.
    notes : tuple of str
        What else holds for the stretch.
    """

    stage: Stage
    ready: tuple[str, ...]
    care: tuple[Fact, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSheet:
    """All that one run sheet says.

    Parameters
    ----------
    name : str
        Of the piece.
    invented : bool
    start : float [s]
        Since 1970 in universal time.
    zone : Zone
    weights : tuple of Weight
    acts : tuple of Act
        In order of time.
    blocks : tuple of Block
        In the order of the work.
    parts : tuple of str
        To be marked at the break-out.
    stops : tuple of str
        What the forecast says must be settled before anything is mixed.
    watched : int
        How many things the forecast says to watch, cautions of the acts left out.
    findings : tuple of Finding
        Of the run sheet itself.
    notes : tuple of str
        What holds for the whole sheet.
    identity : str
        Of the plan; two run sheets of one plan have the same.
    seed, draws : int
    version : str
        Of pourcast.
    speech : Speech
        In which its acts say their heats.
    """

    name: str
    invented: bool
    start: si.Second
    zone: Zone
    weights: tuple[Weight, ...]
    acts: tuple[Act, ...]
    blocks: tuple[Block, ...]
    parts: tuple[str, ...]
    stops: tuple[str, ...]
    watched: int
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    identity: str
    seed: int
    draws: int
    version: str
    speech: Speech = CELSIUS
