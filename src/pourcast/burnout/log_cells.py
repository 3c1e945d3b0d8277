"""Log cells: what do the cells of a kiln log come to?

Each column is read as a whole.  A cell that cannot be read becomes a fault with
its line, so that all faults of a log come together.
"""

from collections.abc import Callable

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import COLDEST, HOTTEST
from pourcast.burnout.log_columns import Columns
from pourcast.burnout.log_times import DAY, Moment, clock_steps, read_elapsed, read_moment
from pourcast.errors import Fault, InputError
from pourcast.trade_units import read

Row = tuple[int, list[str]]
"""Line of the text, and the cells that stand on it."""


def heats_of(rows: list[Row], columns: Columns, faults: list[Fault]) -> si.Kelvins:
    """Return the temperatures of a log.

    Parameters
    ----------
    rows : list of Row
    columns : Columns
    faults : list of Fault
        Takes what cannot be read.

    Returns
    -------
    array [K], shape (rows,)
        Not a number where a cell is a fault.
    """
    unit = columns.temperature_unit

    def how(cell: str) -> float:
        kelvin = read(cell, "temperature", default_unit=unit)
        if not COLDEST <= kelvin <= HOTTEST:
            low, high = (f"{si.from_si(end, unit):.0f}" for end in (COLDEST, HOTTEST))
            raise InputError(
                "temperature",
                cell.strip(),
                "",
                f"{low} to {high} {unit}",
                "Is the probe broken, or the unit in the head another?",
            )
        return kelvin

    return _read_each(rows, columns.temperature, "temperature", faults, how)


def dials_of(rows: list[Row], columns: Columns, faults: list[Fault]) -> si.Ratios | None:
    """Return the places of the dial as written.

    Parameters
    ----------
    rows : list of Row
    columns : Columns
    faults : list of Fault
        Takes what cannot be read.

    Returns
    -------
    array or None [-], shape (rows,)
        Not a number where a cell is empty or a fault; None: the log has no such
        column.
    """
    if columns.dial is None:
        return None

    def how(cell: str) -> float:
        return read(cell, "ratio", default_unit=columns.dial_unit) if cell.strip() else np.nan

    return _read_each(rows, columns.dial, "dial", faults, how)


def carried_on(dial: si.Ratios) -> si.Ratios:
    """Return places of the dial with each that is not written as the one before it.

    Parameters
    ----------
    dial : array [-], shape (readings,)
        In the order of time; not a number where none is written, but not first.

    Returns
    -------
    array [-], shape (readings,)
    """
    written = np.maximum.accumulate(np.where(np.isnan(dial), 0, np.arange(dial.size)))
    return dial[written]


def times_of(
    rows: list[Row], columns: Columns, faults: list[Fault]
) -> tuple[si.Seconds, si.Second | None]:
    """Return the times of a log, and the time of day of the earliest.

    Parameters
    ----------
    rows : list of Row
    columns : Columns
    faults : list of Fault
        Takes what cannot be read.

    Returns
    -------
    tuple of array [s], shape (rows,), and float or None [s]
        From any moment, of no use where there are faults; since midnight, None
        where the log counts from its own start.
    """
    if columns.time_unit:
        unit = columns.time_unit
        return _read_each(
            rows, columns.time, "time", faults, lambda cell: read_elapsed(cell, unit)
        ), None
    moments: list[tuple[int, Moment]] = []
    for line, cells in rows:
        date = "" if columns.date is None else f"{cells[columns.date].strip()} "
        try:
            moments.append((line, read_moment(date + cells[columns.time].strip())))
        except InputError as error:
            faults.append(fault_at(line, "time", error))
    dated = [moment.day is not None for _, moment in moments]
    if len(moments) < len(rows) or not moments:
        return np.zeros(len(rows)), None
    if len(set(dated)) > 1:
        other = moments[dated.index(not dated[0])][0]
        faults.append(
            Fault(line=other, key="time", text="has a date or lacks it, unlike the first")
        )
        return np.zeros(len(rows)), None
    if dated[0]:
        time = np.array([moment.in_day + (moment.day or 0.0) for _, moment in moments])
        return time, moments[int(time.argmin())][1].in_day
    steps = clock_steps([moment.in_day for _, moment in moments])
    for (line, _), step in zip(moments, steps, strict=True):
        if isinstance(step, InputError):
            faults.append(fault_at(line, "time", step))
    time = np.array([0.0 if isinstance(step, InputError) else step for step in steps])
    return time, float(time.min()) % DAY


def _read_each(
    rows: list[Row],
    at: int,
    key: str,
    faults: list[Fault],
    how: Callable[[str], float],
) -> si.Table:
    """Return what each cell of a column comes to; not a number where it is a fault."""
    found = np.full(len(rows), np.nan)
    for place, (line, cells) in enumerate(rows):
        try:
            found[place] = how(cells[at])
        except InputError as error:
            faults.append(fault_at(line, key, error))
    return found


def fault_at(line: int, key: str, error: InputError) -> Fault:
    """Return an error of a cell or a head with the line it stands on."""
    shown = f"{error.value} {error.unit}".rstrip()
    return Fault(line=line, key=key, text=f"{shown}; it must be {error.must}", hint=error.hint)
