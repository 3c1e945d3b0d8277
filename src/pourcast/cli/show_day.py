"""Show day: one open day, its forecast, and the lines that are said of it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

from pourcast.cli.files import write_page
from pourcast.cli.signs import write_out

if TYPE_CHECKING:
    from pourcast.book.day_entries import Entered
    from pourcast.book.kiln_days import ReadLog
    from pourcast.book.store import Book
    from pourcast.day.case import DayCase
    from pourcast.day.model import DayForecast, DayLog
    from pourcast.melt.melting import Furnace
    from pourcast.runsheet.model import Zone
    from pourcast.speech import Speech

NEAR_POUR = 2.0 * 3600.0
"""s, before the pour from which on its acts are said each time; our own choice."""


@dataclass(slots=True, kw_only=True)
class DayView:
    """One day that is being followed.

    A day of which nothing was entered yet has no pour in the book: ``pour_id`` is then
    empty, and `open` begins it.
    """

    book: "Book"
    pour_id: str
    begin: Callable[[], str]
    start: datetime
    case: "DayCase"
    zone: tzinfo | None
    wall: "Zone"
    document: str
    kiln_from: str | None = None
    furnace: "Furnace | None" = None
    crucible: float | None = None
    picture: Path | None = None
    unit: str = ""
    told: set[str] = field(default_factory=set)
    read: "ReadLog | None" = None

    @property
    def speech(self) -> "Speech":
        """How the caster is spoken to."""
        return self.case.plan.speech

    def open(self) -> str:
        """Return the id of the pour; it is begun where it is not in the book yet."""
        if not self.pour_id:
            self.pour_id = self.begin()
        return self.pour_id

    def kept(self, made: "Entered") -> None:
        """Say that an entry is on the disk."""
        from pourcast.day.fill_now import fill_now
        from pourcast.day.gauge import low_gauge
        from pourcast.page.words_day import OF_THE_DAY, clock, event_told, reading_told
        from pourcast.page.words_pour_day import fill_now_told, gauge_told

        at = clock(self.wall, made.at.timestamp())
        if made.day:
            said = OF_THE_DAY[made.day]
        elif made.reading is not None:
            said = reading_told(made.reading, made.unit, self.speech)
        elif made.event is not None:
            said = event_told(made.event)
        elif made.vacuum is not None:
            said = gauge_told(made.vacuum, self.speech)
        else:
            said = f"taken back: {made.taken_back}"
        write_out(f"Kept {at}: {said}.\n")
        if made.vacuum is None:
            return
        low = low_gauge(made.vacuum, self.case.plan)
        if low is not None:
            write_out(self.speech.finding(low).text + "\n")
            write_out(fill_now_told(fill_now(self.case, made.vacuum), self.speech) + "\n")

    def begun(self) -> float:
        """Return when the day began, in seconds since 1970."""
        return self.log().start

    def log(self) -> "DayLog":
        """Return all that is known of the day."""
        from pourcast.book.kiln_days import read_on
        from pourcast.day.model import DayLog

        if not self.pour_id:
            return DayLog(start=self.start.timestamp())
        self.read = read_on(self.book, self.pour_id, self.read)
        return self.read.log

    def longer(self, hold: float, now: datetime) -> str:
        """Return what holding the hottest step longer would do."""
        from pourcast.page import words_day as words

        return words.longer_told(
            self.forecast(now), self.forecast(now, longer=hold), hold, self.wall
        )

    def forecast(self, now: datetime, *, longer: float = 0.0) -> "DayForecast":
        """Return the day forecast again from the book."""
        from pourcast.day.solve import reforecast

        there = now.astimezone(self.zone).utcoffset()
        ahead = there.total_seconds() if there is not None else 0.0
        return reforecast(self.case, self.log(), ahead=ahead, longer=longer)

    def say(self, now: datetime) -> "DayForecast":
        """Forecast the day again, say it, and return it."""
        said = self.forecast(now)
        write_out("\n".join(self.lines(said, now)) + "\n")
        if self.picture is not None:
            self._draw(said)
        return said

    def lines(self, said: "DayForecast", now: datetime) -> list[str]:
        """Return what is said of a day."""
        from pourcast.page import words_day as words
        from pourcast.page.cautions import at_the_kiln
        from pourcast.page.words_pour_day import out_asked
        from pourcast.runsheet.model import LAST_WORD

        lines = [
            words.age_told(said, now.timestamp(), self.unit, self.speech),
            words.answer(said, self.wall),
            words.now_told(said, self.speech),
            words.pour_told(said, self.wall),
            words.turn_told(said, self.wall, now.timestamp()),
        ]
        asked = out_asked(said, self.wall, now.timestamp())
        lines += [asked] if asked else []
        lines += [
            f"{each.level}: {self.speech.text(each.text)}"
            for each in said.findings
            if each.level != "GOOD"
        ]
        if now.timestamp() >= said.start + said.pour_at - NEAR_POUR:
            lines += self.pour_lines(said)
        if "first" not in self.told:
            self.told.add("first")
            lines += [f"Take care. {each.text}" for each in at_the_kiln()]
            if self.kiln_from is not None:
                lines.append(f"The kiln is taken as the day of pour {self.kiln_from[:8]} had it.")
            lines.append(LAST_WORD)
        return lines

    def pour_lines(self, said: "DayForecast") -> list[str]:
        """Return the acts of the pour, with their windows and what they ask for."""
        from pourcast.book.kept_window import quench_of
        from pourcast.day.flask_out import flask_out
        from pourcast.day.metal import melt_clock
        from pourcast.day.pouring import PourLengths, countdown, out_at
        from pourcast.page import words_pour_day as words
        from pourcast.runsheet.usual import USUAL

        case = self.case
        lengths = PourLengths(
            furnace=USUAL.furnace,
            ahead=USUAL.ahead,
            carrying=USUAL.carrying,
            hold=USUAL.hold,
            quench=USUAL.quench,
        )
        flask = flask_out(case.plan, case.ready, case.block, USUAL.carrying.si)
        melt = melt_clock(
            case.plan, case.ready, USUAL.furnace, furnace=self.furnace, crucible=self.crucible
        )
        acts = countdown(
            out_at(said),
            melt,
            flask,
            lengths,
            quench=quench_of(self.document),
            poured_at=self._poured(said),
        )
        facts = case.ready.book.facts
        lines = []
        for act in acts:
            lines.append(words.act_told(act, said.start, self.wall))
            for key in words.CARE.get(act.step, ()):
                if key in facts:
                    lines.append(f"   {facts[key].text}")
        quench = words.quench_told(quench_of(self.document), USUAL.quench)
        return [
            *lines,
            quench,
            words.flask_told(flask, self.speech),
            *words.melt_told(melt, self.speech),
        ]

    def _poured(self, said: "DayForecast") -> float | None:
        poured = [each.at for each in self.log().events if each.act == "poured"]
        return None if not poured else poured[-1] - said.start

    def _draw(self, said: "DayForecast") -> None:
        from pourcast.page.render import style
        from pourcast.page.svg_day import day_so_far
        from pourcast.runsheet.picture import self_contained

        assert self.picture is not None
        stop = self.case.ready.book.investment["limits"]["burnout_peak_hard_stop"].si
        drawn = str(day_so_far(said, self.wall, stop=stop, speech=self.speech))
        write_page(self.picture, self_contained(drawn, style()))
