"""Day lines: one line that is typed on the kiln day, kept or answered."""

import sys
from datetime import datetime
from typing import TYPE_CHECKING

from pourcast.cli.signs import write_out
from pourcast.errors import InputError, PourcastError

if TYPE_CHECKING:
    from pourcast.cli.show_day import DayView

LEAVE = ("end", "quit", "exit", "q")
"""What may be typed to leave; the day is kept as it stands."""


def typed_in(view: "DayView", line: str, now: datetime) -> bool:
    """Keep one line, say so, and say how the day stands; a bad line is told and passed over.

    False comes back where the caster leaves, or where the day was begun by mistake, so that
    nothing is left to follow.
    """
    from pourcast.book.day_entries import enter
    from pourcast.day.typed import SUCH_AS

    plain = line.strip()
    if plain.lower() in LEAVE:
        return False
    if plain.lower() in ("help", "?"):
        write_out(
            f"Type {SUCH_AS}. An empty line says how it stands; longer 2 h says what holding the "
            "hottest step longer would do; end leaves.\n"
        )
        return True
    if plain.lower().startswith("longer"):
        _asked_longer(view, plain[len("longer") :].strip(), now)
        return True
    if not plain:
        view.say(now)
        return True
    try:
        made = enter(view.book, view.pour_id, plain, now=now, zone=view.zone, unit=view.unit)
    except InputError as fault:
        sys.stderr.write(f"{fault}\n")
        sys.stderr.flush()
        return True
    view.unit = made.unit
    view.kept(made)
    if made.day == "wrong":
        return False
    try:
        view.say(max(now, made.at))
    except PourcastError as fault:
        sys.stderr.write(f"Kept, but the day could not be forecast: {fault}\n")
    return True


def _asked_longer(view: "DayView", span: str, now: datetime) -> None:
    """Say what a longer hold would do; nothing is kept."""
    from pourcast.day.typed import longer_typed

    try:
        write_out(view.longer(longer_typed(span), now) + "\n")
    except InputError as fault:
        sys.stderr.write(f"{fault}\n")
