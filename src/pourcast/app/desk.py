"""Desk: what the pages of the pieces need beside the studio, and what a visitor sees there."""

import threading
from typing import NamedTuple, cast

from fastapi import Request

from pourcast.app.behind import Quiet
from pourcast.app.cells import Cells
from pourcast.app.clocks import Starts
from pourcast.app.comparisons import Comparisons
from pourcast.app.first import FirstChanges
from pourcast.app.forecasts import Forecasts
from pourcast.app.pages import studio_of
from pourcast.app.piece_view import Drawn
from pourcast.app.pieces import PieceText
from pourcast.app.studio import Studio
from pourcast.app.trials import Trial, Trials
from pourcast.app.visitor import Visitor


class Desk(NamedTuple):
    """What the pages of the pieces need beside the studio."""

    trials: Trials
    forecasts: Forecasts
    starts: Starts
    drawn: Drawn
    first: FirstChanges
    cells: Cells
    comparisons: Comparisons
    quiet: Quiet


_opening = threading.Lock()


def desk_of(request: Request) -> Desk:
    """Return the desk of an application, set up when it is first asked for."""
    state = request.app.state
    with _opening:
        if not hasattr(state, "desk"):
            studio, quiet = studio_of(request), Quiet()
            state.desk = Desk(
                Trials(studio.folder / "trials"),
                Forecasts(studio, quiet),
                Starts(studio.folder / "starts"),
                Drawn(),
                FirstChanges(studio, quiet),
                Cells(studio),
                Comparisons(studio, quiet),
                quiet,
            )
    return cast(Desk, state.desk)


class Texts(NamedTuple):
    """What a visitor sees of a piece: the text now, the kept one, and what was turned."""

    piece: PieceText
    kept: PieceText
    trial: Trial | None

    @property
    def now(self) -> str:
        """The text that is shown."""
        return self.kept.text if self.trial is None else self.trial.text


def texts_of(request: Request, studio: Studio, visitor: Visitor, piece_id: str) -> Texts:
    """Return what a visitor sees of a piece."""
    piece = studio.piece(piece_id)
    trials = desk_of(request).trials
    trial = trials.read(visitor.session, piece_id)
    if trial is not None and trial.text == piece.text:
        # What was turned stands in the kept text, by this device or by another.
        trials.write(visitor.session, piece_id, None)
        trial = None
    # "Was" is the kept plan that the knobs were turned on.
    kept = piece if trial is None else studio.piece(piece_id, trial.base)
    return Texts(piece, kept, trial)
