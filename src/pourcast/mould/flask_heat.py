"""Flask heat: how hot is the flask usually for a piece this thin?

The thinner the section, the hotter the flask that it is usually poured in.
Alloy records hold four classes; the limits between them are read from the notes
of these records: sections under 1.5 mm very thin, to 4 mm light, to 10 mm
medium, above heavy.

Left out: the length of a thin section, the metal's own heat, and the vacuum.
Practice disagrees on very thin work: some take the flask cooler, because gas
from an overheated mould stops thin parts as well.

Source: common practice, no source.
"""

from pourcast import units as si
from pourcast.errors import require_positive
from pourcast.materials import Material, Value

CLASSES: tuple[tuple[si.Metre, str], ...] = (
    (1.5e-3, "flask_very_thin"),
    (4.0e-3, "flask_light"),
    (10.0e-3, "flask_medium"),
)
"""Section under which a class holds, and its key in an alloy record."""


_RECORDS = (*(key for _, key in CLASSES), "flask_heavy")


def usual_for_any(alloy: Material) -> tuple[si.Kelvin, si.Kelvin]:
    """Return between what heats the flask is usual at the pour, whatever the section [K].

    Parameters
    ----------
    alloy : Material
        An alloy record.

    Returns
    -------
    low, high : float [K]

    Raises
    ------
    SourceError
        If the alloy has no such record.
    """
    records = [alloy[key] for key in _RECORDS if key in alloy]
    return min(kept.si_low for kept in records), max(kept.si_high for kept in records)


def usual_flask_temperature(alloy: Material, section: si.Metre) -> Value:
    """Return the usual temperature of the flask at the pour, with its range.

    Parameters
    ----------
    alloy : Material
        An alloy record.
    section : float [m]
        Thinnest section of the piece; > 0.

    Returns
    -------
    Value
        Record of the alloy, for the class of the section.

    Raises
    ------
    InputError
        If the section is not above 0.
    SourceError
        If the alloy has no such record.
    """
    require_positive("section", section, "m")
    for under, key in CLASSES:
        if section < under:
            return alloy[key]
    return alloy["flask_heavy"]
