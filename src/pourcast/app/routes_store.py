"""Store: metal, powder and wax in stock, and each line of what went where."""

from collections.abc import Mapping
from datetime import UTC, date, datetime
from decimal import Decimal, InvalidOperation
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.faults import NotThereError
from pourcast.app.pages import StudioOf, show
from pourcast.app.reading import plain_number, read_number
from pourcast.app.routes_shelf import PieceId
from pourcast.app.sheet_choices import material_words
from pourcast.book.settings import read_settings
from pourcast.book.stock import buy, lots, move, movements
from pourcast.book.words import LOT_KINDS, MOVES
from pourcast.errors import InputError

router = APIRouter(prefix="/store")

_MG = 1000  # mg in a g
_MOST_G = 1e7
Word = Annotated[str, Form(max_length=60)]
Line = Annotated[str, Form(max_length=200)]


@router.get("")
def store(request: Request, studio: StudioOf) -> HTMLResponse:
    """Return the lots, and the forms that enter one or move some of it."""
    return _page(request, studio)


@router.post("/buy")
def enter_lot(
    request: Request,
    studio: StudioOf,
    kind: Word = "",
    material: Word = "",
    mass: Word = "",
    price: Word = "",
    day: Word = "",
    name: Line = "",
    composition: Line = "",
    remelts: Annotated[int, Form(ge=0, le=1000)] = 0,
) -> Response:
    """Enter a lot that was bought."""
    try:
        if kind not in LOT_KINDS:
            raise InputError("kind", kind, "", "one of " + ", ".join(LOT_KINDS))
        buy(
            studio.book,
            kind,
            material,
            mass_mg=round(read_number("mass", mass, studio.look, low=0.001, high=_MOST_G) * _MG),
            price=_price(price, studio),
            bought=_day(day),
            at=datetime.now(UTC),
            name=name.strip(),
            composition=composition.strip(),
            remelts=remelts,
        )
    except InputError as fault:
        return _page(request, studio, fault=str(fault), place="buy")
    return RedirectResponse("/store", status_code=303)


@router.post("/move")
def enter_movement(
    request: Request,
    studio: StudioOf,
    lot: Word = "",
    act: Word = "",
    mass: Word = "",
    reason: Line = "",
) -> Response:
    """Enter what left a lot or came back to it."""
    try:
        grams = read_number("mass", mass, studio.look, low=0.001, high=_MOST_G)
        move(studio.book, lot, act, round(grams * _MG), at=datetime.now(UTC), reason=reason.strip())
    except InputError as fault:
        return _page(request, studio, fault=str(fault), place="move")
    return RedirectResponse("/store", status_code=303)


@router.get("/{lot_id}")
def ledger(request: Request, studio: StudioOf, lot_id: PieceId) -> HTMLResponse:
    """Return each line of a lot."""
    found = next((lot for lot in lots(studio.book) if lot.id == lot_id), None)
    if found is None:
        raise NotThereError("There is no such lot.")
    lines = movements(studio.book, lot_id)
    return show(request, "ledger.html.j2", here="store", lot=found, lines=lines)


def _price(text: str, studio: StudioOf) -> Decimal:
    try:
        return Decimal(plain_number(text, studio.look))
    except InvalidOperation:
        raise InputError("price", text[:40] or "empty", "", "a number") from None


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text.strip()) if text.strip() else date.today()
    except ValueError:
        raise InputError("day", text[:40], "", "a day such as 2026-03-01") from None


def _page(request: Request, studio: StudioOf, *, fault: str = "", place: str = "") -> HTMLResponse:
    materials: Mapping[str, tuple[tuple[str, str], ...]] = {
        "metal": material_words("alloy"),
        "powder": material_words("powder"),
        "wax": material_words("wax"),
    }
    return show(
        request,
        "store.html.j2",
        status=422 if fault else 200,
        here="store",
        lots=lots(studio.book),
        kinds=LOT_KINDS,
        moves=[word for word in MOVES if word != "bought"],
        materials=materials,
        names={key: words for each in materials.values() for key, words in each},
        money=read_settings(studio.book),
        today=date.today().isoformat(),
        fault=fault,
        place=place,
    )
