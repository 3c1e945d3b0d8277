"""Break-out: when to quench, and what is looked at as the piece comes out of the water.

The forecast of the freezing and the rule of the trade are both told.  They differ:
the forecast asks when the metal is solid and when the block no longer bursts off,
the rule looks at the button.
"""

import math

from pourcast import units as si
from pourcast.forecast.model import Forecast
from pourcast.materials import Value
from pourcast.runsheet.figures import JOIN, marked, span
from pourcast.runsheet.model import Act, Reading, Window
from pourcast.runsheet.usual import Lengths

SHORTEST_BREAK_OUT = 300.0
"""s in the water before tools touch it; estimate."""

READY = (
    "deep bucket of water, away from the pour, long tongs",
    "wooden picks, soft brush, face shield",
    "camera, scales, a bag for the slime",
)
"""What to have ready at the break-out."""


def usual_window(length: Value) -> Window:
    """Return the span from the low to the high end of a record."""
    return Window(opens=length.si_low, shuts=length.si_high, kind=length.kind, source=length.source)


def quench_window(forecast: Forecast) -> Window | None:
    """Return when to quench by the forecast, in 9 of 10 draws; None without such a span.

    Parameters
    ----------
    forecast : Forecast
    """
    freeze = forecast.freeze
    if freeze is None:
        return None
    opens, shuts = freeze.quench_from.p90, freeze.quench_to.p10
    if opens is None or shuts is None:
        return None
    opens, shuts = 60.0 * math.ceil(opens / 60.0), 60.0 * math.floor(shuts / 60.0)
    if not opens < shuts:
        return None
    return Window(opens=opens, shuts=shuts, kind="computed", source="freezing, 9 of 10 draws")


def acts(forecast: Forecast, pour: si.Second, lengths: Lengths) -> list[Act]:
    """Return quench and break-out; where forecast and practice differ both are told.

    The calendar calls at the later of the two: early costs the casting, late costs
    patience.

    Parameters
    ----------
    forecast : Forecast
    pour : float [s]
        Since the start.
    lengths : Lengths
    """
    found, usual = quench_window(forecast), usual_window(lengths.quench)
    opens, shuts, told = usual.opens, usual.shuts, marked(between(usual), usual.kind)
    if found is not None:
        opens, shuts = max(opens, found.opens), max(shuts, found.shuts)
        told = f"{marked(between(found), found.kind)} by the forecast, {told} by practice"
    return [
        Act(
            key="quench",
            stage="break-out",
            at=pour + opens,
            until=pour + shuts,
            what=f"Quench once the button is black. After the pour: {told}.",
            why="Early, it cracks at the necks. Late, the block is hard to dig out.",
            kind=usual.kind if opens == usual.opens or found is None else found.kind,
            source=usual.source if found is None else f"{found.source}; {usual.source}",
            cautions=("quench_steam",),
            readings=(Reading(what="from pour to quench", unit="min"),),
            alarm=120.0,
        ),
        Act(
            key="break_out",
            stage="break-out",
            at=pour + max(shuts, opens + SHORTEST_BREAK_OUT),
            what="Break out under water: wood and soft brush, no jet on thin parts.",
            why="Photograph and mark each part before anything is cut.",
            kind="estimate",
            source="end of the quench window",
            cautions=("divest_wet", "silica_dust"),
            readings=(
                Reading(what="button", choices=("full", "sunk", "missing", "porous")),
                Reading(what="all metal after, weighed", unit="g"),
            ),
            alarm=0.0,
        ),
    ]


def between(window: Window) -> str:
    """Return both ends of a window; its unit stands once where both have one alone."""
    low, high = span(window.opens), span(window.shuts)
    parts = low.split(JOIN)
    if len(parts) == 2 and high.count(JOIN) == 1 and high.endswith(parts[1]):
        low = parts[0]
    return f"{low} to {high}"
