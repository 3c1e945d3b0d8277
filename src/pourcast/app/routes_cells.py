"""Cells: a casting frozen in cells, asked for on the page of its piece."""

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse, Response

from pourcast.app.desk import desk_of, texts_of
from pourcast.app.faults import NotThereError
from pourcast.app.pages import StudioOf, VisitorOf, show
from pourcast.app.piece_answer import cells_values, own_names, to
from pourcast.app.routes_shelf import PieceId
from pourcast.app.scene_cells import scene_cells
from pourcast.app.words import say

router = APIRouter()


@router.post("/cells")
def freeze_in_cells(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Have what is shown frozen in cells."""
    texts = texts_of(request, studio, visitor, piece_id)
    desk_of(request).cells.ask(texts.now)
    return to(piece_id, "p-cells")


@router.get("/cells")
def cells_part(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return the part of the page that tells of the casting in cells."""
    texts = texts_of(request, studio, visitor, piece_id)
    frozen = desk_of(request).cells.look(texts.now)
    return show(
        request,
        "cells.html.j2",
        here_path=f"/piece/{piece_id}",
        kept_names=own_names(frozen.study.plan) if frozen.study else (),
        cells=cells_values(frozen),
    )


@router.get("/cells.json")
def cells_json(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return the casting in cells, to be drawn in the round."""
    texts = texts_of(request, studio, visitor, piece_id)
    frozen = desk_of(request).cells.look(texts.now)
    if frozen.study is None:
        raise NotThereError(say("cells.none"))
    return JSONResponse(scene_cells(frozen.study))
