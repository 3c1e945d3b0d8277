"""New: a piece from a sheet of measures that teaches how each is taken.

What is typed is kept on the disk at each change, right or wrong.  With scripts
off the same form posts when a button is pressed.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.drafts import Draft
from pourcast.app.faults import NotThereError
from pourcast.app.measure_svg import drawing
from pourcast.app.pages import TOKEN_FIELD, StudioOf, fill, has_router, show
from pourcast.app.routes_shelf import PieceId
from pourcast.app.sheet_choices import choices, flags
from pourcast.app.sheet_fields import REPEATED, SECTIONS, boxes
from pourcast.app.sheet_text import faults_of, moved, places, text_of
from pourcast.app.studio import Studio
from pourcast.errors import Fault, SheetError

router = APIRouter()

ACT = "act"
"""Name of the buttons of the form; a button says "add:part", "drop:part:2" or "put"."""

_LOOKED_OVER = "looked-over"
_BEGIN = {
    "flask.wall": "perforated",
    "assist.kind": "vacuum",
    "kiln.control": "hand",
    "investment.water_to_powder": "0.40",
    "investment.mixed_at_C": "20",
    "button.material": "casting",
    "part.0.on": "button",
    "part.0.shape": "rod",
}
"""Where a box has a usual value that is no measure of the original; common practice, no source."""


@router.get("/new")
def start(request: Request) -> HTMLResponse:
    """Return the page that asks how the piece shall come onto the shelf."""
    can_upload = has_router("upload")
    return show(request, "new_start.html.j2", here="shelf", can_upload=can_upload)


@router.post("/new")
def begin(studio: StudioOf) -> Response:
    """Begin a sheet of measures."""
    comma = studio.look.decimal == "comma"
    fields = {name: text.replace(".", ",") if comma else text for name, text in _BEGIN.items()}
    return RedirectResponse(f"/new/{studio.drafts.begin(fields).id}", status_code=303)


@router.get("/new/{draft_id}")
def sheet(request: Request, studio: StudioOf, draft_id: PieceId) -> HTMLResponse:
    """Return the sheet as it is filled in so far."""
    draft = studio.drafts.read(draft_id)
    return show(request, "new.html.j2", here="shelf", **_values(studio, draft))


@router.post("/new/{draft_id}/keep")
async def keep(request: Request, studio: StudioOf, draft_id: PieceId) -> Response:
    """Keep what was typed, and return what to say beside each box."""
    try:
        draft = studio.drafts.replace(draft_id, _kept(await _fields(request), studio, draft_id))
    except NotThereError:
        # The sheet went onto the shelf, or was thrown away, while this was under way.
        return Response(status_code=204)
    return HTMLResponse(fill(request, "new_said.html.j2", **_values(studio, draft)))


@router.post("/new/{draft_id}")
async def act(request: Request, studio: StudioOf, draft_id: PieceId) -> Response:
    """Keep what was typed, and do what the button says."""
    fields = await _fields(request)
    asked = fields.pop(ACT, "")
    kept = _kept(fields, studio, draft_id)
    word, _, rest = asked.partition(":")
    key, _, number = rest.partition(":")
    goal = f"/new/{draft_id}"
    if word == "drop-all":
        studio.drafts.drop(draft_id)
        return RedirectResponse("/", status_code=303)
    if word == "add" and key in REPEATED:
        place = places(kept, key)
        kept = {**kept, **_first_fields(key, place)}
        goal += f"#{key}-{place}"
    elif word in ("drop", "up") and key in REPEATED and number.isdecimal():
        kept = moved(kept, REPEATED[key], int(number[:4]), by=0 if word == "drop" else -1)
        goal += f"#{key}"
    elif word in ("check", "put"):
        kept = {**kept, _LOOKED_OVER: "yes"}
        goal += "#said"
    studio.drafts.replace(draft_id, kept)
    if word == "put":
        try:
            made = studio.add(text_of(kept, studio.look))
        except SheetError:
            return RedirectResponse(goal, status_code=303)
        studio.drafts.drop(draft_id)
        return RedirectResponse(f"/piece/{made.id}", status_code=303)
    return RedirectResponse(goal, status_code=303)


async def _fields(request: Request) -> dict[str, str]:
    """Return the boxes of the form; the form was read when its token was looked at."""
    form = await request.form()
    return {
        name: text for name, text in form.items() if isinstance(text, str) and name != TOKEN_FIELD
    }


def _kept(fields: Mapping[str, str], studio: Studio, draft_id: str) -> dict[str, str]:
    """Return the fields of a form with what the draft itself remembers."""
    before = studio.drafts.read(draft_id).fields
    marks = {_LOOKED_OVER: before[_LOOKED_OVER]} if _LOOKED_OVER in before else {}
    return {**fields, **marks}


def _first_fields(key: str, place: int) -> dict[str, str]:
    first = {box.name: "" for box in boxes(REPEATED[key], place)}
    if key == "part":
        first[f"part.{place}.shape"] = "rod"
        first[f"part.{place}.count"] = "1"
    return first


def _values(studio: Studio, draft: Draft) -> dict[str, Any]:
    fields, look = draft.fields, studio.look
    faults = faults_of(fields, look)
    looked_over = _LOOKED_OVER in fields
    names = [
        text
        for place in range(places(fields, "part"))
        if (text := fields.get(f"part.{place}.name", "").strip())
    ]
    return {
        "draft": draft,
        "fields": fields,
        "sections": SECTIONS,
        "repeated": REPEATED,
        "boxes": boxes,
        "counts": {key: places(fields, key) for key in REPEATED},
        "drawing": drawing,
        "choices": choices,
        "flags": flags(fields),
        "names": ["button", *names],
        "shown": faults if looked_over else _typed_wrong(faults, fields),
        "left": sum(len(each) for each in faults.values()),
        "looked_over": looked_over,
        "at": datetime.now().strftime("%H:%M:%S"),
        "unit": lambda box: look.lengths if box.unit == "mm" else box.unit,
    }


def _typed_wrong(
    faults: Mapping[str, list[Fault]], fields: Mapping[str, str]
) -> dict[str, list[Fault]]:
    """Return the faults of boxes in which something stands; the rest waits to be looked over."""
    return {
        name: told
        for name, all_of_it in faults.items()
        if fields.get(name, "").strip()
        and (told := [fault for fault in all_of_it if not fault.text.startswith("is missing")])
    }
