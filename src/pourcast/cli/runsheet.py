"""Run sheet on the command line: read the piece, forecast it, write paper, calendar or text."""

import sys
import time
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from pourcast import __version__
from pourcast import units as si
from pourcast.cli.files import read_kiln_log, read_sheet, shown_name
from pourcast.cli.signs import write_out
from pourcast.errors import InputError
from pourcast.page.zones import zone_record

if TYPE_CHECKING:
    from pourcast.burnout.dial import DialPlan
    from pourcast.forecast.model import Forecast
    from pourcast.runsheet.model import RunSheet
    from pourcast.runsheet.usual import Lengths

_SUCH_AS = 'a date and a time such as "2026-12-05 18:30"'


def run_runsheet(
    file: str,
    *,
    start: str,
    zone: str | None = None,
    kiln_in: str | None = None,
    furnace_min: float | None = None,
    kiln_log: str | None = None,
    pdf: Path | None = None,
    calendar: Path | None = None,
    text: bool = False,
    paper: Literal["a4", "letter"] = "a4",
    draws: int = 400,
    seed: int = 0,
    threads: int = 1,
) -> None:
    """Write a run sheet; as text where nothing else is asked for.

    Raises
    ------
    PourcastError
        If a file or an option is bad, or the work could not be done.
    """
    from pourcast.forecast.solve import forecast
    from pourcast.materials import library
    from pourcast.runsheet.solve import schedule
    from pourcast.sheet import read_plan

    place = read_zone(zone)
    begins = read_moment("start", start, place)
    enters = None if kiln_in is None else read_moment("kiln in", kiln_in, place)
    lengths = _lengths(furnace_min)
    written = read_sheet(file)
    said = forecast(
        read_plan(written, file=shown_name(file)), draws=draws, rng=seed, threads=threads
    )
    first = begins if enters is None else enters
    dial = _dial(kiln_log, said, first, place) if kiln_log else None
    sheet = schedule(
        said,
        start=begins.timestamp(),
        zone=zone_record(zone, place, begins, first),
        book=library(),
        version=__version__,
        kiln_in=None if enters is None else enters.timestamp(),
        mix=said.clock,
        dial=dial,
        lengths=lengths,
    )
    told = []
    if pdf is not None:
        told += _write_pdf(pdf, sheet, said, paper)
    if calendar is not None:
        from pourcast.runsheet.calendar import calendar_file

        write_bytes(calendar, calendar_file(sheet, stamp=time.time()))
        told.append(f"Calendar: {calendar}")
    if text or not told:
        from pourcast.runsheet.text import lines

        write_out("\n".join(lines(sheet)) + "\n")
    if told:
        write_out("\n".join(told) + "\n")


def read_zone(name: str | None) -> tzinfo | None:
    """Return a time zone by its name; None: that of this machine.

    Raises
    ------
    InputError
        If no zone has the name.
    """
    if name is None:
        return None
    from zoneinfo import ZoneInfo

    try:
        return ZoneInfo(name)
    except (OSError, ValueError, LookupError):
        raise InputError("zone", name, "", "a time zone such as Europe/Berlin") from None


def read_moment(what: str, text: str, zone: tzinfo | None) -> datetime:
    """Return a moment as the caster writes it, on the wall clock of a zone.

    Raises
    ------
    InputError
        If it is no date and time, or the clock skips it when it goes forward.
    """
    try:
        written = datetime.fromisoformat(text.strip())
    except ValueError:
        raise InputError(what, text, "", _SUCH_AS) from None
    if ":" not in text:
        raise InputError(what, text, "", _SUCH_AS, "The time of day is missing.")
    if not 1971 <= written.year <= 9000:
        raise InputError(what, text, "", "a year from 1971 to 9000")
    if written.tzinfo is not None:
        return written.astimezone(UTC)
    moment = _placed(written, zone)
    there = moment.astimezone(zone).replace(tzinfo=None)
    if there != written:
        raise InputError(what, text, "", "a time that the clock shows; it goes forward over it")
    if _placed(written.replace(fold=1), zone) != moment:
        sys.stderr.write(
            f"{what}: the clock shows {text} twice; the first is taken. For the second write the "
            f'distance from universal time as well, such as "{text}+01:00".\n'
        )
    return moment


def _placed(written: datetime, zone: tzinfo | None) -> datetime:
    there = written.astimezone() if zone is None else written.replace(tzinfo=zone)
    return there.astimezone(UTC)


def _lengths(furnace_min: float | None) -> "Lengths":
    from dataclasses import replace

    from pourcast.errors import require_positive
    from pourcast.runsheet.usual import USUAL

    if furnace_min is None:
        return USUAL
    require_positive("furnace minutes", furnace_min, "min")
    own = replace(
        USUAL.furnace, value=furnace_min, low=furnace_min, high=furnace_min, source="as you said"
    )
    return replace(USUAL, furnace=own)


def _dial(log: str, said: "Forecast", begun: datetime, zone: tzinfo | None) -> "DialPlan":
    """Return the turns that keep the kiln of a log near the curve of a forecast."""
    from pourcast.forecast.dial_study import dial_study
    from pourcast.materials import library
    from pourcast.runsheet.curve import curve_for

    read = read_kiln_log(log)
    there = begun.astimezone(zone)
    clock: si.Second = 3600.0 * there.hour + 60.0 * there.minute
    _, plan = dial_study(read, curve_for(said, library()), clock)
    return plan


def write_bytes(path: Path, content: bytes) -> None:
    """Write a file; an older one of the same name is replaced in one go."""
    part = path.with_name(path.name + ".part")
    try:
        part.write_bytes(content)
        part.replace(path)
    except OSError as fault:
        part.unlink(missing_ok=True)
        reason = fault.strerror or str(fault)
        raise InputError("file", path, "", f"a file that can be written ({reason})") from None


def _write_pdf(
    path: Path, sheet: "RunSheet", said: "Forecast", paper: Literal["a4", "letter"]
) -> list[str]:
    from pourcast.page.render import style
    from pourcast.page.svg_pictures import bench
    from pourcast.runsheet.paper import printed
    from pourcast.runsheet.picture import self_contained

    made = printed(sheet, paper=paper, picture=self_contained(str(bench(said)), style()))
    write_bytes(path, made.pdf)
    told = [f"Run sheet: {path}"]
    if made.replaced:
        signs = ", ".join(f"U+{ord(sign):04X}" for sign in made.replaced)
        told.append(f"Signs that the sheet cannot print stand as a mark: {signs}.")
    return told
