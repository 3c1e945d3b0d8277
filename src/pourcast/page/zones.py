"""Zones: how the wall clock of a place runs over the days of a job.

`pourcast.runsheet` and `pourcast.day` know no clock; a door hands them what it says.
"""

from datetime import UTC, datetime, timedelta, tzinfo

from pourcast.runsheet.model import Zone

_BEFORE, _AFTER = timedelta(days=1), timedelta(days=60)
_STEP = 3600


def zone_record(name: str | None, zone: tzinfo | None, start: datetime, last: datetime) -> Zone:
    """Return how the wall clock runs from a day before the start to weeks after the kiln.

    Parameters
    ----------
    name : str or None
        As it will be shown; None: that of this machine.
    zone : tzinfo or None
        None: that of this machine.
    start, last : datetime
    """
    moment = int((start - _BEFORE).timestamp())
    end = int((max(start, last) + _AFTER).timestamp())
    since, kept = [moment], [_ahead(moment, zone)]
    while moment < end:
        later = _ahead(moment + _STEP, zone)
        if later != kept[-1]:
            since.append(_change(moment, zone))
            kept.append(later)
        moment += _STEP
    shown = name or f"this machine ({kept[0][1]})"
    return Zone(
        name=shown,
        since=tuple(map(float, since)),
        ahead=tuple(ahead for ahead, _ in kept),
        letters=tuple(letters for _, letters in kept),
    )


def _ahead(moment: int, zone: tzinfo | None) -> tuple[float, str]:
    there = datetime.fromtimestamp(moment, UTC).astimezone(zone)
    offset = there.utcoffset() or timedelta()
    return offset.total_seconds(), there.tzname() or ""


def _change(low: int, zone: tzinfo | None) -> int:
    """Return the first second of the hour after ``low`` at which the clock runs anew."""
    high, before = low + _STEP, _ahead(low, zone)
    while high - low > 1:
        middle = (low + high) // 2
        if _ahead(middle, zone) == before:
            low = middle
        else:
            high = middle
    return high
