"""Paper: the run sheet of what is shown, to be printed or put in a calendar."""

import time
from datetime import datetime

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pourcast.app.clocks import run_sheet
from pourcast.app.desk import desk_of, texts_of
from pourcast.app.pages import StudioOf, VisitorOf
from pourcast.app.piece_answer import own_names
from pourcast.app.routes_shelf import PieceId

router = APIRouter()


@router.get("/run-sheet.pdf")
def run_sheet_pdf(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return the run sheet of what is shown, for paper."""
    from pourcast.page.as_chosen import page_as_chosen, tree_as_chosen
    from pourcast.page.render import style
    from pourcast.page.svg_pictures import bench
    from pourcast.runsheet.paper import printed
    from pourcast.runsheet.picture import self_contained

    texts = texts_of(request, studio, visitor, piece_id)
    desk = desk_of(request)
    said = studio.forecast(texts.now)
    start, _ = desk.starts.read(piece_id, datetime.now().astimezone())
    own = own_names(said.plan)
    drawing = page_as_chosen(str(bench(said)), studio.look.chosen, own)
    made = printed(
        run_sheet(said, start),
        picture=self_contained(drawing, style()),
        told=lambda tree: tree_as_chosen(tree, studio.look.chosen, own),
    )
    return _file(made.pdf, "application/pdf", "run-sheet.pdf")


@router.get("/run-sheet.ics")
def run_sheet_calendar(
    request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId
) -> Response:
    """Return the acts of what is shown, for a calendar."""
    from pourcast.runsheet.calendar import calendar_file

    texts = texts_of(request, studio, visitor, piece_id)
    desk = desk_of(request)
    start, _ = desk.starts.read(piece_id, datetime.now().astimezone())
    sheet = run_sheet(studio.forecast(texts.now), start)
    return _file(calendar_file(sheet, stamp=time.time()), "text/calendar", "run-sheet.ics")


def _file(content: bytes, media_type: str, name: str) -> Response:
    return Response(
        content,
        media_type=media_type,
        headers={"content-disposition": f'inline; filename="{name}"'},
    )
