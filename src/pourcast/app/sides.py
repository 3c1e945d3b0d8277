"""Sides: which plans can be laid side by side, and the text of each.

A side is named by the id of its piece, and after a point which of its texts is meant:
a number, ``kept`` for the plan in the book, ``turned`` for the knobs of this visitor.
Without a point it is the text that stands.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from pourcast.app.faults import NotThereError
from pourcast.app.memory import plan_of
from pourcast.app.studio import Studio
from pourcast.app.trials import Trials
from pourcast.app.words import say
from pourcast.book.plans import latest_plan
from pourcast.errors import PourcastError
from pourcast.page.figures import clean

PATTERN = r"^([0-9a-z]{16}(\.([0-9]{1,6}|kept|turned))?)?$"

MOST_PIECES = 100
"""Pieces, those changed last, that the list offers; the page of any other leads here too."""

MOST_EARLIER = 12
"""Earlier texts of a piece, the newest, that the list offers; its texts lead here too."""

KEPT, TURNED = "kept", "turned"


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One plan that can be laid beside another.

    Parameters
    ----------
    at : str
        How it is named.
    words : str
    """

    at: str
    words: str


def name_of(text: str, piece_id: str) -> str:
    """Return the name that a text gives its piece; the id where it cannot be read.

    Parameters
    ----------
    text : str
        A piece file.
    piece_id : str
    """
    try:
        return clean(plan_of(text).piece.name) or say("piece.unnamed")
    except PourcastError:
        return piece_id


class Sides:
    """Plans of a studio, as one visitor sees them.

    Parameters
    ----------
    studio : Studio
    trials : Trials
    session : str
        Of the visitor.
    """

    def __init__(self, studio: Studio, trials: Trials, session: str) -> None:
        self._studio = studio
        self._trials = trials
        self._session = session

    def text(self, at: str) -> str:
        """Return the piece file of a side.

        Raises
        ------
        NotThereError
        """
        piece_id, _, which = at.partition(".")
        if which.isdecimal():
            return self._studio.piece(piece_id, int(which)).text
        if which == KEPT:
            book_piece = self._studio.pieces.book_piece(piece_id)
            if book_piece is None:
                raise NotThereError(say("compare.not_kept"))
            return latest_plan(self._studio.book, book_piece).sheet
        stands = self._studio.piece(piece_id)
        trial = self._trials.read(self._session, piece_id) if which == TURNED else None
        return stands.text if trial is None else trial.text

    def words(self, at: str) -> str:
        """Return what a side is called.

        Raises
        ------
        NotThereError
        """
        piece_id, _, which = at.partition(".")
        name = name_of(self.text(at), piece_id)
        if not which:
            return say("compare.stands", name=name)
        if which == TURNED:
            return say("compare.turned", name=name)
        if which == KEPT:
            book_piece = self._studio.pieces.book_piece(piece_id)
            kept = latest_plan(self._studio.book, book_piece or "")
            day = self._studio.look.day(kept.created.date())
            return say("compare.kept", name=name, day=day)
        written = self._studio.piece(piece_id, int(which)).written
        return say(
            "compare.earlier",
            name=name,
            revision=int(which),
            day=self._studio.look.day(written.date()),
        )

    def offered(self, *chosen: str) -> list[Side]:
        """Return the plans to choose from: all pieces, and further texts of those chosen.

        Parameters
        ----------
        chosen : str
            Sides that are chosen already, or "".
        """
        of_chosen = list(dict.fromkeys(at.partition(".")[0] for at in chosen if at))
        found = [at for piece_id in of_chosen for at in self._of_piece(piece_id)]
        found += self._studio.pieces.ids()[:MOST_PIECES]
        found += [at for at in chosen if at]
        return [Side(at=at, words=self.words(at)) for at in dict.fromkeys(found)]

    def _of_piece(self, piece_id: str) -> Iterator[str]:
        yield piece_id
        if self._trials.read(self._session, piece_id) is not None:
            yield f"{piece_id}.{TURNED}"
        if self._studio.pieces.book_piece(piece_id) is not None:
            yield f"{piece_id}.{KEPT}"
        for each in self._studio.pieces.earlier(piece_id)[1 : 1 + MOST_EARLIER]:
            yield f"{piece_id}.{each.revision}"
