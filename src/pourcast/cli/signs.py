"""Signs: text that an output can hold, written so that a reader may stop early."""

import re
import sys

from pourcast.page.figures import JOIN

# For an output whose signs are not those of Unicode.
_PLAIN = str.maketrans(
    {
        JOIN: " ",
        "“": '"',
        "”": '"',
        "’": "'",
        "–": "-",
        "−": "-",
        "²": "2",
        "³": "3",
        "½": "^0.5",
        "·": " ",
        "×": "x",
        "°": "",
        "µ": "u",
    }
)


_HALVES = {"¼": ".25", "½": ".5", "¾": ".75"}
_PLACE = re.compile(r"(?<![^\s0-9])[¼½¾]")  # of a dial: alone, or behind a number


def plain_signs(said: str, encoding: str) -> str:
    """Return a text that an encoding can hold: other signs become near ones or "?"."""
    try:
        said.encode(encoding)
    except UnicodeEncodeError:
        said = _PLACE.sub(lambda found: _HALVES[found[0]], said)
        return said.translate(_PLAIN).encode(encoding, "replace").decode(encoding)
    return said


def on_one_line(said: str) -> None:
    """Show on a terminal how far it is, on one line that the next one replaces; "" clears it."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[K{said}")
        sys.stderr.flush()


def write_out(said: str) -> None:
    """Write a text to the output and send it off, so that a closed pipe is met here."""
    sys.stdout.write(plain_signs(said, sys.stdout.encoding or "utf-8"))
    sys.stdout.flush()
