"""Log: what does the kiln log of a day say?

Text of rows with a head, parted by commas, semicolons or tabs (RFC 4180 where it
is commas).  In rows parted by semicolons or tabs a comma may stand for the decimal
point.  A row says the temperature at a moment, and the place of the dial from that
moment on.  A dial left empty stands as it stood.

Nothing is mended in silence.  A row that cannot be read is a fault with its line,
and all faults come together.  Rows out of order are put in order, rows at the same
moment are kept, and both are told.
"""

import csv
import re
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.log_cells import Row, carried_on, dials_of, fault_at, heats_of, times_of
from pourcast.burnout.log_columns import Columns, columns_of
from pourcast.errors import Fault, InputError, SheetError

MOST_READINGS = 200_000
"""Two days at a reading a second; estimate."""

MOST_FAULTS = 50
"""Faults that are named one by one; our own choice."""

_COMMA_SURE = re.compile(r"\s*[0-9]+,([0-9]{1,2}|[0-9]{4,})\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Something of a log that the caster should know, with its line."""

    line: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KilnLog:
    """Readings of a kiln, in the order of time.

    Parameters
    ----------
    time : array [s], shape (readings,)
        From the earliest reading; equal where readings are doubled.
    temperature : array [K], shape (readings,)
    dial : array or None [-], shape (readings,)
        Place of the dial from each reading on; None: the log has no such column.
    line : array of int, shape (readings,)
        Of the text.
    start : float or None [s]
        Earliest reading, since midnight; None: the log counts from its own start.
    told : tuple of Told
    """

    time: si.Seconds
    temperature: si.Kelvins
    dial: si.Ratios | None
    line: si.Integers
    start: si.Second | None
    told: tuple[Told, ...]


def read_log(text: str, name: str = "kiln log") -> KilnLog:
    """Return the readings of a log.

    Parameters
    ----------
    text : str
        All of the file.
    name : str
        What faults call it.

    Returns
    -------
    KilnLog

    Raises
    ------
    SheetError
        With every row that cannot be read.
    """
    rows = _rows(text, name)
    head_line, heads = rows[0]
    try:
        columns = columns_of(heads)
    except InputError as error:
        raise SheetError(name, (fault_at(head_line, "head", error),)) from error
    faults: list[Fault] = []
    cells = _with_point(rows[1:], columns)
    full = [row for row in cells if _has_all(row, columns, faults)]
    lines = np.array([line for line, _ in full], dtype=np.int64)
    time, start = times_of(full, columns, faults)
    heat = heats_of(full, columns, faults)
    dial = dials_of(full, columns, faults)
    if not full and not faults:
        faults.append(Fault(line=head_line, key="log", text="no reading stands under the head"))
    if faults:
        more = len(faults) - MOST_FAULTS
        shown = sorted(faults, key=lambda fault: (fault.line, fault.key))[:MOST_FAULTS]
        if more > 0:
            last = shown[-1].line + 1
            shown.append(Fault(line=last, key="log", text=f"and {more} more faults from here on"))
        raise SheetError(name, tuple(shown))
    told = [Told(line=head_line, text=f"{head}: not read") for head in columns.strange]
    told += _out_of_order(time, lines)
    order = np.argsort(time, kind="stable")
    time, lines = time[order] - time[order[0]], lines[order]
    if dial is not None:
        dial = dial[order]
        if np.isnan(dial[0]):
            text, hint = "is not said at the first reading", "write 0 where it is off"
            raise SheetError(name, (Fault(line=int(lines[0]), key="dial", text=text, hint=hint),))
        dial = carried_on(dial)
    told += _doubled(time, lines)
    return KilnLog(
        time=time,
        temperature=heat[order],
        dial=dial,
        line=lines,
        start=start,
        told=tuple(sorted(told, key=lambda each: each.line)),
    )


def without_doubles(log: KilnLog) -> KilnLog:
    """Return a log whose time rises: one reading for each moment.

    Parameters
    ----------
    log : KilnLog

    Returns
    -------
    KilnLog
        Doubled readings as their mean, with the dial and the line of the last one.
    """
    moments, which = np.unique(log.time, return_inverse=True)
    sums = np.bincount(which, weights=log.temperature)
    last = np.searchsorted(log.time, moments, side="right") - 1
    return KilnLog(
        time=moments,
        temperature=sums / np.bincount(which),
        dial=None if log.dial is None else log.dial[last],
        line=log.line[last],
        start=log.start,
        told=log.told,
    )


def _rows(text: str, name: str) -> list[Row]:
    """Return the rows that are not empty, with their lines, the head first."""
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(lines) > MOST_READINGS:
        fault = Fault(line=1, key="log", text=f"{len(lines)} rows; at most {MOST_READINGS}")
        raise SheetError(name, (fault,))
    head = next((line for line in lines if line.strip() and not line.startswith("#")), "")
    reader = csv.reader((line + "\n" for line in lines), delimiter=_delimiter(head))
    rows: list[Row] = []
    try:
        for row in reader:
            if any(cell.strip() for cell in row) and not row[0].startswith("#"):
                rows.append((reader.line_num, row))
    except csv.Error as error:
        fault = Fault(line=reader.line_num, key="log", text=f"is no row of a table: {error}")
        raise SheetError(name, (fault,)) from error
    if not rows:
        raise SheetError(name, (Fault(line=1, key="log", text="is empty"),))
    return rows


def _delimiter(head: str) -> str:
    return next((mark for mark in (";", "\t") if mark in head), ",")


def _with_point(rows: list[Row], columns: Columns) -> list[Row]:
    """Return the rows with a point for a decimal comma, where the log shows that it is one."""
    numbers = [columns.temperature] + ([columns.time] if columns.time_unit else [])
    found = [row[at] for _, row in rows for at in numbers if at < len(row)]
    if not any(_COMMA_SURE.fullmatch(cell) for cell in found) or any("." in c for c in found):
        return rows
    return [
        (line, [cell.replace(",", ".") if at in numbers else cell for at, cell in enumerate(row)])
        for line, row in rows
    ]


def _has_all(row: Row, columns: Columns, faults: list[Fault]) -> bool:
    line, cells = row
    # Loggers like to end a row with a delimiter.
    if len(cells) == columns.count or (
        len(cells) > columns.count and not any(cell.strip() for cell in cells[columns.count :])
    ):
        return True
    faults.append(
        Fault(
            line=line,
            key="row",
            text=f"has {len(cells)} columns; the head has {columns.count}",
            hint="part the columns with ; where the decimals have a comma",
        )
    )
    return False


def _out_of_order(time: si.Seconds, lines: si.Integers) -> list[Told]:
    latest = np.maximum.accumulate(time)
    return [
        Told(line=int(lines[place]), text="stands after a later reading; put in its place")
        for place in np.flatnonzero(time < latest)
    ]


def _doubled(time: si.Seconds, lines: si.Integers) -> list[Told]:
    return [
        Told(
            line=int(lines[place + 1]),
            text=f"has the same time as line {lines[place]}; both are kept",
        )
        for place in np.flatnonzero(np.diff(time) == 0.0)
    ]
