"""Files of the command line: read a piece file, write what was asked for."""

import contextlib
import os
import sys
import unicodedata
from pathlib import Path
from typing import TYPE_CHECKING

from pourcast.cli.seen_parts import with_seen_parts
from pourcast.errors import InputError
from pourcast.sheet import decode, read_plan
from pourcast.sheet.model import Plan
from pourcast.sheet.text import LONGEST_FILE

if TYPE_CHECKING:
    from pourcast.burnout.log import KilnLog

LONGEST_LOG = 20_000_000
"""Bytes of a log: two days at a reading a second, with room; our own choice."""


def read_piece(file: str) -> Plan:
    """Return the plan of a piece file; "-" reads from the input.

    Raises
    ------
    SheetError
        With every fault of the file.
    InputError
        If the file cannot be read.
    """
    return read_plan(read_sheet(file), file=shown_name(file))


def shown_name(file: str) -> str:
    """Return the name of a piece file as messages have it."""
    return "input" if file == "-" else file


def read_sheet(file: str) -> str:
    """Return the text of a piece file; "-" reads from the input.

    The parts of a scan or of photographs that it names stand in it.

    Raises
    ------
    SheetError
        If it is too long, or no text in UTF-8, or names a scan with a fault.
    InputError
        If the file, its scan or a photograph cannot be read.
    """
    name = shown_name(file)
    try:
        # One byte more is read, so that the reader can refuse the file by name.
        if file == "-":
            content = sys.stdin.buffer.read(LONGEST_FILE + 1)
        else:
            with Path(file).open("rb") as opened:
                content = opened.read(LONGEST_FILE + 1)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        hint = 'A new one comes from: pourcast new "Name of the piece"'
        must = f"a file that can be read ({reason})"
        raise InputError("piece file", file, "", must, hint) from None
    folder = Path() if file == "-" else Path(file).parent
    return with_seen_parts(decode(content, file=name), file=name, folder=folder)


def read_photograph(path: Path, most: int) -> bytes:
    """Return the content of a photograph; one that is too large is not read to its end.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    try:
        with path.open("rb") as opened:
            return opened.read(most + 1)
    except OSError as fault:
        why = fault.strerror or str(fault)
        raise InputError("photograph", path, "", f"a file that can be read ({why})") from None


def read_text(file: str) -> str:
    """Return the text of a log.

    Raises
    ------
    InputError
        If the file cannot be read, is too long, or is no text in UTF-8.
    """
    try:
        with Path(file).open("rb") as opened:
            content = opened.read(LONGEST_LOG + 1)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise InputError("log", file, "", f"a file that can be read ({reason})") from None
    if len(content) > LONGEST_LOG:
        raise InputError("log", file, "", f"at most {LONGEST_LOG // 1_000_000} MB long")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise InputError("log", file, "", f"text in UTF-8 (byte {fault.start} is not)") from None


def read_kiln_log(file: str) -> "KilnLog":
    """Return a kiln log; what the caster should know of it goes to the error output.

    Raises
    ------
    SheetError
        With every row that cannot be read.
    InputError
        If the file cannot be read.
    """
    from pourcast.burnout.log import read_log

    log = read_log(read_text(file), file)
    for told in log.told:
        sys.stderr.write(f"{file}:{told.line}: {told.text}\n")
    return log


def sheet_name(name: str) -> str:
    """Return a file name for a piece: letters and figures, words joined by "_"."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = "".join(letter if letter.isalnum() else " " for letter in plain).split()
    return ("_".join(words)[:60] or "piece") + ".toml"


def require_new(path: Path, *, again: bool) -> None:
    """Refuse a piece file that is there already, before the work, unless it is to be made again.

    Raises
    ------
    InputError
    """
    if path.exists() and not again:
        hint = "Choose another with --as, or write over it with --again; the corrections are kept."
        raise InputError("file", path, "", "a new one", hint)


def write_new(path: Path, text: str) -> None:
    """Write a file that is not there yet; what the caster has entered is never written over.

    Raises
    ------
    InputError
        If the file is there, or cannot be written.
    """
    try:
        with path.open("x", encoding="utf-8") as opened:
            opened.write(text)
    except FileExistsError:
        raise InputError(
            "file", path, "", "a new one", "Choose another with --out, or move the old one."
        ) from None
    except OSError as fault:
        raise _not_written("file", path, fault) from None


def write_page(path: Path, text: str) -> None:
    """Write a page; an older page of the same name is replaced in one go.

    Raises
    ------
    InputError
        If it cannot be written.
    """
    write_whole("page", path, text.encode())


def write_whole(what: str, path: Path, content: bytes, *, beside: str = ".part") -> None:
    """Write a file in the place of what stands there, whole or not at all.

    Parameters
    ----------
    what : str
        What it is, for the message.
    path : Path
    content : bytes
    beside : str
        Ending of the file that it is written to first.

    Raises
    ------
    InputError
        If it cannot be written.
    """
    part = path.with_name(path.name + beside)
    try:
        # What stands there may be a link to elsewhere: it is taken away, not written through.
        part.unlink(missing_ok=True)
        with part.open("xb") as opened:
            opened.write(content)
            opened.flush()
            os.fsync(opened.fileno())
        part.replace(path)
    except OSError as fault:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise _not_written(what, path, fault) from None


def _not_written(what: str, path: Path, fault: OSError) -> InputError:
    return InputError(what, path, "", f"a file that can be written ({fault.strerror or fault})")
