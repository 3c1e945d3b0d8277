"""Air: what the air presses at the place of a plan."""

from pourcast import units as si
from pourcast.pour.gas import air_pressure_at
from pourcast.sheet.model import Studio


def air_of(studio: Studio) -> si.Pascal:
    """Return the pressure that the sheet says, else the usual one at its height [Pa].

    Parameters
    ----------
    studio : Studio
    """
    return studio.air_pressure or air_pressure_at(studio.altitude)
