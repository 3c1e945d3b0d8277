"""Readings: what does a list of seconds and gauge readings say?"""

from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.errors import Fault, InputError, SheetError
from pourcast.learn.pull_down_fit import Run

MOST = 100_000
_MOST_FAULTS = 50


def read_run(text: str, name: str, unit: str, *, pump_on: bool, covered: bool) -> Run:
    """Return a run of two columns, seconds and gauge, parted by commas, semicolons or tabs.

    A head, empty lines and what stands after "#" are passed over.

    Parameters
    ----------
    text : str
    name : str
        Of the file, for the messages.
    unit : str
        Of the gauge, below the air outside; as in `pourcast.units`.
    pump_on, covered : bool

    Raises
    ------
    InputError
        If there are too many lines, or the unit is not known.
    SheetError
        With every line that cannot be read.
    """
    lines = text.splitlines()
    if len(lines) > MOST:
        raise InputError(
            "gauge log", len(lines), "lines", f"at most {MOST}", "Keep every tenth line."
        )
    rows: list[tuple[float, float]] = []
    faults: list[Fault] = []
    for number, line in enumerate(lines, start=1):
        said = line.partition("#")[0].strip()
        if not said:
            continue
        cells = said.replace(";", ",").replace("\t", ",").split(",")
        try:
            seconds, gauge = (float(cell) for cell in cells)
        except ValueError:
            if rows or faults or any(letter.isdigit() for letter in cells[0]):
                faults.append(
                    Fault(line=number, key="reading", text="must be two numbers: seconds, gauge")
                )
            continue
        if not np.isfinite([seconds, gauge]).all():
            faults.append(Fault(line=number, key="reading", text="must be two finite numbers"))
            continue
        rows.append((seconds, gauge))
    if faults:
        raise SheetError(name, tuple(faults[:_MOST_FAULTS]))
    table = np.array(rows, dtype=float).reshape(-1, 2)
    vacuum = np.array([si.to_si(each, unit) for each in table[:, 1].tolist()])
    return Run(time=table[:, 0], vacuum=vacuum, pump_on=pump_on, covered=covered)


def run_tree(run: Run) -> dict[str, Any]:
    """Return a run as the book keeps it, with units in the keys.

    Parameters
    ----------
    run : Run
    """
    return {
        "pump_on": run.pump_on,
        "covered": run.covered,
        "time_s": run.time.tolist(),
        "vacuum_kPa": [si.from_si(each, "kPa") for each in run.vacuum.tolist()],
    }
