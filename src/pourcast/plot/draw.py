"""Draw: a forecast on the axes of matplotlib, in the units that a caster reads."""

from typing import TYPE_CHECKING

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.forecast.model import BurnoutForecast, Forecast
from pourcast.page.figures import clean
from pourcast.page.names import unknown_name
from pourcast.piece.model import Network

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INK, EMBER, SAND = "#2A211B", "#A23A10", "#D8CDB8"
MAP = "YlOrBr"
"""From pale to dark in even steps, readable without colours; darker is surer."""

MISSING = "Pictures of this kind need matplotlib: pip install 'pourcast[plot]'."


def parts(forecast: Forecast, axes: "Axes | None" = None) -> "Axes":
    """Draw the chance that each part fills, the weakest member and all of them.

    Parameters
    ----------
    forecast : Forecast
    axes : matplotlib Axes, optional

    Returns
    -------
    matplotlib Axes

    Raises
    ------
    ImportError
        If matplotlib is not installed.
    """
    drawn = _axes(axes)
    names = [clean(part.name) for part in forecast.parts]
    rows = np.arange(len(names))
    every = [100.0 * part.chance_full for part in forecast.parts]
    weakest = [100.0 * part.chance_weakest for part in forecast.parts]
    drawn.barh(rows, every, color=INK, height=0.6, label="every one fills")
    drawn.plot(weakest, rows, "|", color=EMBER, markersize=14, label="weakest one fills")
    drawn.set_yticks(rows, names)
    drawn.invert_yaxis()
    drawn.set_xlim(0.0, 100.0)
    drawn.set_xlabel("in 100 pours")
    drawn.legend(loc="lower right", frameon=False)
    return drawn


def network(
    passages: Network, values: si.Floats | None = None, axes: "Axes | None" = None, label: str = ""
) -> "Axes":
    """Draw the passages from the side, shaded by a value of each segment.

    Parameters
    ----------
    passages : Network
    values : array [any], shape (segments,), optional
        Left out: all alike.
    axes : matplotlib Axes, optional
    label : str
        What the values are; stands beside the scale of shades.

    Returns
    -------
    matplotlib Axes

    Raises
    ------
    ImportError
        If matplotlib is not installed.
    InputError
        If there are not as many values as segments.
    """
    count = len(passages.start)
    if values is not None and np.shape(values) != (count,):
        raise InputError("values", str(np.shape(values)), "", f"one for each of {count} segments")
    drawn = _axes(axes)
    from matplotlib.collections import LineCollection

    flat = np.stack([passages.start_position, passages.end_position], axis=1)[:, :, (0, 2)]
    millimetre = si.to_si(1.0, "mm")
    # A point is 1/72 in; thin ways are drawn no thinner than a hair.
    wide = np.clip(passages.thickness.mean(axis=1) / millimetre, 0.4, None)
    lines = LineCollection(list(flat / millimetre), linewidths=wide, capstyle="round")
    if values is None:
        lines.set_color(INK)
    else:
        lines.set_array(np.asarray(values, dtype=float))
        lines.set_cmap(MAP)
    drawn.add_collection(lines)
    drawn.autoscale()
    drawn.set_aspect("equal")
    drawn.set_xlabel("mm from the axis of the flask")
    drawn.set_ylabel("mm over the gate")
    if values is not None:
        drawn.figure.colorbar(lines, ax=drawn, label=label)
    return drawn


def burnout(told: BurnoutForecast, axes: "Axes | None" = None) -> "Axes":
    """Draw kiln, wall and core over the day; bands hold 80 of 100 draws.

    Parameters
    ----------
    told : BurnoutForecast
    axes : matplotlib Axes, optional

    Returns
    -------
    matplotlib Axes

    Raises
    ------
    ImportError
        If matplotlib is not installed.
    """
    drawn = _axes(axes)
    hours = told.time / si.to_si(1.0, "h")
    zero = si.to_si(0.0, "degC")
    drawn.plot(hours, told.kiln - zero, color=SAND, label="kiln")
    for name, heat, ink in (("wall", told.wall, EMBER), ("core", told.core, INK)):
        drawn.fill_between(hours, heat[0] - zero, heat[2] - zero, color=ink, alpha=0.2)
        drawn.plot(hours, heat[1] - zero, color=ink, label=name)
    drawn.set_xlabel("hours from the start")
    drawn.set_ylabel("°C")
    drawn.legend(frameon=False)
    return drawn


def unknowns(forecast: Forecast, most: int = 10, axes: "Axes | None" = None) -> "Axes":
    """Draw how closely each uncertain value goes with the share that fills.

    Parameters
    ----------
    forecast : Forecast
    most : int
        Of the strongest.
    axes : matplotlib Axes, optional

    Returns
    -------
    matplotlib Axes

    Raises
    ------
    ImportError
        If matplotlib is not installed.
    """
    drawn = _axes(axes)
    ranked = sorted(forecast.unknowns, key=lambda each: -abs(each.rank_correlation))[:most]
    rows = np.arange(len(ranked))
    drawn.barh(rows, [each.rank_correlation for each in ranked], color=INK, height=0.6)
    drawn.set_yticks(rows, [unknown_name(each.key) for each in ranked])
    drawn.invert_yaxis()
    drawn.axvline(0.0, color=INK, linewidth=0.8)
    drawn.set_xlim(-1.0, 1.0)
    drawn.set_xlabel("rank correlation with the share that fills")
    return drawn


def _axes(axes: "Axes | None") -> "Axes":
    """Return the axes to draw on; raise `ImportError` with what to install."""
    if axes is not None:
        return axes
    try:
        from matplotlib.pyplot import subplots
    except ImportError as fault:
        raise ImportError(MISSING) from fault
    _, made = subplots(layout="constrained")
    return made
