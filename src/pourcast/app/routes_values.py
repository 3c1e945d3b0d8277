"""Values: every number with its range, kind and source, and the studio's own in their place."""

from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Form, Path, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.faults import NotThereError
from pourcast.app.own_values import drawn_values
from pourcast.app.pages import StudioOf, show
from pourcast.app.reading import read_number
from pourcast.app.studio import Studio
from pourcast.errors import InputError, PourcastError, SourceError
from pourcast.materials import library
from pourcast.materials.model import Value
from pourcast.page.figures import clean

router = APIRouter(prefix="/values")

MOST = 120
"""Values on one page; own choice."""

_MOST_PIECES = 40  # looked at for where a value is used
_WIDEST = 1e12

Key = Annotated[str, Path(max_length=200, pattern=r"^[A-Za-z0-9_.]+$")]
Typed = Annotated[str, Form(max_length=40)]


@router.get("")
def values(
    request: Request,
    studio: StudioOf,
    find: Annotated[str, Query(max_length=80)] = "",
    group: Annotated[str, Query(max_length=40)] = "",
    own: Annotated[bool, Query()] = False,
) -> HTMLResponse:
    """Return the values that are asked for, or the groups."""
    all_values = library().find("")
    kept = studio.own.all()
    asked = bool(find.strip() or group or own)
    found = _found(all_values, find, group, frozenset(kept) if own else None) if asked else []
    return show(
        request,
        "values.html.j2",
        here="values",
        find=find,
        group=group,
        asked=asked,
        groups=_groups(all_values),
        found=found[:MOST],
        matches=len(found),
        most=MOST,
        own=kept,
        mine=[value for value in all_values if value.key in kept],
        drawn=drawn_values(),
        all_count=len(all_values),
        used=_used(studio, found[:MOST]) if found else {},
        facts=library().facts.values() if group == "safety" else (),
    )


@router.get("/{key}")
def one(request: Request, studio: StudioOf, key: Key) -> HTMLResponse:
    """Return one value, with the boxes for one of the studio's own."""
    return _one(request, studio, _record(key), typed={}, fault="")


@router.post("/{key}")
def put(
    request: Request,
    studio: StudioOf,
    key: Key,
    value: Typed = "",
    low: Typed = "",
    high: Typed = "",
    note: Annotated[str, Form(max_length=2000)] = "",
) -> Response:
    """Keep a value of the studio's own."""
    record = _record(key)
    try:
        middle, least, most = (
            read_number(what, text, studio.look, low=-_WIDEST, high=_WIDEST)
            for what, text in (("middle", value), ("not less than", low), ("not more than", high))
        )
        studio.own.put(key, value=middle, low=least, high=most, note=note)
    except InputError as fault:
        typed = {"value": value, "low": low, "high": high, "note": note}
        return _one(request, studio, record, typed=typed, fault=str(fault))
    return RedirectResponse(f"/values/{key}", status_code=303)


@router.post("/{key}/drop")
def drop(studio: StudioOf, key: Key) -> Response:
    """Go back to the value of the book."""
    studio.own.drop(_record(key).key)
    return RedirectResponse(f"/values/{key}", status_code=303)


def _record(key: str) -> Value:
    try:
        found = library().find(key)[0]
    except SourceError:
        raise NotThereError("There is no such value.") from None
    if found.key != key:
        raise NotThereError("There is no such value.")
    return found


def _found(
    all_values: list[Value], find: str, group: str, only: frozenset[str] | None
) -> list[Value]:
    word = find.strip().casefold()
    return [
        value
        for value in all_values
        if (not group or value.key.split(".")[0] == group)
        and (only is None or value.key in only)
        and (not word or word in f"{value.key} {value.source} {value.note}".casefold())
    ]


def _groups(all_values: list[Value]) -> Mapping[str, int]:
    counted: dict[str, int] = {}
    for value in all_values:
        first = value.key.split(".")[0]
        counted[first] = counted.get(first, 0) + 1
    return counted


def _used(studio: Studio, found: list[Value]) -> Mapping[str, list[str]]:
    """Return the pieces of the shelf whose forecast varies each of some values."""
    keys = {value.key for value in found}
    used: dict[str, list[str]] = {}
    for piece_id in studio.pieces.ids()[:_MOST_PIECES]:
        try:
            plan = studio.plan(studio.piece(piece_id))
            drawn = studio.own.drawn_by(plan)
        except PourcastError:
            continue
        for key in keys & drawn:
            used.setdefault(key, []).append(clean(plan.piece.name))
    return used


def _one(
    request: Request, studio: Studio, record: Value, *, typed: Mapping[str, str], fault: str
) -> HTMLResponse:
    mine = studio.own.all().get(record.key)
    if not typed:
        shown = mine or record
        typed = {
            "value": studio.look.figures(f"{shown.value:g}"),
            "low": studio.look.figures(f"{shown.low:g}"),
            "high": studio.look.figures(f"{shown.high:g}"),
            "note": mine.note if mine else "",
        }
    return show(
        request,
        "value.html.j2",
        status=422 if fault else 200,
        here="values",
        record=record,
        mine=mine,
        typed=typed,
        fault=fault,
        can=record.key in drawn_values(),
        pieces=_used(studio, [record]).get(record.key, []),
    )
