"""Piece: the day of one piece by the clock, and what is worked out behind it."""

import asyncio
import json
import time
from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import JSONResponse, Response, StreamingResponse

from pourcast.app import routes_cells, routes_paper, routes_trial
from pourcast.app.desk import desk_of, texts_of
from pourcast.app.pages import StudioOf, VisitorOf, show
from pourcast.app.piece_answer import answer, first_values, own_names, to
from pourcast.app.routes_shelf import PieceId
from pourcast.app.scene import scene

router = APIRouter(prefix="/piece/{piece_id}")
router.include_router(routes_trial.router)
router.include_router(routes_paper.router)
router.include_router(routes_cells.router)

_LOOK_EVERY = 0.1  # s between looks at whether the whole is there
_LONGEST_STREAM = 120.0  # s; a page asks again


@router.get("")
def piece_page(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return the page of a piece."""
    return answer(request, studio, visitor, piece_id)


@router.get("/first")
def first_part(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return the part of the page that says what to change first."""
    desk = desk_of(request)
    texts = texts_of(request, studio, visitor, piece_id)
    pair = desk.forecasts.pair(texts.now, texts.kept.text)
    found = first_values(desk, texts, pair, studio)
    path = f"/piece/{piece_id}"
    return show(
        request, "first.html.j2", here_path=path, kept_names=own_names(pair.now.plan), **found
    )


@router.post("/start")
def set_start(
    request: Request,
    studio: StudioOf,
    piece_id: PieceId,
    start: Annotated[str, Form(max_length=60)],
) -> Response:
    """Say when the bench evening begins."""
    studio.piece(piece_id)
    desk_of(request).starts.write(piece_id, start)
    return to(piece_id, "bench")


@router.post("/book")
def to_book(studio: StudioOf, piece_id: PieceId) -> Response:
    """Put the kept plan in the book."""
    studio.keep_in_book(piece_id)
    return to(piece_id, "in-book")


@router.get("/scene.json")
def scene_json(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return what the piece looks like in the round."""
    texts = texts_of(request, studio, visitor, piece_id)
    desk = desk_of(request)
    return JSONResponse(scene(desk.forecasts.pair(texts.now, texts.kept.text).now))


@router.get("/progress")
def progress(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    piece_id: PieceId,
) -> Response:
    """Tell a page when the whole of its forecast is there."""
    texts = texts_of(request, studio, visitor, piece_id)
    desk = desk_of(request)
    now, was = texts.now, texts.kept.text
    desk.forecasts.refine(visitor.session, piece_id, now, was)

    async def events() -> AsyncIterator[str]:
        yield "retry: 2000\n\n"
        until = time.monotonic() + _LONGEST_STREAM
        while time.monotonic() < until:
            ended = desk.forecasts.has_ended(now, was)
            if ended is not None:
                yield _event("refined" if ended else "failed", {})
                return
            await asyncio.sleep(_LOOK_EVERY)
        yield _event("late", {})

    return StreamingResponse(
        events(), media_type="text/event-stream", headers={"cache-control": "no-store"}
    )


def _event(name: str, data: dict[str, object]) -> str:
    return f"event: {name}\ndata: {json.dumps(data)}\n\n"
