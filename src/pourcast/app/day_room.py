"""Day room: the kiln days of a studio, each with its case worked out once and kept in memory.

What was read and done stands in the book; here is nothing that a power cut could
take.  The case of a plan (its particles, and what the plan comes to) is made when its
day is first looked at, and the forecast anew for each log that is new.
"""

import threading
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from pourcast import units as si
from pourcast.app.gauges import Gauges, Waits
from pourcast.app.studio import Studio
from pourcast.book.day_kiln import kiln_before
from pourcast.book.kept_window import quench_of
from pourcast.book.kiln_days import ReadLog, read_on
from pourcast.book.model import Pour
from pourcast.book.outcomes import read_pour
from pourcast.book.plans import read_plan as read_kept_plan
from pourcast.day.case import DayCase, day_case, top_of
from pourcast.day.fill_now import FillNow
from pourcast.day.flask_out import FlaskOut, flask_out
from pourcast.day.kilns import plain_kiln
from pourcast.day.metal import MeltClock, melt_clock
from pourcast.day.model import DayForecast, DayLog, until
from pourcast.day.pouring import PourAct, PourLengths, countdown, out_at
from pourcast.day.solve import reforecast
from pourcast.forecast.burnout_case import ROOM
from pourcast.materials import library
from pourcast.page.zones import zone_record
from pourcast.runsheet.clock import ahead_at
from pourcast.runsheet.model import Zone
from pourcast.runsheet.usual import USUAL
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

LENGTHS = PourLengths(
    furnace=USUAL.furnace,
    ahead=USUAL.ahead,
    carrying=USUAL.carrying,
    hold=USUAL.hold,
    quench=USUAL.quench,
)
"""How long the acts of the pour take where nothing better is known."""

_MOST_CASES = 8
_MOST_THEN = 64  # moments of replayed days kept in memory


@dataclass(frozen=True, slots=True, kw_only=True)
class DayNow:
    """A day as it stands.

    Parameters
    ----------
    pour : Pour
    plan : Plan
    log : DayLog
    forecast : DayForecast
    zone : Zone
    acts : tuple of PourAct
    melt : MeltClock
    flask : FlaskOut
    """

    pour: Pour
    plan: Plan
    log: DayLog
    forecast: DayForecast
    zone: Zone
    acts: tuple[PourAct, ...]
    melt: MeltClock
    flask: FlaskOut


class DayRoom:
    """Cases and forecasts of days.

    Parameters
    ----------
    studio : Studio
    """

    def __init__(self, studio: Studio) -> None:
        self._studio = studio
        self._cases: dict[str, DayCase] = {}
        self._last: dict[str, DayNow] = {}
        self._then: dict[tuple[str, int, int], tuple[DayLog, DayForecast]] = {}
        self._read: dict[str, ReadLog] = {}
        self._gauges = Gauges()
        self._locks: dict[str, threading.Lock] = {}
        self._door = threading.Lock()

    def now(self, asked: str | Pour) -> DayNow:
        """Return a day as it stands by all that is in the book.

        Parameters
        ----------
        asked : str or Pour
            Its id, or the pour where it was just read.

        Raises
        ------
        PourcastError
            If the pour has no beginning in the kiln, or its plan no kiln.
        """
        pour_id = asked.id if isinstance(asked, Pour) else asked
        with self._door:
            lock = self._locks.setdefault(pour_id, threading.Lock())
        # Two windows that ask for the same day wait for one answer.
        with lock:
            pour = asked if isinstance(asked, Pour) else read_pour(self._studio.book, pour_id)
            self._read[pour_id] = read_on(self._studio.book, pour_id, self._read.get(pour_id))
            log = self._read[pour_id].log
            last = self._last.get(pour_id)
            if last is None or last.log != log:
                last = self._work_out(pour, log)
            # The day of the pour may be entered without a word in the log.
            last = self._last[pour_id] = replace(last, pour=pour)
            return last

    def then(self, pour_id: str, at: si.Second) -> tuple[DayNow, DayForecast]:
        """Return a day as it stands, and as it looked at a moment of it.

        Parameters
        ----------
        pour_id : str
        at : float [s]
            Since 1970.
        """
        day = self.now(pour_id)
        log = until(day.log, at)
        key = (pour_id, len(log.readings), len(log.events))
        with self._door:
            known = self._then.get(key)
        if known is None or known[0] != log:
            known = log, reforecast(self._case_of(day), log, ahead=ahead_at(day.zone, log.start))
            with self._door:
                while len(self._then) >= _MOST_THEN:
                    self._then.pop(next(iter(self._then)))
                self._then[key] = known
        return day, known[1]

    def longer(self, pour_id: str, hold: si.Second) -> tuple[DayNow, DayForecast]:
        """Return a day as it stands, and as it would be with its hottest step held longer.

        Parameters
        ----------
        pour_id : str
        hold : float [s]
        """
        day = self.now(pour_id)
        ahead = ahead_at(day.zone, day.log.start)
        return day, reforecast(self._case_of(day), day.log, ahead=ahead, longer=hold)

    def fill_now(self, day: DayNow, shown: si.Pascal) -> FillNow | Waits:
        """Return what the gauge of a day makes of its chance, or why that is not known.

        Parameters
        ----------
        day : DayNow
            Of a plan that is poured with a pump.
        shown : float [Pa]
            By the gauge, below the air outside.
        """
        return self._gauges.known(day.pour.id, self._case_of(day), shown)

    def _work_out(self, pour: Pour, log: DayLog) -> DayNow:
        kept = read_kept_plan(self._studio.book, pour.plan_id)
        plan = read_plan(kept.sheet, file=kept.file_name)
        start = datetime.fromtimestamp(log.start, UTC)
        case = self._case(pour.id, plan, start)
        zone = zone_record(None, None, start, start + timedelta(days=2))
        found = reforecast(case, log, ahead=ahead_at(zone, log.start))
        quench = quench_of(kept.document)
        melt = melt_clock(plan, case.ready, LENGTHS.furnace)
        flask = flask_out(plan, case.ready, case.block, LENGTHS.carrying.si)
        return DayNow(
            pour=pour,
            plan=plan,
            log=log,
            forecast=found,
            zone=zone,
            acts=countdown(
                out_at(found), melt, flask, LENGTHS, quench=quench, poured_at=_poured(log)
            ),
            melt=melt,
            flask=flask,
        )

    def _case_of(self, day: DayNow) -> DayCase:
        return self._case(day.pour.id, day.plan, datetime.fromtimestamp(day.log.start, UTC))

    def _case(self, pour_id: str, plan: Plan, start: datetime) -> DayCase:
        """Return the case of a day; its kiln is that of the latest day before that tells."""
        known = self._cases.get(pour_id)
        if known is None:
            studio = self._studio
            book = library()
            plain = plain_kiln(book.kiln, top_of(plan), ROOM)
            before = kiln_before(studio.book, start, plain)
            known = day_case(
                plan,
                studio.calibration(plan, start),
                kiln=None if before is None else before[0],
                threads=studio.threads,
            )
            if len(self._cases) >= _MOST_CASES:
                self._cases.pop(next(iter(self._cases)))
            self._cases[pour_id] = known
        return known


def _poured(log: DayLog) -> si.Second | None:
    poured = [event.at - log.start for event in log.events if event.act == "poured"]
    return poured[-1] if poured else None
