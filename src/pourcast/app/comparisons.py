"""Comparisons: two plans side by side, poured once for each two texts."""

import threading
from collections import OrderedDict

from pourcast.app.behind import Quiet
from pourcast.app.studio import Studio
from pourcast.change.compare import compare
from pourcast.change.compared import Comparison
from pourcast.forecast.model import Calibration
from pourcast.forecast.solve import DRAWS
from pourcast.sheet import read_plan

_MOST_KEPT = 24
_Asked = tuple[str, str, Calibration | None, Calibration | None]


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
        # One at a time: two pages that ask the same wait for one answer.
        self._lock = threading.Lock()
        self._known: OrderedDict[_Asked, Comparison] = OrderedDict()

    def of(self, one: str, other: str) -> Comparison:
        """Return how the plans of two piece files differ, and what that moves.

        Parameters
        ----------
        one, other : str
            Piece files.

        Returns
        -------
        Comparison
            With as many pours of the same draws as a forecast of the pages.

        Raises
        ------
        PourcastError
            If a text has faults, or cannot be poured.
        """
        plans = read_plan(one), read_plan(other)
        learnt = self._studio.calibration(plans[0]), self._studio.calibration(plans[1])
        asked = one, other, *learnt
        with self._quiet.broken(), self._lock:
            known = self._known.get(asked)
            if known is None:
                known = compare(
                    *plans,
                    learnt[0],
                    other_calibration=learnt[1],
                    draws=DRAWS,
                    threads=self._studio.threads,
                )
            self._known[asked] = known
            self._known.move_to_end(asked)
            while len(self._known) > _MOST_KEPT:
                self._known.popitem(last=False)
        return known
