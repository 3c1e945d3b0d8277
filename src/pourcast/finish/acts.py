"""Acts: what may touch a part, and in how many draws does each tool bend it?

A tool is allowed on a part where it bends the worst member of the part in at
most 5 % of the draws (our own choice).  The roughest tool that is allowed is
the act of the part; where even the light blast bends it, the part is left as it
comes out of the water.

A wheel and a brush push across the tip; a brush also on the end of a part that
points at the hand.  A blast pushes on the whole face.
"""

from collections.abc import Callable, Mapping

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.finish.model import Act, Limits, Loads

BENDS_AT_MOST = 0.05
"""Share of the draws in which an allowed tool may bend the worst member [-]; our own choice."""

BENDS: Mapping[Act, Callable[[Limits, Loads], si.Booleans]] = {
    "wheel": lambda limits, loads: loads.wheel[:, None] > limits.tip_force,
    "hand brush": lambda limits, loads: (
        (loads.hand_brush[:, None] > limits.tip_force)
        | (loads.hand_brush[:, None] > limits.end_force)
    ),
    "pressure blast": lambda limits, loads: loads.blast[:, None] > limits.pressure,
    "light blast only": lambda limits, loads: loads.light_blast[:, None] > limits.pressure,
}
"""Act, from the roughest: whether it bends the worst member, shape (draws, parts)."""


def bent_shares(limits: Limits, loads: Loads) -> dict[Act, si.Ratios]:
    """Return the share of the draws in which each act bends the worst member of each part.

    Parameters
    ----------
    limits : Limits
    loads : Loads

    Returns
    -------
    dict of str to array [-], shape (parts,)
        For each act but "leave", the roughest first.

    Raises
    ------
    InputError
        If the draws differ in number.
    """
    draws = len(limits.tip_force)
    for what in ("hand_brush", "wheel", "water_jet", "blast", "light_blast"):
        if len(getattr(loads, what)) != draws:
            raise InputError(what, len(getattr(loads, what)), "", f"of {draws} draws")
    return {act: bends(limits, loads).mean(axis=0) for act, bends in BENDS.items()}


def allowed(bent: Mapping[Act, si.Ratio]) -> tuple[Act, ...]:
    """Return the acts that may touch a part, the roughest first; always with "leave".

    Parameters
    ----------
    bent : mapping of str to float [-]
        Share of the draws in which each act bends the part.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> allowed({"wheel": 0.4, "hand brush": 0.05, "pressure blast": 0.2, "light blast only": 0})
    ('hand brush', 'light blast only', 'leave')
    """
    return (*(act for act in BENDS if bent[act] <= BENDS_AT_MOST), "leave")
