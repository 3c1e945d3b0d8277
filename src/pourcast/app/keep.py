"""Keep: a text is on the disk whole, or not at all.

A file is written beside its place, flushed, and moved there in one act of the
system, so that a program that dies leaves the old text or the new one.
"""

import contextlib
import os
import secrets
from pathlib import Path

PRIVATE = 0o600
"""Readable by the caster alone."""


def replace_text(path: Path, text: str) -> None:
    """Write a text in the place of what stands there."""
    part = _written_beside(path, text)
    try:
        os.replace(part, path)
    except OSError:
        part.unlink(missing_ok=True)
        raise
    _flush_folder(path.parent)


def create_text(path: Path, text: str) -> None:
    """Write a text where nothing stands yet.

    Raises
    ------
    FileExistsError
        If something stands there; it is left as it is.
    """
    part = _written_beside(path, text)
    try:
        # A link is refused where the name is taken, also by another program.
        os.link(part, path)
    finally:
        part.unlink(missing_ok=True)
    _flush_folder(path.parent)


def _written_beside(path: Path, text: str) -> Path:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    part = path.parent / f".{path.name}.{secrets.token_hex(6)}"
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE), "wb") as file:
        file.write(text.encode("utf-8"))
        file.flush()
        os.fsync(file.fileno())
    return part


def _flush_folder(folder: Path) -> None:
    # Not every system lets a folder be opened; the file itself is on the disk.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
