"""Day start: when did the block go into the kiln, as it is written behind --start?"""

from datetime import UTC, datetime, tzinfo

from pourcast.cli.runsheet import read_moment
from pourcast.errors import InputError


def start_of(text: str | None, zone: tzinfo | None, *, practice: bool) -> datetime:
    """Return the start that was asked for; of practice that names none, this minute.

    Raises
    ------
    InputError
        If it is no moment, or a day that is no practice names none.
    """
    if text is not None:
        return read_start(text, zone)
    if not practice:
        raise InputError(
            "start", "not given", "", "when the block goes into the kiln", "Add --start 05:00."
        )
    return datetime.now(UTC).replace(second=0, microsecond=0)


def read_start(text: str, zone: tzinfo | None) -> datetime:
    """Return a start: a time of today, or a date and a time."""
    plain = text.strip()
    if len(plain) <= 5 and ":" in plain:
        today = datetime.now(UTC).astimezone(zone).date()
        plain = f"{today.isoformat()} {plain.zfill(5)}"
    return read_moment("start", plain, zone)
