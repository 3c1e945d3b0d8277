"""Day queue: several flasks and one furnace; which is poured first, and how long may each wait?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from pourcast import units as si
from pourcast.app.day_room import LENGTHS, DayNow, DayRoom
from pourcast.app.studio import Studio
from pourcast.book.open_days import open_days
from pourcast.day.pouring import TURN_ROUND, Queued, order_of_pours, out_at, queue
from pourcast.page.figures import clean
from pourcast.page.words_pour_day import may_wait_told, queue_told


@dataclass(frozen=True, slots=True, kw_only=True)
class InLine:
    """One flask of the queue.

    Parameters
    ----------
    day : DayNow
    place : Queued
        Moments since 1970.
    """

    day: DayNow
    place: Queued

    @property
    def told(self) -> str:
        """When it is poured, and how long it may wait."""
        name = clean(self.day.plan.piece.name)
        when = queue_told(name, self.place, 0.0, self.day.zone)
        return f"{when} {may_wait_told(self.day.flask, self.day.melt)}"


def waiting_line(
    room: DayRoom, studio: Studio, now: datetime, *, between: si.Second = TURN_ROUND
) -> tuple[InLine, ...]:
    """Return the flasks that are in the kiln and not poured yet, in the order of their pours.

    Parameters
    ----------
    room : DayRoom
    studio : Studio
    now : datetime
    between : float [s]
        From one flask out of the kiln to the furnace lit again.
    """
    return in_line([room.now(pour_id) for pour_id in open_days(studio.book, now)], between=between)


def in_line(days: Sequence[DayNow], *, between: si.Second = TURN_ROUND) -> tuple[InLine, ...]:
    """Return days in the order of their pours from one furnace.

    Parameters
    ----------
    days : sequence of DayNow
    between : float [s]
        From one flask out of the kiln to the furnace lit again.
    """
    ready = tuple(day.forecast.start + out_at(day.forecast) for day in days)
    melts = tuple(day.melt.time for day in days)
    ahead = LENGTHS.ahead.si
    order = order_of_pours(ready, melts, ahead=ahead, turn_round=between)
    places = queue(
        tuple(ready[place] for place in order),
        tuple(melts[place] for place in order),
        ahead=ahead,
        turn_round=between,
    )
    return tuple(
        InLine(day=days[which], place=place) for which, place in zip(order, places, strict=True)
    )
