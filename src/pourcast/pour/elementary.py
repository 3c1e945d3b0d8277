"""Elementary: exp and log that are written into the loops of their callers.

The exp and log of the system are calls, and a loop with a call in it is worked through one
number after another.  These are plain arithmetic, so that the compiler takes four or
eight numbers at once.

Model.  With x = n ln 2 + r, |r| ≤ ½ ln 2, and with x = 2ᵏ m, √½ ≤ m < √2,

    exp(x) = 2ⁿ exp(r),   log(x) = k ln 2 + 2 artanh((m - 1) / (m + 1)),   (1)

both by their power series, cut where the next term is under 2e-16.  2ⁿ, k and m are
read from and put into the bits of a number (IEEE 754, 64 bits).

Off by up to 2e-15 of the value, exp beyond 10 by a few more.  Not for numbers under
1e-307; a nan comes out as a nan.

Source: power series, Abramowitz and Stegun (1964), 4.2.1 and 4.1.27.
"""

import math
from collections.abc import Callable
from typing import Any, cast

import numpy as np
from llvmlite import ir
from numba import types
from numba.extending import intrinsic

from pourcast import units as si
from pourcast.kernels import small_kernel

_LN2 = math.log(2.0)
_MOST = 700.0  # exp of more has no room in the exponent
_FRACTION_BITS = 52
_BIAS = 1023  # of the exponent
_ROOT_HALF_BITS = 0x3FE6A09E667F3BCD  # those of √½
_TOGETHER = 4  # of 64 bits; LANES is a multiple of it
_EXPONENT_MASK = -(1 << _FRACTION_BITS)

Code = Callable[[Any, Any, Any, Any], Any]


def _read_bits(_context: Any, _number: Any) -> tuple[Any, Code]:
    return types.int64(types.float64), lambda _, builder, __, given: builder.bitcast(
        given[0], ir.IntType(64)
    )


def _read_number(_context: Any, _bits: Any) -> tuple[Any, Code]:
    return types.float64(types.int64), lambda _, builder, __, given: builder.bitcast(
        given[0], ir.DoubleType()
    )


# The bits of a number as a whole number, and the number with such bits; in kernels alone.
_bits_of = cast("Callable[[Any], Any]", intrinsic(_read_bits))
_number_of = cast("Callable[[Any], si.Ratio]", intrinsic(_read_number))


@small_kernel
def exponential(x: si.Ratio) -> si.Ratio:
    """Return e to the power of a number [-].

    Parameters
    ----------
    x : float [-]
        Held to -700 to 700.

    Returns
    -------
    float [-]
    """
    held = -_MOST if x < -_MOST else x
    held = _MOST if held > _MOST else held
    whole = np.int32(held / _LN2 + (0.5 if held > 0.0 else -0.5))
    r = held - float(whole) * _LN2
    # By squares of r, so that few terms wait for one another.
    s = r * r
    low = 1.0 + r + s * (1 / 2 + r / 6 + s * (1 / 24 + r / 120))
    high = 1 / 720 + r / 5040 + s * (1 / 40320 + r / 362880)
    high += s * s * (1 / 3628800 + r / 39916800 + s / 479001600)
    fraction = low + s * s * s * high
    power = _number_of((np.int64(whole) + _BIAS) << _FRACTION_BITS)
    return fraction * power


@small_kernel
def logarithm(x: si.Ratio) -> si.Ratio:
    """Return the natural logarithm of a number [-].

    Parameters
    ----------
    x : float [-]
        > 0, finite.

    Returns
    -------
    float [-]
    """
    bits = _bits_of(x)
    over = bits - _ROOT_HALF_BITS
    k = float(np.int32(over >> _FRACTION_BITS))
    m = _number_of(bits - (over & _EXPONENT_MASK))
    s = (m - 1.0) / (m + 1.0)
    z = s * s
    w = z * z
    odd = 2 / 3 + z * (2 / 5) + w * (2 / 7 + z * (2 / 9) + w * (2 / 11 + z * (2 / 13)))
    odd += w * w * w * (2 / 15 + z * (2 / 17) + w * (2 / 19 + z * (2 / 21)))
    # The last term is 0, or makes a nan of a nan, whose bits would else pass for a number.
    return k * _LN2 + (2.0 * s + s * z * odd) + 0.0 * x


@small_kernel
def whole_groups(count: int) -> int:
    """Return a count rounded up to what the machine takes at once.

    A loop over whole groups leaves no rest to be worked through one by one; what the lanes
    beyond the count hold does not matter.

    Parameters
    ----------
    count : int
    """
    return (count + _TOGETHER - 1) // _TOGETHER * _TOGETHER
