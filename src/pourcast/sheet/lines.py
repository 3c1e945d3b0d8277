"""Lines: on which line of a piece file each key stands.

The standard reader of TOML gives values without their places.  This one walks
over the same text once more and notes places without values: for each path of
keys the line it begins on.  A path is a tuple of keys, and of counts from 0
where there are several: ("part", 2, "length_mm"), ("kiln", "step", 0, "to_C").

The text must have passed `tomllib` before; here nothing is checked again.
"""

import re
import tomllib
from bisect import bisect_right
from typing import TypeAlias

Path: TypeAlias = tuple[str | int, ...]

_DEEPEST = 6
"""Steps of a path that are kept: no key of a piece file lies deeper than 5."""

_LONG_STRING = r'"""(?:\\[\s\S]|[^\\])*?"{3,5}(?!")' + r"|'''[\s\S]*?'{3,5}(?!')"
_SHORT_STRING = r'"(?:\\.|[^"\\\n])*"' + r"|'[^'\n]*'"
_BLANK = re.compile(r"(?:[ \t\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(rf"{_SHORT_STRING}|[A-Za-z0-9_-]+")
_STRING = re.compile(f"{_LONG_STRING}|{_SHORT_STRING}")
_BARE = re.compile(r"[^,\]}#\n]*")


def line_map(text: str) -> dict[Path, int]:
    r"""Return the line, from 1, on which each key and table of a TOML text begins.

    Parameters
    ----------
    text : str
        TOML that `tomllib` has read without error.

    Returns
    -------
    dict
        Path of keys and counts: line.

    Examples
    --------
    >>> line_map('name = "x"\n[[part]]\nsize = [1,\n 2]')[("part", 0, "size", 1)]
    4
    """
    return _Walk(text.replace("\r\n", "\n")).whole()


class _Walk:
    """One walk over one text; ``place`` is where it stands."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.place = 0
        self.ends = [found.start() for found in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}

    def whole(self) -> dict[Path, int]:
        table: Path = ()
        self._skip(_BLANK)
        while self.place < len(self.text):
            if self.text.startswith("[[", self.place):
                table = self._header(2)
            elif self.text[self.place] == "[":
                table = self._header(1)
            else:
                self._pair(table)
            self._skip(_BLANK)
        return self.lines

    def _header(self, brackets: int) -> Path:
        line = self._line()
        self.place += brackets
        keys = self._keys()
        self.place += brackets
        path: Path = ()
        for key in keys[:-1]:
            path = _deeper(path, key)
            self.lines.setdefault(path, line)
            if path in self.counts:
                path = _deeper(path, self.counts[path] - 1)
        path = _deeper(path, keys[-1])
        self.lines.setdefault(path, line)
        if brackets == 2:
            count = self.counts.get(path, 0)
            self.counts[path] = count + 1
            path = _deeper(path, count)
            self.lines.setdefault(path, line)
        return path

    def _pair(self, table: Path) -> None:
        line = self._line()
        path = table
        for key in self._keys():
            path = _deeper(path, key)
            self.lines.setdefault(path, line)
        self.place += 1  # the equals sign
        self._skip(_SPACE)
        self._value(path)

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            keys.append(_plain(self._take(_KEY)))
            self._skip(_SPACE)
            if self.text[self.place : self.place + 1] != ".":
                return keys
            self.place += 1

    def _value(self, path: Path) -> None:
        first = self.text[self.place]
        if first == "[":
            self._list(path)
        elif first == "{":
            self._inline(path)
        elif first in "\"'":
            self._take(_STRING)
        else:
            self._take(_BARE)

    def _list(self, path: Path) -> None:
        self.place += 1
        count = 0
        while True:
            self._skip(_BLANK)
            if self.text[self.place] == "]":
                break
            if self.text[self.place] == ",":
                self.place += 1
                continue
            item = _deeper(path, count)
            self.lines.setdefault(item, self._line())
            self._value(item)
            count += 1
        self.place += 1

    def _inline(self, path: Path) -> None:
        self.place += 1
        while True:
            self._skip(_BLANK)
            if self.text[self.place] == "}":
                break
            if self.text[self.place] == ",":
                self.place += 1
                continue
            self._pair(path)
        self.place += 1

    def _line(self) -> int:
        return bisect_right(self.ends, self.place) + 1

    def _skip(self, pattern: re.Pattern[str]) -> None:
        found = pattern.match(self.text, self.place)
        assert found is not None  # these patterns also match nothing
        self.place = found.end()

    def _take(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.place)
        if found is None:
            raise ValueError(f"not TOML at character {self.place}")
        self.place = found.end()
        return found[0]


def _deeper(path: Path, step: str | int) -> Path:
    return (*path, step) if len(path) < _DEEPEST else path


def _plain(key: str) -> str:
    """Return a key without its quotes."""
    if key[0] == "'":
        return key[1:-1]
    if key[0] == '"':
        if "\\" in key:
            return next(iter(tomllib.loads(f"{key} = 0")))
        return key[1:-1]
    return key
