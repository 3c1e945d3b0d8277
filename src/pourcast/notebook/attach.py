"""Attach: the methods that notebooks ask for, lent to the records."""

from typing import Any

from pourcast.change.model import Ranking
from pourcast.forecast.model import BurnoutForecast, Calibration, Forecast, FreezeForecast
from pourcast.learn.model import Learnt
from pourcast.learn.pull_down_fit import PullDown
from pourcast.notebook.show import html, svg

SHOWN: tuple[type, ...] = (
    Forecast,
    BurnoutForecast,
    FreezeForecast,
    Calibration,
    Learnt,
    PullDown,
    Ranking,
)
"""Records that show themselves as HTML."""

DRAWN: tuple[type, ...] = (Forecast, BurnoutForecast, FreezeForecast)
"""Those of them that have one picture."""


def attach() -> None:
    """Give every record of `SHOWN` its methods; doing it again changes nothing."""
    for record in SHOWN:
        setattr(record, _HTML, _as_html)
    for record in DRAWN:
        setattr(record, _SVG, _as_svg)


_HTML, _SVG = "_repr_html_", "_repr_svg_"


def _as_html(self: Any) -> str:
    """Return this result as a piece of HTML."""
    return html(self)


def _as_svg(self: Any) -> str:
    """Return this result as one picture."""
    return svg(self)
