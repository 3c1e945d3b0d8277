"""Cells: a casting frozen in cells behind the page of its piece, when that is asked for."""

import threading
from collections import OrderedDict
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.app.behind import Behind
from pourcast.app.memory import plan_of
from pourcast.app.studio import Studio
from pourcast.errors import PourcastError, SheetError
from pourcast.forecast.model import Calibration
from pourcast.forecast.voxel_study import VoxelStudy, voxel_study
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

State = Literal["none", "working", "done", "failed"]

MOST_CELLS = 400_000
"""Of mould and metal: about ten seconds on two cores, see docs/piece-page.md."""

UNTIL = 1200.0
"""s after the pour; by then the mould beside a piece of this size has passed its hottest."""

SECTIONS = tuple(np.geomspace(2.0, UNTIL, 24).round(1).tolist())
"""s; closer together at first, when all moves quickly."""

SMALLEST, LARGEST = 0.5e-3, 4.0e-3
_MEMORY = 1_000_000_000
_MOST_KEPT = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Frozen:
    """How far a casting is.

    Parameters
    ----------
    state : {"none", "working", "done", "failed"}
    share : float [-]
        Of the time that is followed.
    study : VoxelStudy or None
    fault : str
        Why it failed.
    """

    state: State
    share: si.Ratio = 0.0
    study: VoxelStudy | None = None
    fault: str = ""


_NONE = Frozen(state="none")

_Asked: TypeAlias = tuple[str, Calibration | None]
"""The text of a piece, and what the studio has learnt of its plan."""


class Cells:
    """Freezes castings in cells, one text at a time.

    Parameters
    ----------
    studio : Studio
    """

    def __init__(self, studio: Studio) -> None:
        self._studio = studio
        self._behind = Behind("cells")
        self._lock = threading.Lock()
        self._known: OrderedDict[_Asked, Frozen] = OrderedDict()

    def look(self, text: str) -> Frozen:
        """Return how far the casting of a text is, with what the studio has learnt by now."""
        asked = self._asked(text)
        with self._lock:
            return self._known.get(asked, _NONE)

    def ask(self, text: str) -> None:
        """Have the casting of a text frozen, unless it is or has been."""
        asked = self._asked(text)
        with self._lock:
            if self._known.get(asked, _NONE).state in ("working", "done"):
                return
            self._put(asked, Frozen(state="working"))
        self._behind.do(lambda: self._work(asked))

    def _asked(self, text: str) -> _Asked:
        try:
            plan = plan_of(text)
        except SheetError:
            return text, None
        return text, self._studio.calibration(plan)

    def _put(self, asked: _Asked, frozen: Frozen) -> None:
        self._known[asked] = frozen
        self._known.move_to_end(asked)
        while len(self._known) > _MOST_KEPT:
            self._known.popitem(last=False)

    def _note(self, asked: _Asked, frozen: Frozen) -> None:
        with self._lock:
            self._put(asked, frozen)

    def _work(self, asked: _Asked) -> None:
        def goes_on(share: float) -> bool:
            self._note(asked, Frozen(state="working", share=share))
            return True

        text, calibration = asked
        try:
            plan = read_plan(text)
            study = voxel_study(
                plan,
                calibration,
                voxel=side_for(plan),
                until=UNTIL,
                threads=self._studio.threads,
                memory_limit=_MEMORY,
                sections=SECTIONS,
                progress=goes_on,
            )
        except PourcastError as fault:
            self._note(asked, Frozen(state="failed", fault=str(fault)))
        except BaseException:
            self._note(asked, Frozen(state="failed"))
            raise
        else:
            self._note(asked, Frozen(state="done", share=1.0, study=study))


def side_for(plan: Plan) -> si.Metre:
    """Return the side of a cell with which the flask has about `MOST_CELLS`.

    Parameters
    ----------
    plan : Plan
    """
    flask = plan.flask
    across = flask.inside_diameter + 2.0 * flask.wall_thickness
    side = (across**2 * flask.height / MOST_CELLS) ** (1.0 / 3.0)
    return float(min(LARGEST, max(SMALLEST, side)))
