"""Cells: the piece file of each cell, and whether the values may stand in it.

A vacuum of 0 stands for a pour without a pump: the key that says how the metal is
helped goes with it.
"""

from pourcast import units as si
from pourcast.errors import InputError, SheetError
from pourcast.sheet import read_plan
from pourcast.sheet.edit import Edit, edited
from pourcast.sheet.model import Plan
from pourcast.sweep.model import MOST_CELLS, MOST_POURS, Axis, Sweep, Swept

_VACUUM = ("assist", "vacuum_kPa")
_MOST_TRIED = 200
_DAYS_FROM = 48.0  # hours from which on days are told


def plan_at(sweep: Sweep, cell: int) -> Plan:
    """Return the plan of a cell.

    Parameters
    ----------
    sweep : Sweep
    cell : int
        From 0.

    Returns
    -------
    Plan

    Raises
    ------
    SheetError
        If the piece file has a fault at these values.
    """
    return _plan(sweep.text, sweep.axes, sweep.values(cell))


def _plan(text: str, axes: tuple[Axis, ...], values: tuple[Swept, ...]) -> Plan:
    edits = [
        edit for axis, value in zip(axes, values, strict=True) for edit in edits_of(axis, value)
    ]
    return read_plan(edited(text, edits), file="cell")


def edits_of(axis: Axis, value: Swept) -> list[Edit]:
    """Return what is changed in the piece file for one value.

    Parameters
    ----------
    axis : Axis
    value : float, int or str [unit of the key]
    """
    if axis.path != _VACUUM:
        return [Edit(path=axis.path, value=value)]
    if value == 0:
        return [Edit(path=_VACUUM, value=None), Edit(path=("assist", "kind"), value="gravity")]
    return [Edit(path=_VACUUM, value=value), Edit(path=("assist", "kind"), value="vacuum")]


def require_sweep(sweep: Sweep) -> None:
    """Raise `InputError` where a sweep cannot be begun.

    Parameters
    ----------
    sweep : Sweep

    Raises
    ------
    InputError
        If a key is swept twice, or a value is outside the limits of its key.
    """
    if not sweep.axes:
        raise InputError("--over", "nothing", "", "given at least once")
    if not 1 <= sweep.draws <= MOST_POURS:
        raise InputError("draws", sweep.draws, "", f"1 to {MOST_POURS} for a cell")
    paths = [axis.path for axis in sweep.axes]
    for axis in sweep.axes:
        if paths.count(axis.path) > 1:
            raise InputError("--over", axis.key, "", "each key once")
        _require_values(sweep.text, axis)


def _require_values(text: str, axis: Axis) -> None:
    """Try values alone in the piece file; a fault of the key itself will not mend in a cell."""
    every = max(1, axis.count // _MOST_TRIED)
    for place in (*range(0, axis.count, every), axis.count - 1):
        value = axis.at(place)
        try:
            _plan(text, (axis,), (value,))
        except SheetError as fault:
            own = [found for found in fault.faults if found.key.endswith(str(axis.path[-1]))]
            if own:
                raise InputError(
                    "--over", f"{axis.key}={value}", "",
                    f"a value that may stand in the piece file: {own[0].text}", own[0].hint,
                ) from None  # fmt: skip


def require_few_enough(sweep: Sweep, seconds: si.Second, workers: int) -> None:
    """Raise `InputError` where there are too many cells, with what they would take.

    Parameters
    ----------
    sweep : Sweep
    seconds : float [s]
        Of one cell.
    workers : int
    """
    if sweep.cells > MOST_CELLS:
        takes = duration(sweep.cells * seconds / workers)
        raise InputError(
            "number of cells", f"{sweep.cells:,}".replace(",", " "), "",
            f"at most {MOST_CELLS:,}".replace(",", " "),
            f"Of {sweep.draws} pours each they would take about {takes} on {workers} "
            "at a time. Take wider steps, or sweep fewer keys at once.",
        )  # fmt: skip


def duration(seconds: si.Second) -> str:
    """Return a time in words: "8 s", "25 min", "7 h", "12 days", "40 years".

    Parameters
    ----------
    seconds : float [s]

    Examples
    --------
    >>> duration(8.2), duration(1500.0), duration(3.2e9)
    ('8 s', '25 min', '101 years')
    """
    hours = seconds / 3600.0
    if seconds < 100.0:
        return f"{max(seconds, 1.0):.0f} s"
    if hours < 2.0:
        return f"{seconds / 60.0:.0f} min"
    if hours < _DAYS_FROM:
        return f"{hours:.0f} h"
    days = hours / 24.0
    return f"{days:.0f} days" if days < 1000.0 else f"{days / 365.25:.0f} years"
