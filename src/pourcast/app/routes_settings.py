"""Settings: how figures are written, money, flasks, who works here, and which phones look in."""

from datetime import UTC, datetime
from decimal import Decimal, InvalidOperation
from typing import Annotated, Any

import segno
from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup

from pourcast.app.look import DAYS, DECIMALS, LENGTHS, checked
from pourcast.app.pages import StudioOf, VisitorOf, only_owner, show
from pourcast.app.reading import read_number
from pourcast.app.routes_join import devices_of
from pourcast.app.words import say
from pourcast.book.settings import change_settings, flasks, put_flask, read_settings
from pourcast.book.users import add_user, change_role, forget_user, users_of
from pourcast.book.words import LOT_KINDS, ROLES, WALLS
from pourcast.errors import InputError

router = APIRouter(prefix="/studio")

Word = Annotated[str, Form(max_length=40)]
Person = Annotated[str, Form(max_length=200)]
_MG = 1000  # mg in a g


@router.get("")
def settings(request: Request, studio: StudioOf, visitor: VisitorOf) -> HTMLResponse:
    """Return what holds for the whole studio."""
    return _page(request, studio, visitor)


@router.post("/look")
def keep_look(studio: StudioOf, lengths: Word, decimal: Word, days: Word) -> Response:
    """Keep how figures and days are written."""
    studio.set_look(checked({"lengths": lengths, "decimal": decimal, "days": days}))
    return RedirectResponse("/studio", status_code=303)


@router.post("/money")
def keep_money(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    currency: Word = "",
    rate: Word = "",
    margin: Word = "",
    metal: Word = "",
    powder: Word = "",
    wax: Word = "",
) -> Response:
    """Keep currency, rate, margin and least stock; what is left empty stays as it is."""
    try:
        least = {
            kind: round(read_number(kind, text, studio.look, low=0.0, high=1e7) * _MG)
            for kind, text in (("metal", metal), ("powder", powder), ("wax", wax))
            if text.strip()
        }
        change_settings(
            studio.book,
            currency=currency.strip().upper() or None,
            rate_per_hour=_amount("rate", rate, studio),
            margin=_amount("margin", margin, studio),
            least_mg=least,
        )
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), place="money")
    return RedirectResponse("/studio", status_code=303)


@router.post("/flask")
def keep_flask(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    name: Annotated[str, Form(max_length=200)],
    inside: Word,
    height: Word,
    wall: Word = "solid",
    number: Annotated[int, Form(ge=0, le=10_000)] = 1,
) -> Response:
    """Note how many flasks of a kind there are."""
    try:
        if wall not in WALLS:
            raise InputError("wall", wall, "", "one of " + ", ".join(WALLS))
        put_flask(
            studio.book,
            name.strip(),
            inside_diameter_mm=read_number("inside", inside, studio.look, low=1.0, high=3000.0),
            height_mm=read_number("height", height, studio.look, low=1.0, high=3000.0),
            wall=wall,
            count=number,
        )
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), place="flask")
    return RedirectResponse("/studio", status_code=303)


@router.post("/invite", dependencies=[Depends(only_owner)])
def invite(request: Request, studio: StudioOf, user: Person = "") -> Response:
    """Show a code that lets one phone in; of a shared book, the phone of one of its users."""
    names = [each.name for each in users_of(studio.book)]
    if names and user not in names:
        raise InputError("user", user, "", "one of the book")
    if request.app.state.hosts:
        devices_of(request).invite(user if names else "")
    return RedirectResponse("/studio#phones", status_code=303)


@router.post("/withdraw", dependencies=[Depends(only_owner)])
def withdraw(request: Request) -> Response:
    """Close the code again."""
    devices_of(request).withdraw()
    return RedirectResponse("/studio#phones", status_code=303)


@router.post("/forget", dependencies=[Depends(only_owner)])
def forget(request: Request, device: Annotated[str, Form(max_length=60)]) -> Response:
    """Shut a phone out."""
    devices_of(request).forget(device)
    return RedirectResponse("/studio#phones", status_code=303)


@router.post("/user", dependencies=[Depends(only_owner)])
def new_user(
    request: Request, studio: StudioOf, visitor: VisitorOf, name: Person, role: Word
) -> Response:
    """Add a user to the book."""
    try:
        add_user(studio.book, name, role, at=datetime.now(UTC))
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), place="users")
    return RedirectResponse("/studio#users", status_code=303)


@router.post("/role", dependencies=[Depends(only_owner)])
def new_role(
    request: Request, studio: StudioOf, visitor: VisitorOf, name: Person, role: Word
) -> Response:
    """Give a user another role."""
    try:
        change_role(studio.book, name, role)
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), place="users")
    return RedirectResponse("/studio#users", status_code=303)


@router.post("/forget-user", dependencies=[Depends(only_owner)])
def drop_user(request: Request, studio: StudioOf, visitor: VisitorOf, name: Person) -> Response:
    """Take a user off the list, and shut out their phones."""
    try:
        forget_user(studio.book, name)
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), place="users")
    devices_of(request).forget_user(name)
    return RedirectResponse("/studio#users", status_code=303)


def _amount(what: str, text: str, studio: StudioOf) -> Decimal | None:
    if not text.strip():
        return None
    written = text.strip().replace(",", ".") if studio.look.decimal == "comma" else text.strip()
    try:
        return Decimal(written)
    except InvalidOperation:
        raise InputError(what, text[:40], "", "a number") from None


def _page(
    request: Request, studio: StudioOf, visitor: VisitorOf, *, fault: str = "", place: str = ""
) -> HTMLResponse:
    return show(
        request,
        "settings.html.j2",
        status=422 if fault else 200,
        here="settings",
        fault=fault,
        place=place,
        lengths=LENGTHS,
        decimals=DECIMALS,
        days=DAYS,
        walls=tuple(WALLS),
        kinds=LOT_KINDS,
        money=read_settings(studio.book),
        flasks=flasks(studio.book),
        folder=str(studio.folder) if visitor.is_laptop else "",
        shared=studio.book.place if visitor.is_laptop and studio.book.on_server else "",
        users=users_of(studio.book),
        roles=tuple(ROLES),
        on_server=studio.book.on_server,
        phones=devices_of(request).all() if visitor.is_owner else [],
        invitation=_invitation(request) if visitor.is_owner else None,
        lan=bool(request.app.state.hosts),
        moment=_day_of,
    )


def _day_of(written: str) -> str:
    return written[:10]


def _invitation(request: Request) -> dict[str, Any] | None:
    """Return what the laptop shows to a phone; None: nothing is open."""
    found = devices_of(request).open_invitation()
    hosts = request.app.state.hosts
    if found is None or not hosts:
        return None
    plain = f"http://{hosts[0]}:{getattr(request.app.state, 'port', 80)}/join"
    picture = segno.make(f"{plain}#{found.secret}", error="m")
    drawn = picture.svg_inline(scale=5, svgclass="qr", lineclass=None, omitsize=True)
    return {
        "address": plain,
        "code": f"{found.code[:4]} {found.code[4:]}",
        "picture": Markup(drawn),
        "name": say("settings.phones.picture"),
        "user": found.user,
    }
