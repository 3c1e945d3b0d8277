"""What the air of a kiln comes to if a setting is left alone: a root, found by scipy."""

from scipy.optimize import brentq

from pourcast.burnout.kiln import Body
from pourcast.burnout.kiln_march import GLOW_AT


def highest_air(body: Body, place: int) -> float:
    """Return the temperature at which a kiln loses what a place of the dial puts in [K]."""

    def gained(air: float) -> float:
        glows = body.glow * (air**4 - body.room**4) / (4.0 * GLOW_AT**3)
        return float(body.heating[place]) - body.loss * (air - body.room) - glows

    return float(brentq(gained, body.room, 1e5, xtol=1e-9))
