"""Schedule: the acts of the whole job in their order, from one forecast."""

import hashlib

from pourcast import units as si
from pourcast.burnout.dial import CAUTION, DialPlan
from pourcast.errors import InputError, SourceError, require_finite
from pourcast.findings import Kind
from pourcast.forecast.model import Forecast
from pourcast.materials import Fact, Library, caution_key
from pourcast.mould.model import MixClock
from pourcast.runsheet import bench, break_out, kiln, pour
from pourcast.runsheet.checks import findings
from pourcast.runsheet.clock import changes_told, wall
from pourcast.runsheet.curve import curve_for, source_of
from pourcast.runsheet.figures import clean
from pourcast.runsheet.model import Act, Block, RunSheet, Stage, Window, Zone
from pourcast.runsheet.usual import USUAL, Lengths

NOT_WORKED_OUT = (
    "The burnout is not worked out: the piece file does not say how large the kiln is. The hours "
    "are those of the curve alone; when the block is dry and clean, your own signs must say."
)
"""Stands on a sheet without a burnout."""


def schedule(
    forecast: Forecast,
    *,
    start: si.Second,
    zone: Zone,
    book: Library,
    version: str,
    kiln_in: si.Second | None = None,
    mix: MixClock | None = None,
    dial: DialPlan | None = None,
    lengths: Lengths = USUAL,
    hold: Window | None = None,
) -> RunSheet:
    """Return the run sheet of a forecast.

    Parameters
    ----------
    forecast : Forecast
    start : float [s]
        Of the bench evening, since 1970 in universal time.
    zone : Zone
        The wall clock; it must hold from the start to the end of the job.
    book : Library
        `pourcast.materials.library()`.
    version : str
        Of pourcast.
    kiln_in : float or None [s]
        When the block goes into the kiln, since 1970 in universal time; None: as soon
        as it has stood for its usual time.
    mix : MixClock or None
        Of the forecast; None: the middle of the records.
    dial : DialPlan or None
        Turns of a kiln that is turned by hand, in the place of its steps.
    lengths : Lengths
        Of the acts that no record keeps.
    hold : Window or None
        Of the vacuum, worked out by the freezing; None: the usual one.

    Returns
    -------
    RunSheet

    Raises
    ------
    InputError
        If the block would go into the kiln before it is set down, or the furnace be
        lit before the start.
    SourceError
        If a caution is not in the library.
    """
    require_finite("start", start, "s")
    fresh, limits = book.investment["fresh"], book.investment["limits"]
    times = bench.mix_times(mix or bench.usual_clock(forecast.plan.mix, book))
    evening = bench.acts(forecast, fresh, times, lengths)
    still = evening[-1].at
    begun, rest_kind = _kiln_in(start, still, kiln_in, lengths.weighing.si + times.open_at)
    curve = curve_for(forecast, book)
    out = begun + float(curve.time[-1])

    def clock(moment: si.Second) -> str:
        return wall(zone, start + moment).time

    held = hold or break_out.usual_window(lengths.hold)
    acts = [
        *evening,
        *kiln.acts(forecast, curve, begun, begun - still, book, clock, dial, rest_kind),
        *pour.acts(
            forecast,
            out,
            lengths,
            held,
            source_of(curve)[0],
            limits["burnout_peak_default"],
        ),
    ]
    acts.sort(key=lambda act: act.at)
    told = [*changes_told(zone, start, start + acts[-1].at)]
    if forecast.burnout is None:
        told.append(NOT_WORKED_OUT)
    blocks = _blocks(forecast, acts, book, dial is not None)
    # What stands in a block as a caution is not told a second time as a thing to watch.
    cautions = {caution_key(kept) for block in blocks for kept in block.care}
    heeded = [
        found for found in forecast.findings if found.level == "WATCH" and found.key not in cautions
    ]
    speech = forecast.plan.speech
    own = findings(forecast, times, begun - still, limits=limits, fresh=fresh)
    return RunSheet(
        name=clean(forecast.plan.piece.name) or "A piece without a name",
        invented=forecast.plan.invented,
        start=start,
        zone=zone,
        weights=bench.weights(forecast),
        acts=tuple(acts),
        blocks=blocks,
        parts=tuple(clean(part.name) for part in forecast.parts),
        stops=tuple(
            clean(speech.text(found.text)) for found in forecast.findings if found.level == "STOP"
        ),
        watched=len(heeded),
        findings=tuple(map(speech.finding, own)),
        notes=tuple(told),
        identity=hashlib.sha256(repr(forecast.plan).encode()).hexdigest()[:24],
        seed=forecast.seed,
        draws=forecast.draws,
        version=version,
        speech=speech,
    )


def _kiln_in(
    start: si.Second, still: si.Second, asked: si.Second | None, usual: si.Second
) -> tuple[si.Second, Kind | None]:
    """Return when the block goes in, since the start, and how sure that is."""
    if asked is None:
        return usual, "common practice"
    if not asked - start > still:
        raise InputError(
            "kiln in",
            f"{(asked - start) / 60.0:.0f}",
            "min after the start",
            f"later than the flask is set down, {still / 60.0:.0f} min after it",
        )
    return asked - start, None


def _blocks(forecast: Forecast, acts: list[Act], book: Library, turned: bool) -> tuple[Block, ...]:
    ready: dict[Stage, tuple[str, ...]] = {
        "bench": bench.ready(forecast),
        "kiln": kiln.ready(forecast),
        "pour": pour.ready(forecast),
        "break-out": break_out.READY,
    }
    notes: dict[Stage, tuple[str, ...]] = {
        "bench": kiln.held_told(forecast, book),
        "kiln": (
            *kiln.held_told(forecast, book, ("must not be burnt", "look up first")),
            *((kiln.TURNS_TOLD, CAUTION) if turned else ()),
        ),
        "pour": pour.alloy_told(forecast, book),
    }
    return tuple(
        Block(
            stage=stage,
            ready=told,
            care=_care(stage, acts, book),
            notes=notes.get(stage, ()),
        )
        for stage, told in ready.items()
    )


def _care(stage: Stage, acts: list[Act], book: Library) -> tuple[Fact, ...]:
    """Return the cautions of the acts of a stage, each once, in the order of the acts.

    Raises
    ------
    SourceError
        If one is not there: a caution never goes missing without a word.
    """
    keys = dict.fromkeys(key for act in acts if act.stage == stage for key in act.cautions)
    missing = [key for key in keys if key not in book.facts]
    if missing:
        raise SourceError(f"the caution {', '.join(missing)} is not in the materials library")
    return tuple(book.facts[key] for key in keys)
