"""Piece answer: the page of a piece, filled for one visitor."""

from dataclasses import replace
from datetime import datetime
from typing import Any

from fastapi import Request
from fastapi.responses import RedirectResponse, Response

from pourcast.app.cells import Frozen
from pourcast.app.desk import Desk, Texts, desk_of, texts_of
from pourcast.app.first import MOST_PROPOSALS, Worked, can_rank, lines
from pourcast.app.forecasts import Pair
from pourcast.app.knobs import knobs
from pourcast.app.pages import show
from pourcast.app.piece_view import Fault, piece_view
from pourcast.app.pieces import PieceText
from pourcast.app.studio import Studio
from pourcast.app.visitor import Visitor
from pourcast.book.plans import kept_as
from pourcast.freeze.fields import VoxelFields
from pourcast.page import svg_voxel, words_change, words_voxel
from pourcast.page.figures import clean
from pourcast.sheet.model import Plan


def answer(
    request: Request,
    studio: Studio,
    visitor: Visitor,
    piece_id: str,
    fault: Fault | None = None,
) -> Response:
    """Return the page of a piece, with why a knob could not be turned."""
    desk = desk_of(request)
    # What is worked out behind the pages waits until this one is drawn, not only poured.
    with desk.quiet.broken():
        texts = texts_of(request, studio, visitor, piece_id)
        pair = desk.forecasts.pair(texts.now, texts.kept.text)
        if not pair.refined:
            desk.forecasts.refine(visitor.session, piece_id, texts.now, texts.kept.text)
        start, is_set = desk.starts.read(piece_id, datetime.now().astimezone())
        return show(
            request,
            "piece.html.j2",
            status=200 if fault is None else 422,
            here="piece",
            piece=texts.piece,
            trial=texts.trial,
            failed=desk.forecasts.has_ended(texts.now, texts.kept.text) is False,
            start_is_set=is_set,
            in_book_since=_in_book_since(studio, texts.piece),
            kept_names=own_names(pair.now.plan),
            cells=cells_values(desk.cells.look(texts.now)),
            **first_values(desk, texts, pair, studio),
            **piece_view(
                pair,
                desk.drawn,
                look=studio.look,
                start=start,
                trial=texts.trial,
                fault=fault,
            ),
        )


def _in_book_since(studio: Studio, piece: PieceText) -> str:
    """Return the day on which the text of a piece was kept in the book; "" where it was not."""
    book_piece = studio.pieces.book_piece(piece.id)
    kept = None if book_piece is None else kept_as(studio.book, book_piece, piece.text)
    return "" if kept is None else studio.look.day(kept.date())


def first_values(desk: Desk, texts: Texts, pair: Pair, studio: Studio) -> dict[str, Any]:
    """Return what to change first, as far as it is worked out."""
    # The answer itself comes before the advice.
    worked = desk.first.look(texts.now) if pair.refined else Worked(None, (), False)
    there = knobs(pair.now, studio.look)
    return {
        "worked": worked,
        "lines": lines(worked.ranking, there) if worked.ranking else [],
        "can_rank": can_rank(),
        "poured": words_change.poured,
        "most_proposals": MOST_PROPOSALS,
    }


def cells_values(frozen: Frozen) -> dict[str, Any]:
    """Return what the page says of a casting frozen in cells."""
    study = frozen.study
    return {
        "state": frozen.state,
        "share": round(100.0 * frozen.share),
        "fault": clean(frozen.fault),
        "lines": words_voxel.lines(study)[1:] if study else (),
        "sections": svg_voxel.sections(_few(study.fields), study.plan.speech) if study else "",
        "cooling": svg_voxel.cooling(study.fields, study.plan.speech) if study else "",
    }


def _few(fields: VoxelFields) -> VoxelFields:
    """Return the fields with four of their sections, as many as a picture holds."""
    kept = fields.sections
    chosen = kept[:: max(1, len(kept) // 4)][-4:]
    return replace(fields, sections=chosen)


def own_names(plan: Plan) -> tuple[str, ...]:
    """Return the names that the caster gave to a piece and its parts."""
    piece = plan.piece
    return (piece.name, *(part.name for part in piece.parts))


def to(piece_id: str, place: str) -> Response:
    """Lead back to a place on the page of a piece."""
    return RedirectResponse(f"/piece/{piece_id}#{place}", status_code=303)
