"""Text: whether the piece file is readable at all.

From bytes to a TOML document.  A file that is too large, is not text in UTF-8
or breaks the rules of TOML is refused here, with its line.  What the keys say
is not looked at.
"""

import re
import tomllib
from typing import Any

from pourcast.errors import Fault, SheetError
from pourcast.sheet.faults import brief

LONGEST_FILE = 1_000_000  # bytes; our own choice, 100 parts take about 20 kB
MOST_POINTS = 100  # on one line; a dotted key costs time with the square of its points

_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_KEY = re.compile(r"\s*([A-Za-z0-9_.-]+)\s*=\s*(.*)")
_WITH_UNIT = re.compile(r"[+-]?[\d.,/ ]*\d\s*[A-Za-z°%\"':/]")
_MANY_FIGURES = re.compile(r"[0-9_]{4000}")
_COMMA = re.compile(r"[+-]?\d+,\d+\s*(?:#.*)?$")


def decode(data: bytes, *, file: str = "piece file") -> str:
    """Return the text of a piece file.

    Parameters
    ----------
    data : bytes
        The file as it is stored, in UTF-8.
    file : str
        Its name, for the message.

    Returns
    -------
    str
        Without the mark that some editors put before the first character.

    Raises
    ------
    SheetError
        If the file is too large, or is not UTF-8.
    """
    if len(data) > LONGEST_FILE:
        raise _refused(file, 1, "piece file", *_too_large(len(data)))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        raise _refused(
            file,
            line,
            "piece file",
            f"byte {data[fault.start]:#04x} is not text in UTF-8",
            "save the file as UTF-8 in your editor",
        ) from fault


def parse(text: str, *, file: str) -> dict[str, Any]:
    """Return the document of a TOML text.

    Raises
    ------
    SheetError
        If the text is too large or is not TOML.
    """
    # Half of a pair of surrogates cannot be written to any file.
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > LONGEST_FILE:
        raise _refused(file, 1, "piece file", *_too_large(size))
    for place, line in enumerate(text.split("\n"), start=1):
        points = line.count(".")
        if points > MOST_POINTS:
            raise _refused(
                file,
                place,
                "piece file",
                f"the line has {points} points; it must have at most {MOST_POINTS}",
                "break it into several lines",
            )
    try:
        return tomllib.loads(text)
    except RecursionError as fault:
        raise _refused(
            file,
            1,
            "piece file",
            "brackets stand too deep in each other",
            "a piece file needs at most three, as in [[kiln.step]]",
        ) from fault
    except ValueError as fault:  # also a number of thousands of figures
        raise _syntax(str(fault), text, file) from fault


def _too_large(size: int) -> tuple[str, str]:
    return (
        f"the file has {size} bytes; it must have at most {LONGEST_FILE}",
        "a piece file holds measures only",
    )


def _refused(file: str, line: int, key: str, text: str, hint: str) -> SheetError:
    return SheetError(file, (Fault(line=line, key=key, text=text, hint=hint),))


def _syntax(message: str, text: str, file: str) -> SheetError:
    written = text.split("\n")
    place = _PLACE.search(message)
    if place is None:
        # Python itself refuses to read a whole number of thousands of figures.
        line = next((at for at, line in enumerate(written, 1) if _MANY_FIGURES.search(line)), 1)
        text = "this is not TOML: a number has too many figures"
        return _refused(file, line, f"line {line}", text, "write the number with a few figures")
    line = int(place["line"] or len(written))
    said = _PLACE.sub("", message)
    pair = _KEY.match(written[line - 1])
    key = brief(pair[1]) if pair else f"line {line}"
    return _refused(file, line, key, f"this is not TOML: {_lowered(said)}", _cure(said, pair))


def _lowered(message: str) -> str:
    return message[:1].lower() + message[1:]


def _cure(said: str, pair: re.Match[str] | None) -> str:
    """Return what the caster most likely has to change."""
    value = pair[2] if pair else ""
    if _COMMA.match(value):
        return f"write the number with a point: {value.partition('#')[0].strip().replace(',', '.')}"
    if value.casefold().startswith(("true", "false", "yes", "no")):
        return "write true or false, in small letters and without quotes"
    if "Cannot overwrite" in said or "twice" in said or "Cannot mutate" in said:
        return "the same key or section stands in the file already; keep one of them"
    if pair and not value:
        return "nothing stands behind the =; write the value, or put # before the line"
    if value.startswith("["):
        return "a list has commas between its values, as in [4.0, 3.0], and ends with ]"
    if value.startswith(tuple("“”„‘’«»")):
        return 'text stands in straight quotes, such as "rod"'
    if value and value[0] not in "\"'{":
        if _WITH_UNIT.match(value):
            return 'a number with its unit stands in quotes, such as "3/16 in"'
        return 'text stands in quotes, such as "rod"'
    if value and value[0] in "\"'":
        return "the text must end with the quote that it begins with, on the same line"
    return "each line is a [section], a [[part]], or key = value; a note begins with #"
