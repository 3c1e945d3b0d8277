"""Day take: what files and thermometers say of a kiln day, taken into the book and told."""

import stat
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from pourcast.cli.files import read_text
from pourcast.cli.signs import write_out
from pourcast.errors import InputError

if TYPE_CHECKING:
    import queue

    from pourcast.cli.show_day import DayView
    from pourcast.probe.model import Arrival


def take_file(view: "DayView", path: Path, *, live: bool) -> int:
    """Take the new rows of a log into the book, and return how many readings that were."""
    from pourcast.book.day_logs import keep_rows, rows_of_day
    from pourcast.day.clocks import skew

    now = datetime.now(UTC)
    begun = datetime.fromtimestamp(view.begun(), UTC)
    found = rows_of_day(read_text(str(path)), str(path), start=begun, zone=view.zone)
    for told in found.told:
        if told not in view.told:
            view.told.add(told)
            sys.stderr.write(f"{told}\n")
    if not found.rows:
        return 0
    taken = keep_rows(view.book, view.open(), found, now=now)
    arrived = [now.timestamp()] * len(taken.moments)
    off = skew(taken.moments[-1:] if not live else taken.moments, arrived)
    if off is not None and (off > 0.0 or live) and "clock" not in view.told:
        view.told.add("clock")
        _tell_clock(str(path), off)
    if taken.readings or taken.turns:
        write_out(f"{path.name}: {taken.readings} readings, {taken.turns} turns of the dial.\n")
    return taken.readings + taken.turns


def look_at(
    view: "DayView", watched: Path, sizes: dict[Path, tuple[int, float]], *, live: bool
) -> int:
    """Take in what is new of a watched file or folder; one that is not there yet is waited for."""
    found = 0
    files = sorted(watched.glob("*.csv")) if watched.is_dir() else [watched]
    for path in files:
        try:
            state = path.stat()
        except OSError:
            continue
        if not stat.S_ISREG(state.st_mode):
            continue  # a pipe that somebody put there would hold up the day for good
        mark = (state.st_size, state.st_mtime)
        if sizes.get(path) == mark:
            continue
        sizes[path] = mark
        try:
            found += take_file(view, path, live=live)
        except InputError as fault:
            # A file that is being put there is looked at again once it has grown.
            sys.stderr.write(f"{fault}\n")
    return found


def take_heard(view: "DayView", arrivals: "queue.Queue[Arrival]") -> int:
    """Keep what thermometers have said, tell what could not be, and return how many were kept."""
    from pourcast.day.clocks import skew
    from pourcast.probe.keep import keep_arrival
    from pourcast.probe.listen import waiting_now

    kept = 0
    start = datetime.fromtimestamp(view.begun(), UTC)
    for arrival in waiting_now(arrivals):
        outcome = keep_arrival(view.book, view.pour_id, arrival, start=start)
        if outcome.told:
            sys.stderr.write(f"{outcome.told}\n")
            sys.stderr.flush()
        if outcome.kept is None or outcome.at is None:
            continue
        kept += 1
        if outcome.kept.at is None or f"clock {arrival.source.name}" in view.told:
            continue
        off = skew([outcome.at.timestamp()], [arrival.arrived.timestamp()])
        if off is not None:
            view.told.add(f"clock {arrival.source.name}")
            _tell_clock(arrival.source.name, off)
    return kept


def _tell_clock(name: str, off: float) -> None:
    """Say by how many seconds a clock stands off."""
    way = "ahead of" if off > 0.0 else "behind"
    sys.stderr.write(
        f"{name}: its clock stands {abs(off) / 60.0:.0f} min {way} this one. Its readings are "
        "taken at the times that it gives: set it right.\n"
    )
