"""Day run: open the book, begin or go on with a day, and take in what comes.

A day that was begun before goes on from the book: what is typed in a second time with
the same file and start is the same day.  One that is only asked for (``--once``) is begun
by the first reading that a log brings; without one the book stays as it was.  A replay
goes into a folder of its own, unless one is named.
"""

import json
import os
import select
import sys
import tempfile
import time
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

from pourcast.cli.day_lines import typed_in
from pourcast.cli.day_start import start_of
from pourcast.cli.day_take import look_at, take_file, take_heard
from pourcast.cli.runsheet import read_zone
from pourcast.cli.signs import write_out
from pourcast.errors import InputError
from pourcast.page.zones import zone_record

if TYPE_CHECKING:
    import queue

    from pourcast.book.model import KeptPlan
    from pourcast.book.store import Book
    from pourcast.cli.show_day import DayView
    from pourcast.day.case import DayCase
    from pourcast.melt.melting import Furnace, Melt
    from pourcast.probe.model import Arrival
    from pourcast.sheet.model import Plan

LOOK_EVERY = 2.0
"""s, between two looks at a watched file or a thermometer; our own choice."""

SAY_EVERY = 60.0
"""s, between two answers where a thermometer speaks of itself; our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOptions:
    """What was asked for on the command line; see `pourcast.cli.day`."""

    start: str | None = None
    data: Path | None = None
    zone: str | None = None
    readings: Path | None = None
    watch: Path | None = None
    listen: tuple[str, ...] = ()
    replay: str | None = None
    speed: float = 60.0
    once: bool = False
    dial_top: int | None = None
    furnace: tuple[str, ...] = ()
    crucible_ml: float | None = None
    picture: Path | None = None
    threads: int | None = None


def run_day(file: str, options: DayOptions) -> None:
    """Follow a kiln day until the input ends.

    Raises
    ------
    PourcastError
        If a file or an option is bad, or the book cannot be written.
    """
    from pourcast.book.store import open_book

    place = read_zone(options.zone)
    start = start_of(options.start, place, practice=options.replay is not None)
    with ExitStack() as closing:
        folder = options.data
        if options.replay is not None and folder is None:
            folder = Path(closing.enter_context(tempfile.TemporaryDirectory()))
        book = closing.enter_context(open_book(folder))
        view = view_of(book, file, start, place, options)
        if not options.once or options.replay is not None:
            view.open()
        if options.replay is not None:
            from pourcast.cli.day_replay import replay

            replay(view, options.replay, options.speed)
            return
        if options.readings is not None:
            take_file(view, options.readings, live=False)
        if options.watch is not None:
            look_at(view, options.watch, {}, live=False)
        view.say(datetime.now(UTC))
        if not options.once:
            follow(view, options.watch, options.listen)


def view_of(
    book: "Book", file: str, start: datetime, zone: tzinfo | None, options: DayOptions
) -> "DayView":
    """Return the day of a piece file and a start: that of the book, or one to be begun."""
    from pourcast.book.day_kiln import kiln_before
    from pourcast.book.kiln_days import begin_day, day_begun
    from pourcast.book.plans import latest_plan, pieces_named
    from pourcast.cli.files import read_sheet
    from pourcast.cli.learn import of_book
    from pourcast.cli.show_day import DayView
    from pourcast.day.case import day_case, top_of
    from pourcast.day.kilns import plain_kiln
    from pourcast.forecast.burnout_case import ROOM
    from pourcast.materials import library
    from pourcast.sheet import read_plan

    sheet = read_sheet(file)
    plan = read_plan(sheet, file=file)
    melts = _melts(options.furnace)
    threads = options.threads or os.cpu_count() or 1
    kept = next(
        (
            found
            for piece in pieces_named(book, plan.piece.name)
            if (found := latest_plan(book, piece)).sheet == sheet
        ),
        None,
    )
    document = _document(book, plan, threads) if kept is None else kept.document
    pour = None if kept is None else day_begun(book, kept.id, start)

    def begin() -> str:
        there = kept or _keep(book, sheet, file, plan, document)
        return begin_day(book, there.id, start=start, at=datetime.now(UTC)).id

    plain = plain_kiln(library().kiln, options.dial_top or top_of(plan), ROOM)
    before = kiln_before(book, start, plain)
    case = day_case(
        plan,
        of_book(book, plan, start),
        kiln=plain if before is None else before[0],
        threads=threads,
    )
    return DayView(
        book=book,
        pour_id="" if pour is None else pour.id,
        begin=begin,
        start=start,
        case=case,
        zone=zone,
        wall=zone_record(options.zone, zone, start, start),
        document=document,
        kiln_from=None if before is None else before[1],
        furnace=_furnace(melts, case),
        crucible=None if options.crucible_ml is None else options.crucible_ml * 1e-6,
        picture=options.picture,
    )


def follow(view: "DayView", watched: Path | None, listen: tuple[str, ...] = ()) -> None:
    """Take in typed lines, what is watched and what thermometers say, until the input ends."""
    if not listen:
        _follow(view, watched, None)
        return
    from pourcast.probe.address import source_of
    from pourcast.probe.listen import listening

    sources = tuple(source_of(each) for each in listen)
    with listening(sources, session=f"pourcast-{view.pour_id}") as arrivals:
        _follow(view, watched, arrivals)


def _follow(view: "DayView", watched: Path | None, arrivals: "queue.Queue[Arrival] | None") -> None:
    sizes: dict[Path, tuple[int, float]] = {}
    write_out(
        "Type a reading or an act; help says what; an empty line says how it stands; end leaves, "
        "and the same command goes on with the day.\n"
    )
    wait = LOOK_EVERY if watched is not None or arrivals is not None else None
    said = time.monotonic()
    heard = 0
    while True:
        line = next_line(wait)
        if line is not None and (line == "" or not typed_in(view, line, datetime.now(UTC))):
            return
        found = 0
        if watched is not None:
            found = look_at(view, watched, sizes, live=True)
        if arrivals is not None:
            heard += take_heard(view, arrivals)
        # A thermometer that speaks each second is kept each second, and told now and then.
        due = heard > 0 and time.monotonic() - said >= SAY_EVERY
        if found or due:
            said, heard = time.monotonic(), 0
            view.say(datetime.now(UTC))


def next_line(wait: float | None) -> str | None:
    """Return the next line of the input; None: nothing came in the time; "": it has ended."""
    if wait is None:
        return sys.stdin.readline()
    try:
        there, _, _ = select.select([sys.stdin], [], [], wait)
    except (OSError, ValueError):
        # An input that cannot be waited for, such as one made by a test, is read.
        return sys.stdin.readline()
    return sys.stdin.readline() if there else None


def _document(book: "Book", plan: "Plan", threads: int) -> str:
    """Return the forecast of a plan as JSON, as the book keeps it."""
    from pourcast import __version__
    from pourcast.cli.learn import of_book
    from pourcast.execute.made_with import made_with
    from pourcast.forecast.document import document
    from pourcast.forecast.solve import DRAWS, forecast

    said = forecast(plan, of_book(book, plan), draws=DRAWS, rng=0, threads=threads)
    return json.dumps(document(said, version=__version__, made_with=made_with()))


def _keep(book: "Book", sheet: str, file: str, plan: "Plan", document: str) -> "KeptPlan":
    from pourcast.book.plans import keep_plan

    return keep_plan(
        book,
        sheet=sheet,
        file_name=file,
        document=json.loads(document),
        alloy=plan.charge.alloy,
        powder=plan.mix.powder,
        at=datetime.now(UTC),
    )


def _melts(melts: tuple[str, ...]) -> "list[Melt]":
    """Return melts such as "0.8 kg 25 min"."""
    from pourcast.melt.melting import Melt
    from pourcast.trade_units import read

    found = []
    for written in melts:
        words = written.split()
        if len(words) != 4:
            raise InputError("melt of the furnace", written, "", 'such as "0.8 kg 25 min"')
        mass = read(" ".join(words[:2]), "mass", default_unit="kg")
        found.append(Melt(mass=mass, time=read(" ".join(words[2:]), "time", default_unit="min")))
    return found


def _furnace(melts: "list[Melt]", case: "DayCase") -> "Furnace | None":
    from pourcast.day.metal import charge_heat
    from pourcast.melt.melting import furnace_of

    return furnace_of(melts, charge_heat(case.plan, case.ready)) if melts else None
