"""Standing: how each piece of the shelf stands, in book and forecast."""

from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from pourcast.app.board import standing as picture_of
from pourcast.app.pieces import PieceText
from pourcast.app.studio import Studio
from pourcast.book.model import KeptPlan
from pourcast.book.outcomes import came, latest_pour, revisions
from pourcast.book.plans import latest_plan
from pourcast.errors import PourcastError
from pourcast.page.figures import clean
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One piece of the shelf.

    Parameters
    ----------
    piece : PieceText
    name : str
    picture : Markup
        Empty where the piece file has a fault.
    plan : Plan or None
        None: the piece file has a fault.
    kept : KeptPlan or None
        Of the book, the latest; None: none is kept.
    poured : date or None
        Of its latest pour; None: it was not poured, or is in the kiln again.
    came : str or None
        As the book says; None: not told.
    chance : float or None
        Of the text that stands, if it is known without working it out.
    begun : date or None
        When the block that is in the kiln went in; None: there is none.  It is in the kiln until
        something says that it was poured, however long that takes: see
        `pourcast.book.pour_days`.
    """

    piece: PieceText
    name: str
    picture: Markup
    plan: Plan | None
    kept: KeptPlan | None
    poured: date | None
    came: str | None
    chance: float | None
    begun: date | None = None

    @property
    def has_changed(self) -> bool:
        """Whether the piece was changed after its plan was kept."""
        return self.kept is not None and self.kept.sheet != self.piece.text

    @property
    def look(self) -> str:
        """Class of the picture: "wait", "whole" or "short"."""
        if self.poured is None or self.came in (None, "not seen"):
            return "wait"
        return "whole" if self.came == "whole" else "short"


def stands(studio: Studio, piece_id: str) -> Standing:
    """Return how a piece stands.

    Raises
    ------
    NotThereError
    """
    piece = studio.piece(piece_id)
    try:
        plan: Plan | None = studio.plan(piece)
    except PourcastError:
        plan = None
    kept, day, how, begun = _in_book(studio, piece_id)
    return Standing(
        piece=piece,
        name=clean(plan.piece.name) if plan else piece_id,
        picture=picture_of(plan) if plan else Markup(""),
        plan=plan,
        kept=kept,
        poured=day,
        came=how,
        chance=studio.known_chance(piece) if plan else None,
        begun=begun,
    )


def _in_book(
    studio: Studio, piece_id: str
) -> tuple[KeptPlan | None, date | None, str | None, date | None]:
    book_piece = studio.pieces.book_piece(piece_id)
    if book_piece is None:
        return None, None, None, None
    kept = latest_plan(studio.book, book_piece)
    pour = latest_pour(studio.book, kept.id)
    if pour is None:
        return kept, None, None, None
    if pour.stage == "in kiln":
        return kept, None, None, pour.day
    told = revisions(studio.book, pour.id)
    return kept, pour.day, came(told[-1].parts) if told else None, None
