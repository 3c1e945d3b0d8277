"""Texts: the piece file as it stands, every earlier text, and the way back."""

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.pages import StudioOf, show
from pourcast.app.routes_shelf import PieceId
from pourcast.app.sides import name_of
from pourcast.errors import SheetError

router = APIRouter(prefix="/piece/{piece_id}")

LONGEST = 1_000_000
Revision = Annotated[int, Form(ge=1, le=999_999)]
Text = Annotated[str, Form(max_length=LONGEST)]


@router.get("/texts")
def texts(request: Request, studio: StudioOf, piece_id: PieceId) -> HTMLResponse:
    """Return all texts of a piece, the newest first, the newest to be changed."""
    kept = studio.pieces.earlier(piece_id)
    return show(
        request,
        "texts.html.j2",
        here="piece",
        name=name_of(kept[0].text, piece_id),
        texts=kept,
        asides=studio.pieces.asides(piece_id),
        written=kept[0].text,
        faults=(),
    )


@router.get("/file")
def file(studio: StudioOf, piece_id: PieceId) -> Response:
    """Return the piece file as a file."""
    text = studio.piece(piece_id).text
    headers = {"content-disposition": f'attachment; filename="{piece_id}.toml"'}
    return Response(text, media_type="text/plain; charset=utf-8", headers=headers)


@router.post("/text")
def keep(
    request: Request, studio: StudioOf, piece_id: PieceId, base: Revision, text: Text
) -> Response:
    """Keep a text of the piece, unless it was changed elsewhere."""
    # A browser sends each end of a line as two signs.
    plain = text.replace("\r\n", "\n")
    try:
        studio.save(piece_id, plain, base=base)
    except SheetError as fault:
        kept = studio.pieces.earlier(piece_id)
        return show(
            request,
            "texts.html.j2",
            here="piece",
            status=422,
            name=name_of(kept[0].text, piece_id),
            texts=kept,
            asides=studio.pieces.asides(piece_id),
            written=plain,
            faults=fault.faults,
        )
    return RedirectResponse(f"/piece/{piece_id}", status_code=303)


@router.post("/back")
def back(studio: StudioOf, piece_id: PieceId, base: Revision, to: Revision) -> Response:
    """Put an earlier text back."""
    studio.go_back(piece_id, to, base=base)
    return RedirectResponse(f"/piece/{piece_id}", status_code=303)
