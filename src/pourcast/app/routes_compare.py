"""Compare: two plans of the shelf, or two texts of one piece, side by side."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from pourcast.app.desk import Desk, desk_of
from pourcast.app.moved import time_told
from pourcast.app.pages import StudioOf, VisitorOf, show
from pourcast.app.piece_answer import own_names
from pourcast.app.sides import PATTERN, Sides
from pourcast.change.as_written import as_the_sheets_say
from pourcast.errors import PourcastError
from pourcast.forecast.solve import DRAWS
from pourcast.page import words_compare
from pourcast.page.figures import clean

router = APIRouter(prefix="/compare")

SideName = Annotated[str, Query(max_length=24, pattern=PATTERN)]


@router.get("")
def compare_page(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    one: SideName = "",
    other: SideName = "",
    wait: bool = False,
) -> HTMLResponse:
    """Return the page on which two plans are chosen, and how they differ.

    Without ``wait`` the answer is asked for by the page itself once it stands.
    """
    desk = desk_of(request)
    sides = Sides(studio, desk.trials, visitor.session)
    values: dict[str, Any] = {"named": None}
    if wait and one and other:
        values = _values(desk, sides, one, other)
    return show(
        request,
        "compare.html.j2",
        here="shelf",
        sides=sides.offered(one, other),
        one=one,
        other=other,
        draws=DRAWS,
        **values,
    )


@router.get("/answer")
def compare_answer(
    request: Request, studio: StudioOf, visitor: VisitorOf, one: SideName, other: SideName
) -> HTMLResponse:
    """Return the part of the page that says how two plans differ."""
    desk = desk_of(request)
    sides = Sides(studio, desk.trials, visitor.session)
    return show(request, "compared.html.j2", **_values(desk, sides, one, other))


def _values(desk: Desk, sides: Sides, one: str, other: str) -> dict[str, Any]:
    texts = sides.text(one), sides.text(other)
    named = {"first": sides.words(one), "second": sides.words(other)}
    try:
        found = desk.comparisons.of(*texts)
    except PourcastError as fault:
        return {"said": None, "named": named, "fault": clean(str(fault))}
    said = as_the_sheets_say(found.said, *texts)
    return {
        "said": said,
        "named": named,
        "fault": "",
        # The second is told against the first, as a turned knob against what stands.
        "times": time_told(found.other, found.one),
        "parts": [(move, words_compare.part_gain(move)) for move in said.parts],
        "words": words_compare,
        "kept_names": [
            *named.values(),
            *own_names(found.one.plan),
            *own_names(found.other.plan),
        ],
    }
