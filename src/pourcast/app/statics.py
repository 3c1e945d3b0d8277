"""Statics: scripts and styles under names that change with their content.

A file is found by its whole name in a list that is made at the start, so no
path of a request ever reaches the disk.
"""

import hashlib
import importlib.resources
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from pourcast.page.render import style

TYPES = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml",
    "png": "image/png",
    "json": "application/json",
    "woff2": "font/woff2",
    "txt": "text/plain; charset=utf-8",
}
FOREVER = "public, max-age=31536000, immutable"
PAGE_STYLE = "page.css"
"""Look of the one-file page, on screen and on paper; the app adds to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Static:
    """One file as it is sent."""

    content: bytes
    media_type: str


@cache
def _by_name() -> tuple[Mapping[str, str], Mapping[str, Static]]:
    """Return hashed name by plain name, and file by hashed name."""
    names: dict[str, str] = {}
    files: dict[str, Static] = {}
    for name, content in _contents():
        stem, _, end = name.rpartition(".")
        if end not in TYPES:
            continue
        hashed = f"{stem}.{hashlib.sha256(content).hexdigest()[:12]}.{end}"
        names[name] = hashed
        files[hashed] = Static(content=content, media_type=TYPES[end])
    return names, files


def static_path(name: str) -> str:
    """Return the path under which a file of ``app/static`` is sent.

    Raises
    ------
    KeyError
        If there is no such file.
    """
    return "/static/" + _by_name()[0][name]


def has_static(name: str) -> bool:
    """Return whether there is a file of that name."""
    return name in _by_name()[0]


def find_static(hashed: str) -> Static | None:
    """Return a file by its hashed name; None: there is none."""
    return _by_name()[1].get(hashed)


def _contents() -> Iterator[tuple[str, bytes]]:
    yield PAGE_STYLE, style().encode()
    yield from _walk(importlib.resources.files("pourcast.app").joinpath("static"), "")


def _walk(folder: Traversable, before: str) -> Iterator[tuple[str, bytes]]:
    for entry in sorted(folder.iterdir(), key=lambda each: each.name):
        if entry.is_dir():
            yield from _walk(entry, f"{before}{entry.name}/")
        else:
            yield before + entry.name, entry.read_bytes()
