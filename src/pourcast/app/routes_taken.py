"""Taken: what was found on a scan or in photographs, to be held beside it and put right."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from pourcast.app.brought import Brought
from pourcast.app.faults import NotThereError
from pourcast.app.pages import MOST_FIELDS, StudioOf, show
from pourcast.app.parts_fields import FATES, read_parts_form, rows_of
from pourcast.app.routes_shelf import PieceId
from pourcast.app.sheet_choices import material_words
from pourcast.app.studio import Studio
from pourcast.app.taking import Measured, Taken, made
from pourcast.app.upload_corrections import KeptCorrections, read, said_lost
from pourcast.app.words import say
from pourcast.errors import Fault, SheetError

router = APIRouter(prefix="/upload")

_NOTHING: Mapping[str, str] = MappingProxyType({})

Asked = Annotated[str, Query(max_length=200)]


def kept_of(studio: Studio) -> KeptCorrections:
    """Return the corrections that are kept for the next file of a piece."""
    return KeptCorrections(studio.folder / "uploads" / "corrections")


def keep_taken(
    studio: Studio, piece_id: str, form: str, measured: Measured, taken: Taken, right: str
) -> None:
    """Keep what was measured at hand, so that it can be put right without its file."""
    brought = Brought(form=form, measured=measured, taken=taken, corrections=right)
    studio.brought.put(piece_id, brought)


@router.get("/corrections/{form}")
def kept_corrections(studio: StudioOf, form: str, name: Asked = "") -> Response:
    """Return the corrections that are kept for a piece, as a file."""
    text = kept_of(studio).read(form, name)
    if not text:
        raise NotThereError("No corrections are kept for this piece.")
    headers = {"content-disposition": 'attachment; filename="corrections.toml"'}
    return Response(text, media_type="text/plain; charset=utf-8", headers=headers)


@router.get("/taken/{piece_id}")
def taken_page(request: Request, studio: StudioOf, piece_id: PieceId) -> HTMLResponse:
    """Return what was found, with boxes to put it right."""
    return show_taken(request, studio, piece_id)


@router.get("/taken/{piece_id}/picture/{number}")
def picture(studio: StudioOf, piece_id: PieceId, number: int) -> Response:
    """Return a check picture: the parts over the photograph, or three views of a scan."""
    pictures = _brought(studio, piece_id).measured.pictures
    if not 0 <= number < len(pictures):
        raise NotThereError(say("taken.gone"))
    return Response(pictures[number], media_type="image/svg+xml")


@router.post("/taken/{piece_id}")
async def put_right(request: Request, studio: StudioOf, piece_id: PieceId) -> Response:
    """Make the corrections of the form, and keep them for the next file of the piece."""
    brought = _brought(studio, piece_id)
    async with request.form(max_fields=MOST_FIELDS) as form:
        fields = {name: text for name, text in form.items() if isinstance(text, str)}
    return await run_in_threadpool(_put_right, request, studio, piece_id, brought, fields)


def _put_right(
    request: Request, studio: Studio, piece_id: str, brought: Brought, fields: Mapping[str, str]
) -> Response:
    from pourcast.scan.corrections_written import written_corrections

    corrections, told = read_parts_form(
        fields, brought.measured, read(brought.corrections), studio.look
    )
    if told:
        return show_taken(request, studio, piece_id, typed=fields, told=told)
    right = written_corrections(corrections)
    try:
        taken = made(brought.measured, read(right))
    except SheetError as fault:
        return show_taken(request, studio, piece_id, typed=fields, faults=fault.faults)
    piece = studio.piece(piece_id)
    if piece.text == taken.text:
        here = piece
    elif piece.text == brought.taken.text:
        here = studio.save(piece_id, taken.text, base=piece.revision)
    else:
        # It was worked on since: that work is not written over.
        here = studio.add(taken.text)
    kept_of(studio).write(brought.form, brought.measured.name, right)
    keep_taken(studio, here.id, brought.form, brought.measured, taken, right)
    return RedirectResponse(f"/upload/taken/{here.id}", status_code=303)


def _brought(studio: Studio, piece_id: str) -> Brought:
    found = studio.brought.find(piece_id)
    if found is None:
        raise NotThereError(say("taken.gone"))
    return found


def show_taken(
    request: Request,
    studio: Studio,
    piece_id: str,
    *,
    typed: Mapping[str, str] | None = None,
    told: Mapping[str, str] = _NOTHING,
    faults: tuple[Fault, ...] = (),
) -> HTMLResponse:
    """Return the page of what was found; with what was typed, and what is wrong with it."""
    brought = _brought(studio, piece_id)
    corrections = read(brought.corrections)
    taken, measured = brought.taken, brought.measured
    piece = studio.piece(piece_id)
    return show(
        request,
        "taken.html.j2",
        status=422 if told or faults else 200,
        here="shelf",
        piece=piece,
        taken=taken,
        form=brought.form,
        name=measured.name,
        pictures=len(measured.pictures),
        corrections=brought.corrections,
        made=len(corrections) - len(taken.lost),
        lost=said_lost(taken.lost),
        rows=rows_of(measured, corrections, studio.look, typed),
        fates=FATES,
        materials=material_words("original"),
        told=told,
        faults=faults,
        worked_on=piece.text != taken.text,
    )
