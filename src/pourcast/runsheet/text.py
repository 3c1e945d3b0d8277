"""The run sheet as plain text, for a terminal and for a printer that knows nothing else."""

import textwrap
import unicodedata
from collections.abc import Iterator, Sequence

from pourcast import units as si
from pourcast.runsheet.clock import Wall, wall
from pourcast.runsheet.figures import JOIN, grams, marked
from pourcast.runsheet.model import (
    LAST_WORD,
    MARKS_TOLD,
    TITLES,
    Act,
    Reading,
    RunSheet,
    Weight,
)

WIDTH = 80
"""Signs in a line."""

MOST_STOPS = 4
"""Sentences under "Settle first"; the forecast has all."""

MOST_PARTS = 12
"""Parts to be marked one by one; a piece with more has them in the forecast."""

_EDGE = 10  # signs that the time takes


def lines(sheet: RunSheet, width: int = WIDTH) -> list[str]:
    """Return the lines of the run sheet.

    Parameters
    ----------
    sheet : RunSheet
    width : int
        Most signs in a line; 40 or more.
    """
    made = [
        *_wrapped(sheet.name + ("  (invented demo)" if sheet.invented else ""), width),
        *_wrapped(headline(sheet), width),
        "",
        *_wrapped(MARKS_TOLD, width),
        *_wrapped(LAST_WORD, width),
    ]
    for title, told in (("Settle first", stops_told(sheet)), ("Note", notes_told(sheet))):
        if told:
            made += ["", title, *(line for text in told for line in _wrapped(text, width, "  "))]
    made += ["", "Weigh", *_scales(sheet.weights)]
    for block, care in zip(sheet.blocks, care_told(sheet), strict=True):
        day = ""
        made += ["", TITLES[block.stage].upper(), "Have ready:"]
        made += [line for text in block.ready for line in _wrapped(f"[ ] {text}", width, "  ")]
        made += [line for text in care for line in _wrapped(f"Take care. {text}", width)]
        made += [line for text in block.notes for line in _wrapped(text, width)]
        for act in (act for act in sheet.acts if act.stage == block.stage):
            moment = moment_of(sheet, act.at)
            if moment.day != day:
                day = moment.day
                made += ["", day]
            made += _act(sheet, act, moment.time, width)
    if sheet.parts:
        made += ["", "Mark each part: full, short, missing"]
        shown, rest = parts_told(sheet)
        for name in filter(None, (*shown, rest)):
            made += _wrapped(name, width, "  ")
    made += ["", *_wrapped(origin(sheet), width)]
    return [line.replace(JOIN, " ").rstrip() for line in made]


def headline(sheet: RunSheet) -> str:
    """Return when the job starts and when the metal is poured."""
    first = moment_of(sheet, 0.0)
    pour = moment_of(sheet, next(act.at for act in sheet.acts if act.key == "pour"))
    return (
        f"Starts {first.day} {first.year} at {first.time}. Pour {pour.day} at {pour.time}. "
        f"Clock of {sheet.zone.name}."
    )


def stops_told(sheet: RunSheet) -> list[str]:
    """Return what must be settled before the mix, and how much more there is to watch."""
    told = list(sheet.stops[:MOST_STOPS])
    more = len(sheet.stops) - len(told)
    if more:
        told.append(f"and {more} more: see the forecast.")
    told += [found.text for found in sheet.findings]
    return told


def notes_told(sheet: RunSheet) -> list[str]:
    """Return what holds for the whole sheet."""
    told = list(sheet.notes)
    if sheet.watched:
        things = "one thing" if sheet.watched == 1 else f"{sheet.watched} things"
        told.append(f"The forecast names {things} to watch: read it beside this sheet.")
    return told


def care_told(sheet: RunSheet) -> list[list[str]]:
    """Return the cautions of each block; what was said before is said in its first sentence."""
    told: list[list[str]] = []
    said: set[str] = set()
    for block in sheet.blocks:
        told.append(
            [
                f"{fact.text.partition('. ')[0].removesuffix('.')}."
                if fact.key in said
                else fact.text
                for fact in block.care
            ]
        )
        said |= {fact.key for fact in block.care}
    return told


def parts_told(sheet: RunSheet) -> tuple[list[str], str]:
    """Return the parts to be marked one by one, and a sentence on the rest; "" if none is left."""
    shown = list(sheet.parts[:MOST_PARTS])
    left = len(sheet.parts) - len(shown)
    return shown, f"and {left} more: mark them on a photograph." if left else ""


def origin(sheet: RunSheet) -> str:
    """Return what the sheet was made from."""
    return (
        f"pourcast {sheet.version}, {sheet.draws} draws, seed {sheet.seed}, "
        f"plan {sheet.identity[:8]}"
    )


def moment_of(sheet: RunSheet, at: si.Second, step: si.Second = 60.0) -> Wall:
    """Return the wall clock at a moment of the job.

    Parameters
    ----------
    sheet : RunSheet
    at : float [s]
        Since the start.
    step : float [s]
        To which it is rounded.
    """
    return wall(sheet.zone, sheet.start + at, step)


def when_told(sheet: RunSheet, act: Act) -> str:
    """Return the spread or the latest moment of an act in words; "" where it has none."""
    if act.early is not None and act.late is not None and act.early < act.late:
        early, late = (moment_of(sheet, at).time for at in (act.early, act.late))
        return f"{early} to {late}"
    if act.late is not None and act.late > act.at:
        latest = moment_of(sheet, act.late).time
        return "" if latest == moment_of(sheet, act.at).time else f"at the latest {latest}"
    return ""


def mass_told(weight: Weight) -> str:
    """Return the mass of a line with its range and its letter."""
    told = grams(weight.mass)
    if weight.low is not None and weight.high is not None:
        low = grams(weight.low).removesuffix(f"{JOIN}g")
        told += f", {low} to {grams(weight.high)}"
    return marked(told, weight.kind)


def reading_told(reading: Reading, space: str = "______") -> str:
    """Return a reading with the space in which it is written.

    Parameters
    ----------
    reading : Reading
    space : str
    """
    if reading.choices:
        return f"{reading.what}: " + "  ".join(f"[ ] {word}" for word in reading.choices)
    return f"{reading.what} {space} {reading.unit}".rstrip()


def _act(sheet: RunSheet, act: Act, time: str, width: int) -> Iterator[str]:
    edge = " " * (_EDGE + 4)
    body = width - len(edge)
    spread = when_told(sheet, act)
    told = " ".join(filter(None, (act.what, _kept(f"[{spread}]") if spread else "", act.why)))
    first, *rest = _folded(told, body)
    yield f"{marked(time, act.kind):<{_EDGE}}[ ] {first}"
    yield from (edge + line for line in rest)
    for line in _folded("  ".join(_kept(reading_told(reading)) for reading in act.readings), body):
        yield edge + line


def _kept(text: str) -> str:
    """Return a text that no line breaks."""
    return text.replace(" ", JOIN)


def _scales(weights: Sequence[Weight]) -> list[str]:
    wide = max(len(weight.what) for weight in weights)
    return [
        f"  {'[ ]' if weight.weighed else '   '} {weight.what:<{wide}}  {mass_told(weight)}"
        for weight in weights
    ]


def _wrapped(text: str, width: int, indent: str = "") -> list[str]:
    return [indent + line for line in _folded(text, width - len(indent))]


def _folded(text: str, width: int) -> list[str]:
    """Return a text in lines of at most so many places; wide signs take two."""
    lines: list[str] = []
    for word in text.split(" "):
        for piece in _pieces(word, width):
            if lines and _places(lines[-1]) + 1 + _places(piece) <= width:
                lines[-1] += f" {piece}"
            elif piece:
                lines.append(piece)
    return lines


def _pieces(word: str, width: int) -> Iterator[str]:
    """Yield a word, cut where it is longer than a line."""
    if _places(word) <= width:
        yield word
        return
    yield from textwrap.wrap(word, width if word.isascii() else width // 2)


def _places(text: str) -> int:
    return sum(
        0 if unicodedata.combining(sign) else 1 + (unicodedata.east_asian_width(sign) in "WF")
        for sign in text
    )
