"""Solve: every cell of a sweep, poured with the same draws, on any executor.

The chance of a cell is that of `pourcast forecast` of the same piece file, draws and
seed.  What stops one is asked by a whole forecast of the first `CHECKED` draws, as for a
change.  Where the burnout of a cell is that of the plan as it stands, it is taken over;
so no cell hangs on which cell was worked out before it.
"""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from pourcast import units as si
from pourcast.change.judge import CHECKED
from pourcast.change.stops import stops_of
from pourcast.errors import InputError, SheetError, SourceError
from pourcast.execute import Cancel, Executor
from pourcast.forecast.chances import members
from pourcast.forecast.model import Calibration
from pourcast.forecast.solve import NOT_RANKED, forecast
from pourcast.forecast.tally import Tally, interval_of, tally
from pourcast.forecast.whole import Layout, lay_out
from pourcast.pour.model import CAUSES, Cause
from pourcast.pour.solve import solve as solve_pour
from pourcast.sheet import read_plan
from pourcast.sweep.cells import plan_at
from pourcast.sweep.model import ENDINGS, Row, Sweep


def rows(
    sweep: Sweep, executor: Executor, *, start: int = 0, cancel: Cancel | None = None
) -> Iterator[Row]:
    """Yield the row of each cell in their order.

    Parameters
    ----------
    sweep : Sweep
    executor : Executor
        The rows are the same for any.
    start : int
        The first cell that is asked for.
    cancel : Cancel, optional

    Yields
    ------
    Row

    Raises
    ------
    CancelledError
        If the work was called off.
    """
    yield from executor.map(row_of, sweep, range(start, sweep.cells), cancel=cancel)


def row_of(sweep: Sweep, cell: int) -> Row:
    """Return what comes of one cell.

    Parameters
    ----------
    sweep : Sweep
    cell : int
        From 0.
    """
    values = sweep.values(cell)
    try:
        plan = plan_at(sweep, cell)
        layout = lay_out(
            plan, sweep.calibration, sweep.draws, sweep.seed, like=_as_it_stands(sweep)
        )
        ready = layout.ready
        result = solve_pour(ready.poured, layout.case)
        ends = members(ready.network, result, ready.book.pour["full_share"].si)
        drawn = {name: ready.drawn[name] for name in ready.values if name not in NOT_RANKED}
        told = tally(ready.network, result, ends, drawn)
        some = min(CHECKED, sweep.draws)
        said = forecast(plan, sweep.calibration, draws=some, rng=sweep.seed)
    except SheetError as fault:
        return _no_row(cell, sweep, "; ".join(f"{each.key}: {each.text}" for each in fault.faults))
    except (InputError, SourceError) as fault:
        return _no_row(cell, sweep, str(fault))
    low, high = interval_of(told, _strongest(told))
    part, cause = _first_to_fail(told, ready.network.part_names)
    return Row(
        cell=cell,
        values=values,
        chance=float(told.ends[0] / told.draws),
        low=low,
        high=high,
        ending=ENDINGS[int(np.argmax(told.ends))],
        part=part,
        cause=cause,
        stops=tuple((key, plan.speech.text(text)) for key, text in stops_of(said.findings).items()),
        fault="",
    )


def _no_row(cell: int, sweep: Sweep, fault: str) -> Row:
    return Row(
        cell=cell,
        values=sweep.values(cell),
        chance=None,
        low=None,
        high=None,
        ending=None,
        part="",
        cause=None,
        stops=(),
        fault=fault,
    )


def _strongest(told: Tally) -> str | None:
    # Of equal ones the first, as sorting has it.
    return min(told.ranked, key=lambda name: -abs(told.ranked[name]), default=None)


def _first_to_fail(told: Tally, names: tuple[str, ...]) -> tuple[str, Cause | None]:
    wholes = [part.whole for part in told.parts]
    weakest = int(np.argmin(wholes))
    if wholes[weakest] == told.draws:
        return "", None
    known = told.parts[weakest].causes[1:]
    return names[weakest], CAUSES[int(np.argmax(known))] if known.any() else None


def _as_it_stands(sweep: Sweep) -> Layout | None:
    """Return the plan as it stands, laid out; None where it cannot be."""
    return _laid_out(sweep.text, sweep.draws, sweep.seed, sweep.calibration)


# Kept so that a burnout is worked out once for a thousand cells.  What is kept hangs on
# its arguments alone, so an answer does not hang on what is kept.
@lru_cache(maxsize=2)
def _laid_out(text: str, draws: int, seed: int, calibration: Calibration | None) -> Layout | None:
    plan = read_plan(text)
    if plan.kiln.volume is None:
        return None
    return lay_out(plan, calibration, draws, seed)


def seconds_left(done: int, left: int, took: si.Second) -> si.Second:
    """Return what the rest of the cells will take, by those that are done [s].

    Parameters
    ----------
    done, left : int
        Cells; at least one is done.
    took : float [s]

    Returns
    -------
    float [s]
    """
    return took / done * left
