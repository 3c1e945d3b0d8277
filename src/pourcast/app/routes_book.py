"""Book: do the chances come true, and what stands in the book?"""

from typing import Annotated, cast

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from pourcast.app.pages import StudioOf, show
from pourcast.app.reliability_svg import reliability
from pourcast.book.history import History, history, stamp
from pourcast.book.listing import PAGE, count_pieces, list_pieces
from pourcast.book.scores import score
from pourcast.book.store import Book

router = APIRouter()


@router.get("/book")
def book(
    request: Request, studio: StudioOf, page: Annotated[int, Query(ge=1, le=1_000_000)] = 1
) -> HTMLResponse:
    """Return chances against outcomes, and a page of the pieces."""
    kept = _history(request, studio.book)
    here = {
        book_piece: piece_id
        for piece_id in studio.pieces.ids()
        if (book_piece := studio.pieces.book_piece(piece_id))
    }
    return show(
        request,
        "book.html.j2",
        here="book",
        too_late=kept.too_late,
        parts=score(kept.parts) if kept.parts else None,
        wholes=score(kept.wholes) if kept.wholes else None,
        reliability=reliability,
        pieces=list_pieces(studio.book, page=page),
        on_shelf=here,
        page=page,
        pages=-(-count_pieces(studio.book) // PAGE),
    )


def _history(request: Request, book: Book) -> History:
    """Return the trials of the book, counted once for as long as nothing is added."""
    state, now = request.app.state, stamp(book)
    if not hasattr(state, "history") or state.history[0] != now:
        state.history = now, history(book)
    return cast(History, state.history[1])
