"""Places: where can the dial of a kiln be turned to, and how is that said?

A dial has numbers, and a knob without notches also holds half way between two of them.
What a place between two numbers heats lies straight between what they do.

Left out: a dial of words (low, medium, high): number its words.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import require_between, require_positive

PARTS = {"¼": 0.25, "½": 0.5, "¾": 0.75}
"""Signs for what stands behind a whole number of the dial."""

_SIGNS = {part: sign for sign, part in PARTS.items()}


def places_of(top: si.Ratio, step: si.Ratio) -> si.Ratios:
    """Return the places that a dial can be turned to, off and the top among them.

    Parameters
    ----------
    top : float [-]
        Highest place; > 0.
    step : float [-]
        From one place to the next; 0.1 to 1.

    Returns
    -------
    array [-], shape (places,)
        Rising.

    Raises
    ------
    InputError
        If a value is outside its limits.

    Examples
    --------
    >>> places_of(2.0, 0.5).tolist()
    [0.0, 0.5, 1.0, 1.5, 2.0]
    """
    require_positive("top of the dial", top, "")
    require_between("step of the dial", step, "", 0.1, 1.0)
    # A step such as 0.1 falls short of a whole number by its rounding.
    steps = np.arange(np.floor(top / step + 1e-9) + 1.0)
    return np.union1d(np.minimum(step * steps, top), [0.0, top])


def place_told(setting: si.Ratio) -> str:
    """Return a place of the dial as a caster says it, such as "2½".

    Parameters
    ----------
    setting : float [-]

    Examples
    --------
    >>> [place_told(each) for each in (0.0, 0.5, 3.0, 2.25, 2.3)]
    ['0', '½', '3', '2¼', '2.3']
    """
    whole, part = divmod(setting, 1.0)
    if part not in _SIGNS:
        return f"{setting:g}"
    return f"{whole:.0f}{_SIGNS[part]}" if whole else _SIGNS[part]
