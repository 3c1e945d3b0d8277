"""Contact: how long the wall that the parcel at a front touches has been in touch with metal.

Model.  A front that runs meets fresh wall all the time; the mean age τ of the wall that the
parcel of metal at the front touches follows

    dτ/dt = 1 - τ v / D                                                   (1)

with its speed v and the bore D, so it nears D/v in steady flow and grows while the front
stands.  Over a step, at one speed, this is taken exactly.
"""

from pourcast import units as si
from pourcast.kernels import small_kernel
from pourcast.pour.elementary import exponential

_FEW = 1e-3  # below it a series is as exact as the mean of an exponential


@small_kernel
def mean_kept(turns: si.Ratio, kept: si.Ratio) -> si.Ratio:
    """Return the mean of exp(-x) from 0 to a number [-].

    Parameters
    ----------
    turns : float [-]
        >= 0.
    kept : float [-]
        exp(-turns).
    """
    return (1.0 - kept) / max(turns, _FEW) if turns > _FEW else 1.0 - 0.5 * turns


@small_kernel
def contact_ages(age: si.Second, turns: si.Ratio, step: si.Second) -> tuple[si.Second, si.Second]:
    """Return the contact age of the parcel at a front, mean over a step and at its end [s], [s].

    Parameters
    ----------
    age : float [s]
        At the start of the step.
    turns : float [-]
        Bores that it crosses in the step.
    step : float [s]

    Returns
    -------
    tuple of float [s], [s]
    """
    kept = exponential(-turns)
    fresh = mean_kept(turns, kept)
    half = (1.0 - fresh) / max(turns, _FEW) if turns > _FEW else 0.5 - turns / 6.0
    # The mean age over the step; its end would make the error of first order.
    return age * fresh + step * half, age * kept + step * fresh
