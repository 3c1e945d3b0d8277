"""Kiln day: read, press, and see the day worked out again."""

import time
from datetime import UTC, datetime
from typing import Annotated, cast

from fastapi import APIRouter, Form, Header, HTTPException, Path, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from pydantic import BaseModel, Field

from pourcast.app.day_alarms import alarms
from pourcast.app.day_entry import put_down
from pourcast.app.day_queue import waiting_line
from pourcast.app.day_room import DayRoom
from pourcast.app.day_view import day_values, last_unit, note_unit, then_values
from pourcast.app.day_wrong import wrong_values
from pourcast.app.pages import StudioOf, VisitorOf, fill, only_laptop, show
from pourcast.app.studio import Studio
from pourcast.book.day_tokens import new_token, token_opens
from pourcast.book.day_wrong import kiln_days_of_plans
from pourcast.book.kiln_days import begin_day
from pourcast.book.listing import list_pieces
from pourcast.book.model import KeptPlan, Pour
from pourcast.book.outcomes import read_pour
from pourcast.book.plans import latest_plan
from pourcast.day.checks import LONGEST_HOLD
from pourcast.errors import InputError, PourcastError
from pourcast.page.words_day import longer_told
from pourcast.page.words_pour_day import QUEUE_CARE
from pourcast.sheet import read_plan

router = APIRouter(prefix="/day")

PourId = Annotated[str, Path(min_length=16, max_length=16, pattern="^[0-9a-z]+$")]
Since = Annotated[float, Query(ge=0.0, le=1e6, allow_inf_nan=False)]
Hours = Annotated[float, Query(ge=0.25, le=LONGEST_HOLD / 3600.0, allow_inf_nan=False)]
_PLANS = 60
_BEARER = "Bearer "


class Sent(BaseModel):
    """What a thermometer of its own sends."""

    celsius: float = Field(ge=-30.0, le=1500.0, allow_inf_nan=False)
    place: str = Field(default="kiln", pattern="^(kiln|wall|core|metal)$")
    at: float | None = Field(default=None, ge=0.0, le=1e11, allow_inf_nan=False)


def room_of(request: Request) -> DayRoom:
    """Return the days of the studio, kept as long as the pages are served."""
    state = request.app.state
    if not hasattr(state, "day_room"):
        state.day_room = DayRoom(state.studio)
    return cast(DayRoom, state.day_room)


@router.get("")
def which(request: Request, studio: StudioOf) -> HTMLResponse:
    """Ask whose kiln day it is."""
    return _which(request, studio)


@router.post("")
def begin(
    request: Request,
    studio: StudioOf,
    plan: Annotated[str, Form(max_length=40)],
    start: Annotated[str, Form(max_length=40)],
) -> Response:
    """Begin a day."""
    try:
        begins = datetime.fromisoformat(start.strip()).astimezone()
    except (ValueError, OverflowError, OSError):
        return _which(request, studio, fault="day.begin.bad")
    known = {kept.id for kept in _plans(studio)}
    if plan not in known:
        raise HTTPException(404)
    pour = begin_day(studio.book, plan, start=begins, at=datetime.now(UTC))
    return RedirectResponse(f"/day/{pour.id}", status_code=303)


@router.get("/{pour_id}")
async def day(request: Request, studio: StudioOf, pour_id: PourId) -> HTMLResponse:
    """Return a day as it stands."""
    return await _page(request, studio, pour_id)


@router.get("/{pour_id}/now")
async def again(request: Request, studio: StudioOf, pour_id: PourId) -> HTMLResponse:
    """Return what changes as the day goes on, for a page that asks again."""
    pour = await run_in_threadpool(read_pour, studio.book, pour_id)
    if pour.stage == "by mistake":
        # The whole page is another one now.
        return HTMLResponse("", headers={"hx-redirect": f"/day/{pour_id}"})
    values = await run_in_threadpool(day_values, room_of(request), studio, pour)
    return HTMLResponse(fill(request, "day_again.html.j2", here="day", **values))


@router.post("/{pour_id}/entry")
async def entry(request: Request, studio: StudioOf, pour_id: PourId) -> Response:
    """Put down what was read or done."""
    async with request.form() as form:
        fields = {name: text[:200] for name, text in form.items() if isinstance(text, str)}
    try:
        await run_in_threadpool(_enter, studio, pour_id, fields)
    except InputError as fault:
        if "hx-request" in request.headers:
            return _refused(request, str(fault))
        return await _page(request, studio, pour_id, fault=str(fault), typed=fields)
    if "hx-request" in request.headers:
        return await again(request, studio, pour_id)
    return RedirectResponse(f"/day/{pour_id}", status_code=303)


@router.get("/{pour_id}/longer")
def longer(request: Request, pour_id: PourId, hours: Hours = 1.0) -> HTMLResponse:
    """Say what holding the hottest step longer would do; nothing is kept."""
    hold = hours * 3600.0
    found, held = room_of(request).longer(pour_id, hold)
    said = longer_told(found.forecast, held, hold, found.zone)
    return HTMLResponse(fill(request, "day_longer.html.j2", here="day", said=said))


@router.get("/{pour_id}/then")
def then(request: Request, pour_id: PourId, since: Since = 0.0) -> HTMLResponse:
    """Return a day as it looked so many seconds after the block went in."""
    made = then_values(room_of(request), pour_id, since)
    return HTMLResponse(fill(request, "day_then.html.j2", here="day", **made))


@router.get("/{pour_id}/order")
def order(request: Request, studio: StudioOf, pour_id: PourId) -> HTMLResponse:
    """Return in which order the flasks of the kiln are poured; nothing where there is one."""
    line = waiting_line(room_of(request), studio, datetime.now(UTC))
    made = fill(
        request,
        "day_order.html.j2",
        here="day",
        pour_id=pour_id,
        line=line,
        care_queue=QUEUE_CARE,
    )
    return HTMLResponse(made)


@router.get("/{pour_id}/alarms.ics")
def calendar(request: Request, pour_id: PourId) -> Response:
    """Return what is still to come, for the calendar of a phone."""
    made = alarms(room_of(request).now(pour_id), time.time())
    return Response(
        made,
        media_type="text/calendar; charset=utf-8",
        headers={"content-disposition": 'attachment; filename="kiln-day.ics"'},
    )


@router.post("/{pour_id}/token")
async def token(
    request: Request, studio: StudioOf, visitor: VisitorOf, pour_id: PourId
) -> HTMLResponse:
    """Make a token for a thermometer of its own, and show it once."""
    only_laptop(visitor)
    made = await run_in_threadpool(new_token, studio.book, pour_id)
    return await _page(request, studio, pour_id, made=made)


@router.post("/{pour_id}/reading")
def reading(
    studio: StudioOf,
    pour_id: PourId,
    sent: Sent,
    authorization: Annotated[str, Header(max_length=200)] = "",
) -> Response:
    """Put down a reading that an instrument sends, with the token of its day."""
    token = authorization.removeprefix(_BEARER)
    if not authorization.startswith(_BEARER) or not token_opens(studio.book, pour_id, token):
        return JSONResponse({"fault": "the token does not open this day"}, status_code=401)
    fields = {"number": f"{sent.celsius!r}", "unit": "C", "place": sent.place}
    if sent.at is not None:
        fields["at"] = repr(sent.at)
    try:
        _enter(studio, pour_id, fields)
    except InputError as fault:
        return JSONResponse({"fault": str(fault)}, status_code=422)
    return JSONResponse({"kept": True})


def _enter(studio: Studio, pour_id: str, fields: dict[str, str]) -> None:
    unit = put_down(studio.book, pour_id, fields, unit=last_unit(studio), now=datetime.now(UTC))
    note_unit(studio, unit)


def _refused(request: Request, fault: str) -> HTMLResponse:
    """Return why an entry was not kept, for a page that stays as it is."""
    return HTMLResponse(
        fill(request, "day_fault.html.j2", here="day", fault=fault),
        status_code=422,
        headers={"hx-retarget": "#fault", "hx-reswap": "outerHTML"},
    )


async def _page(
    request: Request,
    studio: Studio,
    pour_id: str,
    *,
    fault: str = "",
    typed: dict[str, str] | None = None,
    made: str = "",
) -> HTMLResponse:
    pour = await run_in_threadpool(read_pour, studio.book, pour_id)
    if pour.stage == "by mistake":
        found = await run_in_threadpool(wrong_values, studio, pour)
        status = 422 if fault else 200
        return show(request, "day_wrong.html.j2", status=status, here="day", fault=fault, **found)
    values = await run_in_threadpool(day_values, room_of(request), studio, pour)
    return show(
        request,
        "day.html.j2",
        status=422 if fault else 200,
        here="day",
        fault=fault,
        typed=typed or {},
        made=made,
        address=f"{request.url.scheme}://{request.url.netloc}/day/{pour_id}/reading",
        **values,
    )


def _plans(studio: Studio) -> list[KeptPlan]:
    """Return the latest plans of the book whose piece file says how large the kiln is."""
    found = []
    for line in list_pieces(studio.book)[:_PLANS]:
        kept = latest_plan(studio.book, line.id)
        try:
            sheet = read_plan(kept.sheet, file=kept.file_name)
        except PourcastError:
            continue
        if sheet.kiln.volume is not None:
            found.append(kept)
    return found


def _begun(studio: Studio, plans: list[KeptPlan]) -> list[tuple[KeptPlan, Pour, datetime]]:
    """Return all kiln days of some plans and when each began, the latest first."""
    by_id = {kept.id: kept for kept in plans}
    days = kiln_days_of_plans(studio.book, by_id)
    return [(by_id[pour.plan_id], pour, at.astimezone()) for pour, at in days]


def _which(request: Request, studio: Studio, fault: str = "") -> HTMLResponse:
    plans = _plans(studio)
    days = _begun(studio, plans)
    return show(
        request,
        "day_which.html.j2",
        status=422 if fault else 200,
        here="day",
        plans=plans,
        begun=[each for each in days if each[1].stage != "by mistake"],
        mistaken=[each for each in days if each[1].stage == "by mistake"],
        fault=fault,
        now=datetime.now().astimezone().strftime("%Y-%m-%dT%H:%M"),
    )
