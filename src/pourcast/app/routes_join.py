"""Join: how a phone is let in, by the code that the laptop shows or its picture."""

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.devices import Devices
from pourcast.app.guard import set_cookie
from pourcast.app.pages import VisitorOf, show, signer_of
from pourcast.errors import InputError

router = APIRouter()


def devices_of(request: Request) -> Devices:
    """Return the joined phones."""
    found: Devices = request.app.state.devices
    return found


@router.get("/join")
def ask(request: Request, visitor: VisitorOf) -> HTMLResponse:
    """Return the page that asks a phone for the code; a script fills in what follows #."""
    return _page(request, visitor, status=200, wrong=False)


@router.post("/join")
def join(
    request: Request,
    visitor: VisitorOf,
    code: Annotated[str, Form(max_length=100)] = "",
    name: Annotated[str, Form(max_length=60)] = "",
) -> Response:
    """Let a phone in for the right code, once."""
    try:
        device = devices_of(request).join(code, name, visitor.address)
    except InputError:
        return _page(request, visitor, status=429, wrong=True)
    if device is None:
        return _page(request, visitor, status=403, wrong=True)
    done = RedirectResponse("/", status_code=303)
    done.headers["set-cookie"] = set_cookie(signer_of(request), visitor.session, device.id)
    return done


def _page(request: Request, visitor: VisitorOf, *, status: int, wrong: bool) -> HTMLResponse:
    return show(
        request,
        "join.html.j2",
        status=status,
        wrong=wrong,
        left=max(0, devices_of(request).tries_left(visitor.address)),
        joined=bool(visitor.device),
    )
