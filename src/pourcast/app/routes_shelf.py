"""Shelf: which pieces wait, which are poured, and how each stands."""

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.pages import StudioOf, fill, has_router, show
from pourcast.app.standing import stands
from pourcast.app.studio import Studio
from pourcast.book.listing import list_pieces
from pourcast.book.model import PieceLine
from pourcast.book.plans import latest_plan

router = APIRouter()

PAGE = 24
"""Pieces of a page; own choice."""

PieceId = Annotated[str, Path(min_length=16, max_length=16, pattern="^[0-9a-z]+$")]


@router.get("/")
def shelf(
    request: Request, studio: StudioOf, page: Annotated[int, Query(ge=1, le=100_000)] = 1
) -> HTMLResponse:
    """Return the shelf."""
    ids = studio.pieces.ids()
    shown = [stands(studio, piece_id) for piece_id in ids[(page - 1) * PAGE : page * PAGE]]
    return show(
        request,
        "shelf.html.j2",
        here="shelf",
        waiting=[each for each in shown if each.poured is None],
        poured=[each for each in shown if each.poured is not None],
        drafts=studio.drafts.all(),
        elsewhere=_only_in_book(studio, ids) if page == 1 else [],
        page=page,
        pages=-(-len(ids) // PAGE),
        can_upload=has_router("upload"),
    )


@router.get("/shelf/{piece_id}/tag")
def tag(request: Request, studio: StudioOf, piece_id: PieceId) -> HTMLResponse:
    """Return the tag of a piece with its chance, worked out now."""
    studio.chance(studio.piece(piece_id))
    each = stands(studio, piece_id)
    return HTMLResponse(fill(request, "tag.html.j2", each=each, wait=False))


@router.get("/piece")
def latest(studio: StudioOf) -> Response:
    """Lead to the piece that was changed last."""
    ids = studio.pieces.ids()
    return RedirectResponse(f"/piece/{ids[0]}" if ids else "/", status_code=303)


@router.post("/shelf/from-book/{book_piece}")
def from_book(studio: StudioOf, book_piece: PieceId) -> Response:
    """Put a piece of the book on the shelf, with the piece file of its latest plan."""
    kept = latest_plan(studio.book, book_piece)
    for piece_id in studio.pieces.ids():
        if studio.pieces.book_piece(piece_id) == kept.piece_id:
            return RedirectResponse("/", status_code=303)
    made = studio.add(kept.sheet)
    studio.pieces.set_book_piece(made.id, kept.piece_id)
    return RedirectResponse("/", status_code=303)


def _only_in_book(studio: Studio, ids: list[str]) -> list[PieceLine]:
    here = {studio.pieces.book_piece(piece_id) for piece_id in ids}
    return [line for line in list_pieces(studio.book) if line.id not in here]
