"""Standing: how each piece of the shelf stands, in book and forecast."""

from dataclasses import dataclass
from datetime import UTC, date, datetime

from markupsafe import Markup

from pourcast.app.board import standing as picture_of
from pourcast.app.pieces import PieceText
from pourcast.app.studio import Studio
from pourcast.book.model import KeptPlan
from pourcast.book.open_days import open_days
from pourcast.book.outcomes import came, pours_of, revisions
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
    came : str or None
        As the book says; None: not told.
    chance : float or None
        Of the text that stands, if it is known without working it out.
    in_kiln : bool
        Its day has begun and it is not poured.
    """

    piece: PieceText
    name: str
    picture: Markup
    plan: Plan | None
    kept: KeptPlan | None
    poured: date | None
    came: str | None
    chance: float | None
    in_kiln: bool = False

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
    kept, day, how, in_kiln = _in_book(studio, piece_id)
    return Standing(
        piece=piece,
        name=clean(plan.piece.name) if plan else piece_id,
        picture=picture_of(plan) if plan else Markup(""),
        plan=plan,
        kept=kept,
        poured=day,
        came=how,
        chance=studio.known_chance(piece) if plan else None,
        in_kiln=in_kiln,
    )


def _in_book(
    studio: Studio, piece_id: str
) -> tuple[KeptPlan | None, date | None, str | None, bool]:
    book_piece = studio.pieces.book_piece(piece_id)
    if book_piece is None:
        return None, None, None, False
    kept = latest_plan(studio.book, book_piece)
    pours = pours_of(studio.book, kept.id)
    if not pours:
        return kept, None, None, False
    told = revisions(studio.book, pours[0].id)
    if not told and pours[0].id in open_days(studio.book, datetime.now(UTC)):
        # A day that has begun has a pour in the book, with the day on which it is meant to be.
        return kept, None, None, True
    return kept, pours[0].day, came(told[-1].parts) if told else None, False
