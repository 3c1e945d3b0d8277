"""Tell: read what a caster writes of one part, such as "short 4 mm, 2 of 12, porosity".

A text is a list of words, parted by commas.  First how it came out:

    (nothing), filled          every member is whole
    short                      metal stopped before the end
    short 4 mm                 by so much, in any unit of length
    filled 70 %                so much of its length is there
    missing                    nothing of it is there
    not seen                   could not be looked at

then, where it helps, how many members (``2 of 12``, no comma needed), what else is seen
(``porosity``, ``flashing many``), and last ``note: `` with words of your own.
A text with two readings is refused: "short 70 %" could be either end.
"""

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import cast

from pourcast.book.model import KeptPlan, PartOutcome
from pourcast.book.words import SIGN_AMOUNTS, SIGNS, STATES, State
from pourcast.errors import InputError, PourcastError
from pourcast.sheet import read_plan
from pourcast.trade_units import read
from pourcast.units import from_si

_COUNT = re.compile(r"([0-9]{1,6}) of ([0-9]{1,6})")
_COUNT_AFTER = re.compile(r"(?<=[^,\s])\s+(?=[0-9]{1,6} of [0-9]{1,6}\s*(?:,|$))")
_NOTE = re.compile(r"(?:^|,)\s*note:", re.IGNORECASE)
_SAME = {"full": "filled", "whole": "filled", "gone": "missing", "unseen": "not seen"}

MUST = (
    'filled, "filled 70 %", short, "short 4 mm", missing or not seen, then "2 of 12" and signs '
    "such as porosity, parted by commas"
)


def lengths_mm(plan: KeptPlan) -> dict[str, float]:
    """Return how long a member of each part is [mm]; nothing where the sheet has no reading now.

    Parameters
    ----------
    plan : KeptPlan
    """
    try:
        parts = read_plan(plan.sheet, file=plan.file_name).piece.parts
    except PourcastError:
        return {}
    return {part.name: from_si(part.length, "mm") for part in parts}


def read_part(text: str, part: str, count: int, *, length_mm: float | None = None) -> PartOutcome:
    """Return what a text says of a part; an empty one says that it filled.

    Parameters
    ----------
    text : str
    part : str
        Its name.
    count : int
        Members it has.
    length_mm : float, optional
        Of one member: it cannot be short by more.

    Raises
    ------
    InputError
        If the text has no reading, or more than one.

    Examples
    --------
    >>> read_part("short 4 mm, 2 of 12, porosity", "bract", 12).short_by_mm
    4.0
    >>> read_part("", "stem", 1).state
    'filled'
    """
    told, note = _with_note(text)
    parted = _COUNT_AFTER.sub(", ", told)
    items = [" ".join(item.split()) for item in parted.split(",")]
    items = [item for item in items if item]
    made = PartOutcome(part=part, note=note)
    if items and (first := _state(items[0], made)) is not None:
        made = first
        items = items[1:]
    for item in items:
        made = _further(item, made, count)
    by = made.short_by_mm
    if by is not None and length_mm is not None and by > length_mm:
        must = f"up to {length_mm:.9g} mm, its whole length; what is all gone is missing"
        raise InputError(part, f"short {by:.9g} mm", "", must)
    return made


def read_parts(
    options: Iterable[str],
    counts: Mapping[str, int],
    *,
    lengths: Mapping[str, float] = MappingProxyType({}),
    what: str = "--part",
) -> tuple[PartOutcome, ...]:
    """Return what options such as "bract=short 4 mm" say; a part may stand once.

    Parameters
    ----------
    options : iterable of str
    counts : mapping of str to int
        Members of each part of the piece.
    lengths : mapping of str to float, optional
        Of one member of each part [mm].
    what : str
        Name of the option.

    Raises
    ------
    InputError
        If a part is not of the piece, is told twice, or has no reading.
    """
    made: dict[str, PartOutcome] = {}
    for option in options:
        name = _part_named(option, list(counts), what)
        if name in made:
            raise InputError(what, name, "", "told once for each part")
        text = option[len(name) + 1 :]
        made[name] = read_part(text, name, counts[name], length_mm=lengths.get(name))
    return tuple(made.values())


def _part_named(option: str, names: Sequence[str], what: str) -> str:
    # A name may hold "=" itself, so the longest that fits is taken.
    fitting = [name for name in names if option.startswith(f"{name}=")]
    if fitting:
        return max(fitting, key=len)
    asked = option.partition("=")[0]
    near = difflib.get_close_matches(asked, names, n=1)
    hint = f"Did you mean {near[0]}?" if near else "Its parts are: " + ", ".join(names)
    raise InputError(what, option[:80], "", 'a part of the piece, as in "bract=short 4 mm"', hint)


def _with_note(text: str) -> tuple[str, str]:
    found = _NOTE.search(text)
    if found is None:
        return text, ""
    return text[: found.start()], text[found.end() :].strip()


def _state(item: str, made: PartOutcome) -> PartOutcome | None:
    """Return the outcome with its state; None: the item tells something else."""
    low = item.lower()
    low = _SAME.get(low, low)
    if low in STATES:
        return replace(made, state=cast(State, low))
    word, _, rest = low.partition(" ")
    word = _SAME.get(word, word)
    if word == "filled" and rest.endswith("%"):
        share = round(read(rest, "ratio", default_unit="-"), 9)  # 70 % is 0.7
        if not 0.0 <= share < 1.0:
            raise InputError(made.part, item, "", "a share below 100 %, or the word filled alone")
        return replace(made, state="short", filled_share=share)
    if word == "short" and rest.endswith("%"):
        raise InputError(made.part, item, "", 'plain: for what is there write "filled 70 %"')
    if word == "short":
        by = item.partition(" ")[2].removeprefix("by ")
        return replace(made, state="short", short_by_mm=_millimetres(by, made.part))
    return None


def _millimetres(text: str, part: str) -> float:
    try:
        metres = read(text, "length", default_unit="mm")
    except InputError as fault:
        raise InputError(part, f"short {text}", "", f"{fault.must}, after the word short") from None
    if metres <= 0.0:
        raise InputError(part, f"short {text}", "", "short by more than nothing")
    return round(from_si(metres, "mm"), 6)


def _further(item: str, made: PartOutcome, count: int) -> PartOutcome:
    low = item.lower()
    if found := _COUNT.fullmatch(low):
        return _with_count(made, int(found[1]), int(found[2]), count)
    sign, _, amount = low.partition(" ")
    if sign in SIGNS and amount in ("", *SIGN_AMOUNTS):
        if sign in (known for known, _ in made.signs):
            raise InputError(made.part, item, "", "told once for each sign")
        return replace(made, signs=(*made.signs, (sign, amount or "some")))
    near = difflib.get_close_matches(sign, [*STATES, *SIGNS], n=1)
    hint = f"Did you mean {near[0]}?" if near else "Signs: " + ", ".join(SIGNS)
    raise InputError(made.part, item, "", MUST, hint)


def _with_count(made: PartOutcome, short: int, told: int, count: int) -> PartOutcome:
    if told != count:
        raise InputError(made.part, f"{short} of {told}", "members", f"so many of {count}")
    if not 1 <= short <= count:
        raise InputError(made.part, short, "members", f"1 to {count}")
    if made.state not in ("short", "missing"):
        raise InputError(made.part, f"{short} of {told}", "", "after the word short or missing")
    return replace(made, members_short=short)


def in_words(part: PartOutcome, count: int) -> str:
    """Return an outcome as `read_part` reads it back.

    Examples
    --------
    >>> in_words(PartOutcome(part="bract", state="short", short_by_mm=4.0, members_short=2), 12)
    'short 4 mm, 2 of 12'
    """
    said: str = part.state
    if part.filled_share is not None:
        said = f"filled {100.0 * part.filled_share:.6g} %"
    elif part.short_by_mm is not None:
        said = f"short {part.short_by_mm:.9g} mm"
    items = [said]
    if part.members_short is not None:
        items.append(f"{part.members_short} of {count}")
    items += [sign if amount == "some" else f"{sign} {amount}" for sign, amount in part.signs]
    if part.note:
        items.append(f"note: {part.note}")
    return ", ".join(items)
