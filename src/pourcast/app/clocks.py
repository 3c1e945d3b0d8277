"""Clocks: when each row of the day falls, from the hour at which the bench begins."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pourcast import __version__
from pourcast import units as si
from pourcast.app.keep import replace_text
from pourcast.app.words import say
from pourcast.errors import InputError
from pourcast.forecast.model import Forecast
from pourcast.materials import library
from pourcast.page.words_burn import span
from pourcast.runsheet.clock import wall
from pourcast.runsheet.model import RunSheet, Zone
from pourcast.runsheet.solve import schedule

USUAL_HOUR, USUAL_MINUTE = 18, 30
"""When the bench evening begins unless the caster says; own choice."""

_DAYS_OF_JOB = 30
_HOUR = 3600.0
_ROWS = {
    "bench": "weigh",
    "mix": "mix",
    "burn": "kiln_in",
    "pour": "pour",
    "freeze": "pour",
    "quench": "quench",
    "break-out": "break_out",
}
"""Row of the day: the act of the run sheet at which it begins."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Where a row stands on the clock.

    Parameters
    ----------
    day : str
        Where it is another day than that of the row before; else "".
    time : str
        Such as "18:30".
    stamp : str
        For machines.
    gap : str
        How long until the next row; "" behind the last.
    night : bool
        Most of the time until the next row lies between 22 and 6 o'clock.
    """

    day: str
    time: str
    stamp: str
    gap: str = ""
    night: bool = False


class Starts:
    """When the bench evening of each piece begins, as the caster has said.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def read(self, piece_id: str, now: datetime) -> tuple[datetime, bool]:
        """Return when it begins, and whether the caster has said so.

        Parameters
        ----------
        piece_id : str
        now : datetime
            Of this machine, with its zone.
        """
        path = self._folder / f"{piece_id}.txt"
        if path.is_file():
            return datetime.fromisoformat(path.read_text("utf-8").strip()).astimezone(), True
        start = now.replace(hour=USUAL_HOUR, minute=USUAL_MINUTE, second=0, microsecond=0)
        return (start if start > now else start + timedelta(days=1)), False

    def write(self, piece_id: str, typed: str) -> None:
        """Keep when it begins.

        Raises
        ------
        InputError
            If it is no date and time.
        """
        try:
            start = datetime.fromisoformat(typed.strip())
            if not 1971 <= start.year <= 9000:
                raise ValueError
            start = start.astimezone()
        except (ValueError, OverflowError, OSError):
            raise InputError("start", typed[:40], "", say("piece.start.must")) from None
        replace_text(self._folder / f"{piece_id}.txt", start.isoformat())


def run_sheet(forecast: Forecast, start: datetime) -> RunSheet:
    """Return the run sheet of a forecast on the wall clock of this machine."""
    return schedule(
        forecast,
        start=start.timestamp(),
        zone=zone_of_machine(start),
        book=library(),
        version=__version__,
        mix=forecast.clock,
    )


def zone_of_machine(start: datetime) -> Zone:
    """Return how the wall clock of this machine runs over a job, to the hour."""
    first = start.timestamp() - 24 * _HOUR
    since: list[si.Second] = []
    ahead: list[si.Second] = []
    letters: list[str] = []
    for hour in range(24 * _DAYS_OF_JOB):
        moment = first + hour * _HOUR
        there = datetime.fromtimestamp(moment, UTC).astimezone()
        offset = (there.utcoffset() or timedelta()).total_seconds()
        if not ahead or offset != ahead[-1]:
            since.append(moment)
            ahead.append(offset)
            letters.append(there.tzname() or "")
    return Zone(
        name=f"this machine ({letters[0]})",
        since=tuple(since),
        ahead=tuple(ahead),
        letters=tuple(letters),
    )


def hands(sheet: RunSheet, rows: list[str]) -> dict[str, Hand]:
    """Return where rows stand on the clock of a run sheet.

    Parameters
    ----------
    sheet : RunSheet
    rows : list of str
        Keys of the rows of the day, in their order.

    Returns
    -------
    dict of str to Hand
        A row whose act is not on the sheet is left out.
    """
    at = {act.key: act.at for act in sheet.acts}
    found = [(row, at[_ROWS[row]]) for row in rows if _ROWS.get(row) in at]
    made: dict[str, Hand] = {}
    day = ""
    for place, (row, moment) in enumerate(found):
        told = wall(sheet.zone, sheet.start + moment)
        gap, night = "", False
        if place + 1 < len(found):
            length = found[place + 1][1] - moment
            gap = say("piece.at_once") if length < 60.0 else span(length)
            night = _is_night(sheet, moment, length)
        made[row] = Hand(
            day=told.day if told.day != day else "",
            time=told.time,
            stamp=datetime.fromtimestamp(sheet.start + moment, UTC).isoformat(timespec="minutes"),
            gap=gap,
            night=night,
        )
        day = told.day
    return made


def _is_night(sheet: RunSheet, moment: si.Second, length: si.Second) -> bool:
    hours = [
        int(wall(sheet.zone, sheet.start + moment + length * share).time[:2])
        for share in (0.1, 0.3, 0.5, 0.7, 0.9)
    ]
    return sum(hour >= 22 or hour < 6 for hour in hours) > 2
