"""Tests: what a studio can cast, weigh or log to know its own mould and kiln."""

from datetime import UTC, date, datetime
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.casting_forms import KINDS, Made, work_out
from pourcast.app.pages import StudioOf, show
from pourcast.app.studio import Studio
from pourcast.book.calibrations import holds, keep_act, keep_learnt
from pourcast.book.castings import castings_of, keep_test
from pourcast.book.learning import NOTHING, ToLearnFrom, to_learn_from
from pourcast.book.learnt import learnt_of
from pourcast.errors import PourcastError
from pourcast.learn.fan import Fan, design
from pourcast.learn.fan_drawing import fan_svg
from pourcast.learn.fan_sheet import fan_sheet
from pourcast.learn.solve import learn
from pourcast.page.words_learn import (
    CAUTIONS,
    HOW,
    fan_rows,
    fan_told,
    learnt_rows,
    learnt_told,
)
from pourcast.speech import GAUGES

router = APIRouter(prefix="/tests")

Kind = Annotated[Literal["pull-down", "fan", "block", "day"], Path()]
PieceOf = Annotated[str, Query(max_length=40)]
_LONGEST = 400_000


@router.get("")
def tests(request: Request, studio: StudioOf) -> HTMLResponse:
    """Return all tests, and what was learnt."""
    return _all(request, studio)


@router.post("/learn")
async def learn_all(request: Request, studio: StudioOf) -> HTMLResponse:
    """Learn from all outcomes and tests of the book."""
    held = await run_in_threadpool(_learn, studio)
    return _all(request, studio, held)


@router.post("/switch/{act}")
def switch(studio: StudioOf, act: Annotated[Literal["off", "on", "reset"], Path()]) -> Response:
    """Switch what was learnt off or on, or begin anew."""
    keep_act(studio.book, act, at=datetime.now(UTC))
    return RedirectResponse("/tests", status_code=303)


@router.get("/fan/drawing.svg")
def drawing(
    studio: StudioOf, piece: PieceOf, strips: Annotated[int, Query(ge=2, le=12)] = 8
) -> Response:
    """Return the fan at its true size, to be printed."""
    found = _fan(studio, piece, strips)
    return Response(
        fan_svg(found[1]),
        media_type="image/svg+xml",
        headers={"content-disposition": 'attachment; filename="fan.svg"'},
    )


@router.post("/fan/put")
async def put_fan(request: Request, studio: StudioOf) -> Response:
    """Put the fan on the shelf as a piece of its own."""
    async with request.form() as form:
        piece, strips = str(form.get("piece", "")), str(form.get("strips", "8"))
    number = int(strips) if strips.isascii() and strips.isdigit() else 8
    text, found = await run_in_threadpool(_fan, studio, piece, min(max(number, 2), 12))
    made = studio.add(fan_sheet(text, found))
    return RedirectResponse(f"/piece/{made.id}", status_code=303)


@router.get("/{kind}")
async def one(
    request: Request,
    studio: StudioOf,
    kind: Kind,
    piece: PieceOf = "",
    strips: Annotated[int, Query(ge=2, le=12)] = 8,
) -> HTMLResponse:
    """Return the form of one test; of a fan its design, once a piece is named."""
    fan = None
    if kind == "fan" and piece:
        fan = (await run_in_threadpool(_fan, studio, piece, strips))[1]
    return _one(request, studio, kind, {"piece": piece, "strips": str(strips)}, fan=fan)


@router.post("/{kind}")
async def made(request: Request, studio: StudioOf, kind: Kind) -> Response:
    """Work a test out, and keep it where that is asked for."""
    async with request.form() as form:
        fields = {name: text[:_LONGEST] for name, text in form.items() if isinstance(text, str)}
    if kind == "fan":
        return RedirectResponse("/tests/fan", status_code=303)
    try:
        found = await run_in_threadpool(work_out, kind, fields, studio.look, studio.book)
    except PourcastError as fault:
        return _one(request, studio, kind, fields, fault=str(fault))
    kept = fields.get("keep") == "yes"
    if kept:
        keep_test(
            studio.book,
            kind,
            day=date.today(),
            at=datetime.now(UTC),
            inputs=found.inputs,
            result=found.result,
        )
    return _one(request, studio, kind, fields, result=found, kept=kept)


def _learn(studio: Studio) -> ToLearnFrom:
    held = to_learn_from(studio.book)
    found = learn(held.pours, held.measured, threads=studio.threads)
    keep_learnt(studio.book, found, at=datetime.now(UTC))
    return held


def _fan(studio: Studio, piece_id: str, strips: int) -> tuple[str, Fan]:
    piece = studio.piece(piece_id)
    return piece.text, design(studio.plan(piece), strips=strips, threads=studio.threads)


def _all(request: Request, studio: Studio, held: ToLearnFrom = NOTHING) -> HTMLResponse:
    latest, switched_on = holds(studio.book)
    found = None if latest is None else learnt_of(latest)
    return show(
        request,
        "tests.html.j2",
        here="tests",
        kinds=[(kind, len(castings_of(studio.book, kind))) for kind in KINDS],
        said=[] if found is None else learnt_told(found),
        rows=[] if found is None else learnt_rows(found.values),
        switched_on=switched_on,
        any=latest is not None,
        changed=held.changed,
        left_out=held.left_out,
    )


def _one(
    request: Request,
    studio: Studio,
    kind: str,
    fields: dict[str, str],
    *,
    result: Made | None = None,
    kept: bool = False,
    fan: Fan | None = None,
    fault: str = "",
) -> HTMLResponse:
    pieces = []
    if kind == "fan":
        for piece_id in studio.pieces.ids():
            try:
                pieces.append((piece_id, studio.plan(studio.piece(piece_id)).piece.name))
            except PourcastError:
                continue
    return show(
        request,
        "test.html.j2",
        status=422 if fault else 200,
        here="tests",
        kind=kind,
        fields=fields,
        fault=fault,
        result=result,
        kept=kept,
        how=HOW[kind],
        cautions=CAUTIONS[kind],
        gauges=GAUGES,
        pieces=pieces,
        fan_said=[] if fan is None else fan_told(fan),
        fan_rows=[] if fan is None else fan_rows(fan),
    )
