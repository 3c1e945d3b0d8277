"""Block: how the piece sits in the flask, and how much slurry goes round it.

The flask stands as it stands at the pour.  The rim of the button is flush with
the top rim of the flask, the gate lies one button height under it, and the
piece hangs down from there.  With a flask of inside diameter D and height H,

    depth = button height - lowest                                          (1)
    cover over the far end = H - head room - depth                          (2)
    least wall beside the piece = D/2 - reach                               (3)
    slurry in the flask = π D²/4 · (H - head room) - piece - button         (4)

where ``lowest`` is the z of the lowest point over the gate (negative) and
``reach`` the radius about the axis that holds the piece.  Head room is what is
left unfilled at the far end.  A flask that cannot hold the piece gives a
negative wall or cover, not an error: the caster is told so by the findings.

Left out: a piece that stands off the axis, which (3) counts by its farthest
point and so errs to the thin side elsewhere; a rubber base that holds the
button deeper than the rim, which makes the cover larger than (2) says.

Source: geometry.
"""

import math

from pourcast import units as si
from pourcast.errors import InputError, require_not_negative, require_positive
from pourcast.mould.model import Flask
from pourcast.piece.model import Button, Measures


def depth(measures: Measures, button: Button) -> si.Metre:
    """Way from the rim of the flask down to the lowest point of the piece, equation (1).

    Parameters
    ----------
    measures : Measures
    button : Button

    Returns
    -------
    float [m]
        The button's height or more.
    """
    require_positive("button height", button.height, "m")
    # A piece that only rises from the gate does not make the button shorter.
    return button.height - min(measures.lowest, 0.0)


def far_cover(
    measures: Measures, button: Button, flask: Flask, *, head_room: si.Metre = 0.0
) -> si.Metre:
    """Block over the far end of the piece, equation (2).

    Parameters
    ----------
    measures : Measures
    button : Button
    flask : Flask
    head_room : float [m]
        Left unfilled at the far end; 0 or more.

    Returns
    -------
    float [m]
        Negative: the flask is too low by as much.
    """
    _require_flask(flask, head_room)
    return flask.height - head_room - depth(measures, button)


def wall_gap(measures: Measures, flask: Flask) -> si.Metre:
    """Least block between the piece and the steel, equation (3).

    Parameters
    ----------
    measures : Measures
    flask : Flask

    Returns
    -------
    float [m]
        Negative: the flask is too narrow by as much.
    """
    _require_flask(flask, 0.0)
    require_not_negative("reach", measures.reach, "m")
    return flask.inside_diameter / 2.0 - measures.reach


def fill_volume(measures: Measures, flask: Flask, *, head_room: si.Metre = 0.0) -> si.CubicMetre:
    """Slurry that goes into the flask round piece and button, equation (4).

    Parameters
    ----------
    measures : Measures
    flask : Flask
    head_room : float [m]
        Left unfilled at the far end; 0 or more.

    Returns
    -------
    float [m³]
        Above 0.

    Raises
    ------
    InputError
        If a value is outside its limits, or the piece is larger than the flask.
    """
    _require_flask(flask, head_room)
    require_not_negative("volume", measures.volume, "m³")
    require_not_negative("button_volume", measures.button_volume, "m³")
    inside = math.pi / 4.0 * flask.inside_diameter**2 * (flask.height - head_room)
    filled = inside - measures.volume - measures.button_volume
    if filled <= 0.0:
        taken = measures.volume + measures.button_volume
        raise InputError(
            "volume of piece and button",
            f"{taken:.4g}",
            "m³",
            f"less than the {inside:.4g} m³ inside the flask",
            "Take a larger flask, or look for a length in the wrong unit.",
        )
    return filled


def _require_flask(flask: Flask, head_room: float) -> None:
    require_positive("inside_diameter", flask.inside_diameter, "m")
    require_positive("flask height", flask.height, "m")
    require_not_negative("head_room", head_room, "m")
    if head_room >= flask.height:
        raise InputError("head_room", f"{head_room:g}", "m", f"under {flask.height:g}")
