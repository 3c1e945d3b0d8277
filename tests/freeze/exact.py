"""Exact heat flow into a mould, worked out apart from the code."""

import functools
import math

import numpy as np
from scipy.integrate import quad
from scipy.special import j0, y0


@functools.cache
def cylinder_flux(fourier: float) -> float:
    """Return the flux at the wall of a long hole held at one temperature, q a / (k ΔT).

    Carslaw and Jaeger (1959), Conduction of Heat in Solids, 13.5.  The integral falls off
    only with the logarithm at its lower end; there J0 = 1 and Y0 is a logarithm, which
    leaves an arc tangent.
    """
    lowest = -12.0

    def part(power: float) -> float:
        u = math.exp(power)
        return math.exp(-fourier * u * u) / float(j0(u) ** 2 + y0(u) ** 2)

    top = 0.5 * math.log(700.0 / fourier)
    middle = quad(part, lowest, top, limit=400)[0]
    rate = 2.0 / math.pi
    place = lowest - math.log(2.0) + np.euler_gamma
    low = (math.atan(rate * place) + 0.5 * math.pi) / rate
    return float(4.0 / math.pi**2 * (middle + low))


def cylinder_heat(fourier: float) -> float:
    """Return the heat that a long hole has given by then, ∫ flux d(Fo)."""

    def part(power: float) -> float:
        here = math.exp(power)
        return cylinder_flux(here) * here

    start = math.log(fourier) - 18.0
    early = 2.0 * math.sqrt(math.exp(start) / math.pi)
    return float(quad(part, start, math.log(fourier), limit=200, epsrel=1e-6)[0]) + early
