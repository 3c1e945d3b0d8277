"""Comparisons: two plans side by side, each poured once for all pages."""

from typing import NamedTuple

from pourcast.app.behind import Quiet
from pourcast.app.studio import Studio
from pourcast.change.compare import beside
from pourcast.change.compared import Comparison
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import DRAWS


class Beside(NamedTuple):
    """Two forecasts of the same draws, and how they differ."""

    one: Forecast
    other: Forecast
    said: Comparison


class Comparisons:
    """Lays plans of a studio side by side.

    Parameters
    ----------
    studio : Studio
    quiet : Quiet
        Broken while a comparison is made: somebody looks at the page.
    """

    def __init__(self, studio: Studio, quiet: Quiet) -> None:
        self._studio = studio
        self._quiet = quiet

    def of(self, one: str, other: str) -> Beside:
        """Return how the plans of two piece files differ, and what that moves.

        A plan that a page has shown in full is not poured again.

        Parameters
        ----------
        one, other : str
            Piece files.

        Returns
        -------
        Beside
            With as many pours of the same draws as a forecast of the pages.

        Raises
        ------
        PourcastError
            If a text has faults, or cannot be poured.
        """
        with self._quiet.broken():
            first = self._studio.poured(one, draws=DRAWS)
            second = self._studio.poured(other, draws=DRAWS)
        return Beside(first.forecast, second.forecast, beside(first, second))
