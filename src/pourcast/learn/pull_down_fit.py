"""Pull-down fit: which permeability and which leak explain the readings?

One run is a series of readings with the pump on or its valve shut, and with the block
open to the air or covered by a plate.  All runs together are fitted by least squares
(`pourcast.burnout.least_squares`) in the logarithms of g, c and s and in the true
pressure at the first reading of each run.

An open run tells g and c apart by its bend only: the block lets air in as the
difference of squares, a seal as the difference.  With 2 % of noise on the gauge such a
fit gave the seal all of it in one case of forty.  So the leak is fitted only where a
covered run tells it by itself; without one, what the seals let in is counted as if it
came through the block, and K is told too high by it.

Error of ln K: that of the fit, s² (JᵀJ)⁻¹ with s² the mean square left over, and those
of the volume of the chamber, of the shape and of the viscosity, each added by squares.

Source: Bard, Nonlinear Parameter Estimation (1974), ch. 5 and 7.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.least_squares import settle
from pourcast.errors import InputError, SolveError, require_between, require_positive
from pourcast.learn.model import Measured
from pourcast.learn.pull_down import pressure
from pourcast.pour.gas import air_viscosity

PERMEABILITY = "investment.flow.permeability_burnt"

LEAST_READINGS = 6
SHAPE_ERROR = 0.05  # of S: holes, corners and a bore that is not straight; estimate
TEMPERATURE_ERROR = 0.03  # of μ T: the block is not equally warm; estimate
_FLOOR = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Readings of one run.

    Parameters
    ----------
    time : array [s], shape (readings,)
        Rising; the first one is the start of the run.
    vacuum : array [Pa], shape (readings,)
        Below the air outside, as the gauge reads.
    pump_on : bool
        False: its valve is shut.
    covered : bool
        A plate covers the block, so that only the seals let air in.
    """

    time: si.Seconds
    vacuum: si.Pascals
    pump_on: bool
    covered: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PullDown:
    """What a pull-down comes to.

    Parameters
    ----------
    permeability : float [m²]
    permeability_error : float [-]
        One standard deviation of its logarithm.
    leak : float [m³/s]
        Of the seals: volume of air at the pressure outside that a full vacuum would let
        in; 0: no covered run was made.
    leak_error : float [-]
        One standard deviation of its logarithm; 0 where no covered run was made.
    pump : float or None [m³/s]
        Volume that the pump takes; None: no run with the pump on.
    left_over : float [Pa]
        Root mean square between readings and fit.
    readings : int
    measured : Measured
        To be learnt from.
    """

    permeability: si.SquareMetre
    permeability_error: si.Ratio
    leak: si.CubicMetrePerSecond
    leak_error: si.Ratio
    pump: si.CubicMetrePerSecond | None
    left_over: si.Pascal
    readings: int
    measured: Measured


def fit(
    runs: Sequence[Run],
    *,
    volume: si.CubicMetre,
    shape: si.Metre,
    air: si.Pascal,
    block_temperature: si.Kelvin,
    room_temperature: si.Kelvin = 293.15,
    volume_error: si.Ratio = 0.03,
) -> PullDown:
    """Return the permeability and the leak that explain the readings best.

    Parameters
    ----------
    runs : sequence of Run
        One at least with the block open.
    volume : float [m³]
        Of chamber, hoses and gauge, up to the valve that is shut.
    shape : float [m]
        Of the way through the block, from `pourcast.learn.pull_down`.
    air : float [Pa]
        Outside.
    block_temperature, room_temperature : float [K]
    volume_error : float [-]
        One standard deviation, over the volume.

    Returns
    -------
    PullDown

    Raises
    ------
    InputError
        If a value is outside its limits or the readings cannot tell.
    SolveError
        If the fit does not settle.
    """
    for what, value, unit in (
        ("volume of the chamber", volume, "m³"),
        ("shape of the block", shape, "m"),
        ("air pressure", air, "Pa"),
        ("temperature of the block", block_temperature, "K"),
        ("temperature of the room", room_temperature, "K"),
    ):
        require_positive(what, value, unit)
    for run in runs:
        _require_run(run, air)
    if all(run.covered for run in runs):
        raise InputError("runs", "all covered", "", "one at least with the block open")
    covered = any(run.covered for run in runs)
    through, leak, pump, left, errors = _fitted(
        runs, volume, air, pumped=any(run.pump_on for run in runs), leaking=covered
    )
    mu = float(air_viscosity(np.array([block_temperature]))[0])
    permeability = through * mu / shape * block_temperature / room_temperature
    error = math.sqrt(errors[0] ** 2 + volume_error**2 + SHAPE_ERROR**2 + TEMPERATURE_ERROR**2)
    return PullDown(
        permeability=permeability,
        permeability_error=error,
        leak=leak,
        leak_error=math.hypot(errors[1], volume_error) if covered else 0.0,
        pump=pump if any(run.pump_on for run in runs) else None,
        left_over=left,
        readings=sum(run.time.size for run in runs),
        measured=Measured(
            key=PERMEABILITY, value=permeability, error=error, relative=True, name="pull-down"
        ),
    )


def _fitted(
    runs: Sequence[Run], volume: si.CubicMetre, air: si.Pascal, *, pumped: bool, leaking: bool
) -> tuple[float, float, float, float, tuple[float, float]]:
    """Return g, c, s, what is left over, and the errors of ln g and ln c."""
    rates = 1 + int(leaking) + int(pumped)

    def of(theta: si.Table) -> tuple[float, float, float]:
        # Wide limits, so that a trial far off does not overflow.
        rate = np.exp(np.clip(theta[:rates], -60.0, 20.0)).tolist()
        leak = rate[1] if leaking else 0.0
        return rate[0], leak, rate[-1] if pumped else 0.0

    def left_over(theta: si.Table) -> si.Table:
        through, leak, pump = of(theta)
        missed = []
        for number, run in enumerate(runs):
            told = pressure(
                run.time - run.time[0],
                air * float(theta[rates + number]),
                air=air,
                volume=volume,
                pump=pump if run.pump_on else 0.0,
                through=0.0 if run.covered else through,
                leak=leak,
            )
            missed.append((air - run.vacuum - told) / air)
        return np.concatenate(missed)

    first = [*_first_guess(runs, volume, air, leaking=leaking, pumped=pumped)]
    first += [float(1.0 - run.vacuum[0] / air) for run in runs]
    start = np.array(first)
    try:
        theta, slopes, left = settle(left_over, start, np.full(start.size, _FLOOR))
    except InputError:
        raise _cannot_tell() from None
    except SolveError as fault:
        raise SolveError("fit of the pull-down", fault.iterations, fault.residual) from None
    through, leak, pump = of(theta)
    spread = float(left @ left) / max(left.size - theta.size, 1)
    covariance = spread * np.linalg.pinv(slopes.T @ slopes)
    errors = np.sqrt(np.diag(covariance))
    told = air * float(np.sqrt(np.mean(left**2)))
    return through, leak, pump, told, (float(errors[0]), float(errors[1]) if leaking else 0.0)


def _first_guess(
    runs: Sequence[Run], volume: si.CubicMetre, air: si.Pascal, *, leaking: bool, pumped: bool
) -> list[float]:
    rate = 0.0
    for run in runs:
        span = float(run.time[-1] - run.time[0])
        rate = max(rate, abs(math.log(_vacuum(run, -1) / _vacuum(run, 0))) / span, 0.1 / span)
    guess = [math.log(0.5 * rate * volume / air)]
    if leaking:
        guess.append(math.log(0.1 * rate * volume))
    if pumped:
        guess.append(math.log(2.0 * rate * volume))
    return guess


def _vacuum(run: Run, place: int) -> float:
    return max(float(run.vacuum[place]), 1e3)


def _require_run(run: Run, air: si.Pascal) -> None:
    if run.time.size < LEAST_READINGS or run.time.size != run.vacuum.size:
        raise InputError("readings of a run", run.time.size, "", f"{LEAST_READINGS} or more")
    if not np.all(np.diff(run.time) > 0.0):
        raise InputError("times of a run", "not rising", "", "later at each reading")
    require_between("vacuum", run.vacuum, "Pa", -0.05 * air, air)


def _cannot_tell() -> InputError:
    return InputError(
        "readings",
        "the same whatever the block lets in",
        "",
        "of a gauge that moves",
        "Shut the valve at a deep vacuum, and read until the gauge has fallen by half or more.",
    )
