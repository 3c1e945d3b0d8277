"""Kiln day: what does one logged day teach of the kiln?

The fit is that of `pourcast.burnout.kiln_fit`: what the kiln loses in an hour, and how
fast each place of the dial heats it.  With an earlier day the new one is held near it,
and each that follows makes both surer.  It says nothing of the chance that a part
fills: the dial plan of the next burnout takes it, through the log.

Left out: the heat that the block itself took on the day; see
`pourcast.forecast.dial_study`.
"""

from dataclasses import dataclass

from pourcast import units as si
from pourcast.burnout.kiln_fit import KilnFit, fit_kiln
from pourcast.burnout.log import KilnLog, without_doubles
from pourcast.errors import InputError
from pourcast.forecast.burnout_case import ROOM


@dataclass(frozen=True, slots=True, kw_only=True)
class KilnDay:
    """A kiln before and after a day.

    Parameters
    ----------
    before : KilnFit or None
        By the days before; None: this is the first.
    after : KilnFit
    """

    before: KilnFit | None
    after: KilnFit


def fit(log: KilnLog, *, before: KilnLog | None = None, room: si.Kelvin = ROOM) -> KilnDay:
    """Return what a logged day says of the kiln.

    Parameters
    ----------
    log : KilnLog
        With places of the dial.
    before : KilnLog or None
        An earlier day.
    room : float [K]

    Raises
    ------
    InputError
        If a log has no dial or cannot tell.
    SolveError
        If a fit does not settle.
    """
    known = None if before is None else _fit(before, room, None)
    return KilnDay(before=known, after=_fit(log, room, known))


def _fit(log: KilnLog, room: si.Kelvin, known: KilnFit | None) -> KilnFit:
    read = without_doubles(log)
    if read.dial is None:
        raise InputError(
            "kiln log", "without a dial", "", "one with a column dial", "Write dial in its head."
        )
    return fit_kiln(read.time, read.temperature, read.dial, room=room, known=known)
