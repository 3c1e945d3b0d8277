"""Margins: how near does a kiln curve come to each limit, and which does it break?"""

from dataclasses import dataclass, fields

from pourcast import units as si
from pourcast.errors import require_finite

USUAL_LEAST = "common practice"
"""What rules where the trade goes no shorter or steeper, whatever a calculation says."""

NOT_SEARCHED = "end of the search"
"""What rules where enough curves had been asked for before a limit was met."""

_WORDS = {
    "stress": "steam and stress",
    "skin_to_core": "skin of the block hotter than its core",
    "inversion_ramp": "ramp through the changes of silica",
    "hot_char": "top while char is left",
    "char": "char at the pour",
    "core_off": "core at casting temperature",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """What a curve comes to, or what it may; 9 of 10 burnouts stay below each.

    Parameters
    ----------
    stress : float [-]
        Highest stress of steam and uneven heat, over the strength of the block.
    skin_to_core : float [K]
        Largest difference between outer face and axis.
    inversion_ramp : float [K/s]
        Steepest rise of the outer face through the changes of the two silicas.
    hot_char : float [K]
        Highest temperature while more char is left than `char` allows.
    char : float [kg]
        Left at the end of the curve.
    core_off : float [K]
        Between axis and casting temperature at the end of the curve.
    """

    stress: si.Ratio
    skin_to_core: si.Kelvin
    inversion_ramp: si.KelvinPerSecond
    hot_char: si.Kelvin
    char: si.Kilogram
    core_off: si.Kelvin


def broken(reached: Margins, allowed: Margins) -> tuple[str, ...]:
    """Return the limits that a curve breaks, in words.

    Parameters
    ----------
    reached, allowed : Margins

    Returns
    -------
    tuple of str
        Empty where it keeps all of them.

    Raises
    ------
    InputError
        If something reached is not a finite number.
    """
    found = []
    for field in fields(Margins):
        value, limit = getattr(reached, field.name), getattr(allowed, field.name)
        require_finite(field.name, value, "")
        if value > limit:
            found.append(_WORDS[field.name])
    return tuple(found)
