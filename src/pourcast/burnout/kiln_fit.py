"""Kiln fit: which losses and dial powers explain a logged day?

The unknowns θ are the losses k and g, the heating of each place of the dial, and
the true air at the first reading.  The fit makes the squares of what is left over
between reading y and `air_of` least:

    Σ (y - T(θ))²                                                            (1)

It is found by `pourcast.burnout.least_squares`, beginning with the same equation
integrated once, which is linear:

    y(t) - y(0) = Σ q_s t_s(t) - k ∫ (y - Ta) dt                             (2)

with t_s the time so far at setting s.  Covariance: s² (JᵀJ)⁻¹, s² the mean square
left over for each degree of freedom.  Where what is left over hangs together from one
reading to the next, with the correlation ρ, so many readings tell as much as one:

    n = (1 + ρ) / (1 - ρ)                                                    (3)

and the covariance is n times as large.  It is taken where ρ is more than luck, over
2 / √readings.  The fit itself follows some of the waves: of N readings it takes as many
as p n, p the number of unknowns, so that s² is the squares over N - p n, and what is
left over hangs together by less than ρ,

    (N ρ - p n) / (N - p n)                                                  (4)

from which ρ is found.  Radiation is kept where the log shows it: g
more than twice its standard error above 0, and k not below 0.  Place 0 of the dial
is off and heats nothing.

A day that is already known: its fit and covariance stand in for readings, each
loosened by `DAY_TO_DAY`, for a kiln with another load in it is another kiln.

Left out: waves as long as the day itself, which (3) cannot see: after a wrong model
the true errors are larger than the standard errors given here.

Source: Bard, Nonlinear Parameter Estimation (1974), ch. 5 and 7; Bayley and
Hammersley (1946), J. R. Stat. Soc. Suppl. 8, 184, for (3).
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import Body
from pourcast.burnout.kiln_day import Day, day_of
from pourcast.burnout.kiln_march import march
from pourcast.burnout.least_squares import settle
from pourcast.errors import InputError, SolveError, require_not_negative

SURE = 1.0 / 3.0
"""Standard error over value of the loss, past which a log cannot tell; estimate."""

DAY_TO_DAY = 0.05
"""By which loss and heating may differ from one day to the next; estimate."""

READ = 0.5
"""K, least that a reading is taken to be off beside an earlier day; estimate."""

_MOST_TAKEN = 0.5  # share of the readings that a fit is taken to follow, at most
_TURNS = 30  # of (4); it settles in a few

_LOSS, _HEATING, _AIR = 1e-6, 1e-4, 1.0  # 1/s, K/s, K: less than this counts as this


@dataclass(frozen=True, slots=True, kw_only=True)
class KilnFit:
    """A kiln as a log has it, and how sure that is.

    Parameters
    ----------
    body : Body
    start : float [K]
        Air at the first reading, as fitted.
    loss_error, glow_error : float [1/s]
        Standard errors; 0 for a glow that was not kept.
    heating_error : array [K/s], shape (settings,)
        Standard errors; 0 for place 0.
    covariance : array [by column], shape (unknowns, unknowns)
        Of loss, glow where it was kept, and heating of each place but 0.
    left_over : float [K]
        Root mean square between reading and fit.
    worst : float [K]
        Largest miss of a reading.
    readings : int
    readings_as_one : float [-]
        So many readings tell as much as one, by (3).
    """

    body: Body
    start: si.Kelvin
    loss_error: si.PerSecond
    glow_error: si.PerSecond
    heating_error: si.KelvinsPerSecond
    covariance: si.Table
    left_over: si.Kelvin
    worst: si.Kelvin
    readings: int
    readings_as_one: si.Ratio = 1.0


def fit_kiln(
    time: si.Seconds,
    temperature: si.Kelvins,
    dial: si.Ratios,
    *,
    room: si.Kelvin,
    load: si.KelvinsPerSecond | None = None,
    known: KilnFit | None = None,
) -> KilnFit:
    """Return the kiln that explains a log best.

    Parameters
    ----------
    time : array [s], shape (readings,)
        Rising.
    temperature : array [K], shape (readings,)
    dial : array [-], shape (readings,)
        Place of the dial from each reading to the next; 0 is off.
    room : float [K]
        Air round the kiln.
    load : array or None [K/s], shape (readings,)
        As for `pourcast.burnout.kiln.air_of`.
    known : KilnFit or None
        Of an earlier day; with it a short log, or one with a single setting, will do.

    Returns
    -------
    KilnFit
        With the settings of the log and of ``known``.

    Raises
    ------
    InputError
        If a value is out of its limits, or the log cannot tell: too short, too few
        readings, one setting only, or a loss that could be anything.
    SolveError
        If the fit does not settle.
    """
    settings = None if known is None else known.body.settings
    day = day_of(time, temperature, dial, room=room, load=load, known=settings)
    if known is not None:
        return _not_impossible(_fitted(day, known, radiating=known.body.glow > 0.0))
    plain = _certain(_fitted(day, None, radiating=False))
    try:
        glowing = _fitted(day, None, radiating=True)
    except (InputError, SolveError):
        # A log that cannot tell two kinds of loss apart can still tell their sum.
        return _not_impossible(plain)
    seen = glowing.body.glow > 2.0 * glowing.glow_error and glowing.body.loss >= 0.0
    return _not_impossible(glowing if seen else plain)


def _first_guess(day: Day) -> tuple[float, si.KelvinsPerSecond]:
    """Return loss and heating by equation (2)."""
    span = np.diff(day.time)
    over = day.temperature - day.room
    columns = [-np.cumsum(0.5 * span * (over[1:] + over[:-1]))]
    columns += [np.cumsum(span * (day.place[:-1] == s)) for s in range(day.settings.size)]
    risen = day.temperature[1:] - day.temperature[0] + np.cumsum(span * day.load[:-1])
    matrix = np.stack(columns, axis=1)
    scale = np.maximum(np.abs(matrix).max(axis=0), 1.0)
    found = np.linalg.lstsq(matrix / scale, risen, rcond=None)[0] / scale
    return float(found[0]), found[1:]


def _fitted(day: Day, known: KilnFit | None, *, radiating: bool) -> KilnFit:
    """Return the fit of a day, equation (1)."""
    losses = 2 if radiating else 1
    if known is None:
        loss, heating = _first_guess(day)
        rates = [0.5 * max(loss, _LOSS)] * 2 if radiating else [max(loss, _LOSS)]
        wanted = np.array([*rates, *np.maximum(heating, _HEATING)])
        pull, off = np.empty((0, wanted.size)), 1.0
    else:
        wanted, pull = _wanted(day, known, losses)
        off = max(known.left_over, READ) * float(np.sqrt(known.readings_as_one))

    def left_over(theta: si.Table) -> si.Table:
        missed = (day.temperature - _air(day, theta, losses)) / off
        return np.concatenate((missed, pull @ (wanted - theta[:-1])))

    floor = np.array([_LOSS] * losses + [_HEATING] * day.settings.size + [_AIR])
    theta, slopes, left = settle(left_over, np.append(wanted, day.temperature[0]), floor)
    missed = off * left[: day.temperature.size]
    as_one = _readings_as_one(missed, theta.size)
    # Beside an earlier day each row is already over its own standard error.
    free = missed.size - theta.size * as_one
    spread = 1.0 if known is not None else as_one * float(left @ left) / free
    root = np.linalg.inv(np.linalg.qr(slopes, mode="r"))
    covariance = spread * (root @ root.T)[:-1, :-1]
    error = np.sqrt(np.diag(covariance))
    off_first = np.concatenate(([0.0], error[losses:]))
    return KilnFit(
        body=Body(
            loss=float(theta[0]),
            glow=float(theta[1]) if radiating else 0.0,
            settings=np.concatenate(([0.0], day.settings)),
            heating=np.concatenate(([0.0], theta[losses:-1])),
            room=day.room,
        ),
        start=float(theta[-1]),
        loss_error=float(error[0]),
        glow_error=float(error[1]) if radiating else 0.0,
        heating_error=off_first,
        covariance=covariance,
        left_over=float(np.sqrt(np.mean(missed**2))),
        worst=float(np.abs(missed).max()),
        readings=day.temperature.size,
        readings_as_one=max(as_one, 1.0 if known is None else known.readings_as_one),
    )


def _readings_as_one(missed: si.Kelvins, unknowns: int) -> si.Ratio:
    """Return n of (3), with ρ by (4)."""
    squares, readings = float(missed @ missed), missed.size
    most = _MOST_TAKEN * readings / unknowns
    if squares == 0.0 or most <= 1.0:
        return 1.0
    seen = float(missed[1:] @ missed[:-1]) / squares
    as_one = 1.0
    for _ in range(_TURNS):
        taken = unknowns * as_one
        hangs = (seen * (readings - taken) + taken) / readings
        if hangs <= 2.0 / np.sqrt(readings):
            return 1.0
        as_one = min((1.0 + hangs) / (1.0 - hangs), most)
    return as_one


def _air(day: Day, theta: si.Table, losses: int) -> si.Kelvins:
    heating = np.append(theta[losses:-1], 0.0)
    air = np.empty(day.time.size)
    glow = float(theta[1]) if losses == 2 else 0.0
    drive = heating[day.place] - day.load
    march(day.time, drive, float(theta[-1]), float(theta[0]), glow, day.room, air)
    return air


def _wanted(day: Day, known: KilnFit, losses: int) -> tuple[si.Table, si.Table]:
    """Return what an earlier day says of the unknowns, and how hard it pulls at them."""
    body = known.body
    rates = [body.loss, body.glow][:losses]
    values = np.array([*rates, *body.heating[body.settings > 0.0]])
    spread = known.covariance + np.diag((DAY_TO_DAY * values) ** 2)
    rows = np.linalg.inv(np.linalg.cholesky(spread))
    # A setting that the earlier day did not use begins between its neighbours, unheld.
    wanted = np.concatenate((rates, np.interp(day.settings, body.settings, body.heating)))
    own = np.flatnonzero(np.isin(day.settings, body.settings))
    pull = np.zeros((values.size, wanted.size))
    pull[:, [*range(losses), *(losses + own)]] = rows
    return wanted, pull


def _certain(fit: KilnFit) -> KilnFit:
    """Return a fit of one day alone whose loss stands out of its error."""
    if not fit.loss_error <= SURE * fit.body.loss:
        per_hour = si.from_si(fit.body.loss, "1/h")
        raise InputError(
            "loss of the kiln in this log",
            f"{per_hour:.2g} ± {si.from_si(fit.loss_error, '1/h'):.2g}",
            "1/h",
            "known to a third",
            "Log a longer day, with some hours in which the kiln cools or holds.",
        )
    return fit


def _not_impossible(fit: KilnFit) -> KilnFit:
    """Return a fit that a kiln can have."""
    require_not_negative("loss of the kiln in this log", fit.body.loss, "1/s")
    require_not_negative("radiation of the kiln in this log", fit.body.glow, "1/s")
    for setting, heating in zip(fit.body.settings[1:], fit.body.heating[1:], strict=True):
        if heating <= 0.0:
            raise InputError(
                f"heating of setting {setting:g} in this log",
                f"{si.from_si(float(heating), 'K/h'):.3g}",
                "K/h",
                "greater than 0",
                "Is the dial written down where it was turned, and 0 only where it was off?",
            )
    return fit
