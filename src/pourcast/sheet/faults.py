"""Faults: what is wrong in a piece file, where, and how to put it right."""

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from pourcast import units as si
from pourcast.errors import Fault
from pourcast.sheet.lines import Path, line_map

_LONGEST_SHOWN = 40  # characters of a value in a message; our own choice
_MOST_GUESSES = 200  # did-you-mean of one file: a search costs about 0.1 ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedFault(Fault):
    """A fault that knows its place in the file by keys, so that a form can say it beside its box.

    Parameters
    ----------
    path : tuple of str and int
        ("part", 2, "length_mm").
    """

    path: Path = ()


class Faults:
    """The faults found so far in one piece file.

    Parameters
    ----------
    document : mapping
        The file as `tomllib` gives it.
    text : str
        The file as it is written; its lines are looked for at the first fault.
    """

    def __init__(self, document: Mapping[str, Any], text: str) -> None:
        self._document = document
        self._text = text
        self._lines: dict[Path, int] = {}
        self._found: list[Fault] = []
        self._guesses = 0

    def add(self, path: Path, text: str, hint: str = "") -> None:
        """Note one fault at a path; its line is that of the nearest key that is written."""
        self._found.append(
            PlacedFault(
                line=self._line(path), key=self._label(path), text=text, hint=hint, path=path
            )
        )

    def is_written(self, path: Path) -> bool:
        """Return whether a key stands in the file, with or without fault."""
        node: Any = self._document
        for step in path:
            node = _inside(node, step)
        return node is not None

    def guess(self, written: str, known: Iterable[str], *, near: si.Ratio = 0.6) -> str:
        """Return "did you mean ...?" as `did_you_mean`, but "" after many searches.

        Parameters
        ----------
        written : str
        known : iterable of str
        near : float [-]
            Least share of letters that must agree.
        """
        self._guesses += 1
        return did_you_mean(written, known, near=near) if self._guesses <= _MOST_GUESSES else ""

    def found(self) -> tuple[Fault, ...]:
        """Return all faults so far."""
        return tuple(self._found)

    def _line(self, path: Path) -> int:
        if not self._lines:
            self._lines = line_map(self._text)
        while path and path not in self._lines:
            path = path[:-1]
        return self._lines.get(path, 1)

    def _label(self, path: Path) -> str:
        """Return a path as the caster knows it: "part 3 (spine).length_mm"."""
        label = ""
        node: Any = self._document
        for step in path:
            node = _inside(node, step)
            if isinstance(step, int):
                name = node.get("name") if isinstance(node, Mapping) else None
                label += f" {step + 1}" + (f" ({brief(name)})" if isinstance(name, str) else "")
            else:
                label += ("." if label else "") + brief(step)
        return label or "piece file"


def _inside(node: Any, step: str | int) -> Any:
    if isinstance(step, int):
        return node[step] if isinstance(node, list) and step < len(node) else None
    return node.get(step) if isinstance(node, Mapping) else None


def did_you_mean(written: str, known: Iterable[str], *, near: si.Ratio = 0.6) -> str:
    """Return "did you mean ...?" for a word that is not known; "" if none is near.

    Parameters
    ----------
    written : str
    known : iterable of str
    near : float [-]
        Least share of letters that must agree.

    Returns
    -------
    str

    Examples
    --------
    >>> did_you_mean("lenght_mm", ["length_mm", "width_mm"])
    'did you mean length_mm?'
    """
    words = {word.casefold(): word for word in known}
    # The search grows with the square of the length; no known word is longer.
    word = written[: 2 * _LONGEST_SHOWN].casefold()
    close = difflib.get_close_matches(word, words, n=1, cutoff=near)
    return f"did you mean {words[close[0]]}?" if close else ""


def brief(text: str) -> str:
    """Return a text on one line, cut where it is long."""
    line = "".join(mark if mark.isprintable() else " " for mark in text[: _LONGEST_SHOWN + 1])
    return line if len(line) <= _LONGEST_SHOWN else line[:_LONGEST_SHOWN] + "…"


def shown(value: object) -> str:
    """Return a value as the caster wrote it: "2.5", '"3 in"', "a list", "a table"."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{brief(value)}"'
    if isinstance(value, int | float):
        return _number(value)
    if isinstance(value, list):
        few = all(isinstance(item, int | float | str) for item in value) and len(value) <= 4
        return f"[{', '.join(shown(item) for item in value)}]" if few else "a list"
    return "a table" if isinstance(value, Mapping) else brief(str(value))


def _number(value: int | float) -> str:
    if isinstance(value, int) and value.bit_length() > 100:
        return "a number of over 30 figures"
    return brief(str(value))


def listed(words: Iterable[str]) -> str:
    """Return words as "a", "b" or "c"."""
    quoted = [f'"{word}"' for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"
