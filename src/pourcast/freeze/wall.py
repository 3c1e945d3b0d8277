"""Wall: how the mould draws heat from metal, with a memory of what it has taken.

Question: what does the face of the mould do after minutes of metal that cools,
where the law of a face at one temperature no longer holds?

Model: a face of girth 2πa in a block without end.  A heat flow q through it
raises it by ∫ K(t - t') q(t') dt'.  The kernel K is a sum of exponentials,

    K(t) = Σ w_j exp(-p_j t),   w_j = L √p_j / (π b) G(a √(p_j / α))        (1)

with poles p_j in even steps L of their logarithm and b = k/√α.  G is 1 for a
flat face, which makes (1) the half-space 1/(b √(π t)); outside a cylinder

    G(u) = 2 / (π u (J1(u)² + Y1(u)²))                                      (2)

Poles quicker than the quickest kept act at once, as a resistance; those slower
than the slowest only store heat.  A step of the calculation costs one product
for each pole.  Curvature the other way (the ends of a member of length l, or
the second curvature of a ball of radius a with l = 2a) adds k/l for each area
to what the block takes, which is exact for the ball (with l = a beside a flat wall).

Left out: neighbours that warm the same mould, and the flask's outside (the
button has a wall of its own for that, `pourcast.freeze.rings`); thick heads
freeze later than said here.

Source: (2) Carslaw and Jaeger (1959), Conduction of Heat in Solids, 13.5, as the
spectrum of the flow into a cylinder's outside; spacing of the poles by the error
of the trapezoidal rule, 4 exp(-2π²/L) = 0.03 % at L = 2.05 for a steady swing; in time
it shows as a ripple of 0.3 % of the heat.
"""

import functools
import math
from typing import NamedTuple

import numpy as np

from pourcast import units as si
from pourcast.kernels import kernel

SPACING = 2.05
POLES = 7
SLOWEST = 1e-4  # 1/s; poles from here up to 22 / s, for steps of 0.02 s to hours

MEETS = math.pi**2 / 16.0
"""Share of a step at which the face meets the metal's temperature.  A flow that is even
over the step then carries, into a cold flat wall, the heat that a face at one
temperature would: 2b√(t/π) against b√π t / (2√(MEETS t)).  At the end of the step
it would carry too little."""

_FINEST_TABLE = 0.05  # step of the logarithm of u in the table of G
_LOWEST, _HIGHEST = -20.0, 5.0  # ends of that table; a hair has -14
_TAIL = 3  # poles below the slowest that are added one by one


class Wall(NamedTuple):
    """The mould face round each segment, in the draw at hand; rows of one table.

    Parameters
    ----------
    weight : array [by column], shape (POLES + 1, segments)
        w_j, the last for heat that is only stored, in m²·K/J.
    swift : array [m²·K/W], shape (segments,)
        Resistance of the poles quicker than those kept.
    steeped : array [by column], shape (POLES + 1, segments)
        What each pole has kept of the heat, in J/m²; times its weight it warms the face.
    """

    weight: si.Table
    swift: si.SquareMetresKelvinPerWatt
    steeped: si.Table


@functools.cache
def curvature_table() -> si.Ratios:
    """Return G of equation 2, in even steps of ln u [-].

    Returns
    -------
    array [-], shape (501,)
    """
    count = round((_HIGHEST - _LOWEST) / _FINEST_TABLE) + 1
    u = np.exp(np.linspace(_LOWEST, _HIGHEST, count))
    with np.errstate(over="ignore", invalid="ignore"):
        return np.asarray(np.where(u < 8.0, _series(np.minimum(u, 8.0)), _far(u)))


def _far(u: si.Ratios) -> si.Ratios:
    """Return G from the expansion for large u; to 1e-5 from u = 8 on."""
    square = 1.0 / (u * u)
    return np.asarray(1.0 / (1.0 + square * (0.375 + square * (-0.3515625 + square * 0.7690430))))


def _series(u: si.Ratios) -> si.Ratios:
    """Return G from the power series of J1 and Y1; to 1e-10 up to u = 8."""
    half = 0.5 * u
    term = half.copy()
    j1, rest = np.zeros_like(u), np.zeros_like(u)
    harmonic, harmonic_next = 0.0, 1.0
    for k in range(40):
        j1 += term
        rest += term * (harmonic + harmonic_next)
        harmonic += 1.0 / (k + 1)
        harmonic_next += 1.0 / (k + 2)
        term = -term * half * half / ((k + 1) * (k + 2))
    euler = 0.577_215_664_901_532_9
    y1 = (2.0 * (np.log(half) + euler) * j1 - rest - 2.0 / u) / math.pi
    return np.asarray(2.0 / (math.pi * u * (j1 * j1 + y1 * y1)))


@kernel
def set_walls(
    radius: si.Metres,
    conductivity: si.WattPerMetreKelvin,
    diffusivity: si.SquareMetrePerSecond,
    table: si.Ratios,
    weight: si.Table,
    swift: si.SquareMetresKelvinPerWatt,
    steeped: si.Table,
) -> None:
    """Fill the walls of one draw, cold.

    Parameters
    ----------
    radius : array [m], shape (segments,)
        Girth over 2π; > 0.
    conductivity : float [W/(m·K)]
    diffusivity : float [m²/s]
        Of the mould.
    table : array [-]
        From `curvature_table`.
    weight : array [by column], shape (POLES + 1, segments)
    swift : array [m²·K/W], shape (segments,)
    steeped : array [by column], shape (POLES + 1, segments)
    """
    steeped[:, :] = 0.0
    segments = radius.size
    flat = SPACING * math.sqrt(diffusivity) / (math.pi * conductivity)
    half = 0.5 * SPACING
    rise = math.exp(half)
    apart = half / _FINEST_TABLE  # places in the table from pole to pole
    top = table.size - 1.001
    start = 0.5 * math.log(SLOWEST / diffusivity) - _LOWEST
    for segment in range(segments):
        # For now the place of the slowest pole in the table.
        swift[segment] = (math.log(radius[segment]) + start) / _FINEST_TABLE
    root = math.sqrt(SLOWEST)
    for pole in range(POLES):
        for segment in range(segments):
            place = min(max(swift[segment] + pole * apart, 0.0), top)
            low = int(place)
            share = table[low] + (place - low) * (table[low + 1] - table[low])
            weight[pole, segment] = flat * root * share
        root *= rise
    behind = flat / root / (1.0 - 1.0 / rise)
    for segment in range(segments):
        # What is slower than the slowest pole: some by one, the rest as a falling row.
        root = math.sqrt(SLOWEST)
        stored = 0.0
        before = 0.0
        last = weight[0, segment]
        for below in range(1, _TAIL + 1):
            root /= rise
            place = min(max(swift[segment] - below * apart, 0.0), top)
            low = int(place)
            before = last
            last = flat * root * (table[low] + (place - low) * (table[low + 1] - table[low]))
            stored += last
        fall = last / before
        weight[POLES, segment] = stored + last * fall / (1.0 - fall)
        swift[segment] = behind


@kernel
def set_step(step: si.Second, keep: si.Ratios, gain: si.Seconds) -> None:
    """Fill what each pole keeps over a step, and how long it gathers.

    Parameters
    ----------
    step : float [s]
    keep : array [-], shape (POLES + 1,)
    gain : array [s], shape (POLES + 1,)
    """
    rate = SLOWEST
    for pole in range(POLES):
        kept = math.exp(-rate * step)
        keep[pole] = kept
        gain[pole] = (1.0 - kept) / rate
        rate *= math.exp(SPACING)
    keep[POLES] = 1.0
    gain[POLES] = step


@kernel
def look(
    keep: si.Ratios,
    gain: si.Seconds,
    weight: si.Table,
    swift: si.SquareMetresKelvinPerWatt,
    steeped: si.Table,
    past: si.Kelvins,
    resistance: si.SquareMetresKelvinPerWatt,
) -> None:
    """Fill how warm each face will be without more heat, and what each W/m² adds.

    Parameters
    ----------
    keep : array [-]
    gain : array [s]
        From `set_step`.
    weight : array [by column]
    swift : array [m²·K/W]
    steeped : array [by column]
        The walls.
    past : array [K], shape (segments,)
    resistance : array [m²·K/W], shape (segments,)
        Both filled.
    """
    for segment in range(past.size):
        warm = 0.0
        resists = swift[segment]
        for pole in range(POLES + 1):
            adds = weight[pole, segment]
            warm += keep[pole] * adds * steeped[pole, segment]
            resists += gain[pole] * adds
        past[segment] = warm
        resistance[segment] = resists


@kernel
def soak(
    keep: si.Ratios,
    gain: si.Seconds,
    flow: si.WattsPerSquareMetre,
    steeped: si.Table,
) -> None:
    """Take the walls one step on.

    Parameters
    ----------
    keep : array [-]
    gain : array [s]
        From `set_step`.
    flow : array [W/m²], shape (segments,)
        Into the face over the step.
    steeped : array [by column], shape (POLES + 1, segments)
    """
    for pole in range(POLES + 1):
        kept = keep[pole]
        gathered = gain[pole]
        for segment in range(flow.size):
            steeped[pole, segment] = kept * steeped[pole, segment] + gathered * flow[segment]
