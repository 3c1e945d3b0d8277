"""Pages: fill a page, and know who asks for it.

A router of the pages takes `StudioOf` and `VisitorOf` as arguments and ends
with ``return show(request, "name.html.j2", ...)``.  Each form holds
``{{ token }}``, and each script sends what `token_of` returns as the header
`TOKEN_HEADER`.
"""

import importlib.util
from collections.abc import Iterable
from functools import cache
from typing import Annotated, Any, cast

import jinja2
from fastapi import Depends, HTTPException, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup

from pourcast import __version__
from pourcast.app.guard import is_instrument
from pourcast.app.signing import Signer
from pourcast.app.statics import has_static, static_path
from pourcast.app.studio import Studio
from pourcast.app.visitor import Visitor
from pourcast.app.words import count, say
from pourcast.book.who import worth_saying
from pourcast.findings import in_100_draws
from pourcast.page.as_chosen import page_as_chosen
from pourcast.page.figures import clean, millimetres, number, unit_text, with_unit
from pourcast.page.names import unknown_name

MOST_FIELDS = 8000
"""Boxes of one form: a sheet of two hundred parts."""

TOKEN_FIELD = "token"
TOKEN_HEADER = "x-form-token"
NAV = (
    ("shelf", "/"),
    ("piece", "/piece"),
    ("day", "/day"),
    ("breakout", "/break-out"),
    ("book", "/book"),
    ("store", "/store"),
    ("tests", "/tests"),
    ("values", "/values"),
    ("settings", "/studio"),
)
"""Page and path; one whose router is not there is left out."""

_SHORT_NAV = 4
"""Pages in the first line on a phone; the others stand at the foot as well."""

_TOLD_IN_MM = frozenset(
    {"piece.html.j2", "first.html.j2", "cells.html.j2", "compare.html.j2", "compared.html.j2"}
)
"""Pages whose sentences come from the stages; the others write figures as chosen themselves."""

_FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


def studio_of(request: Request) -> Studio:
    """Return the studio that the pages are of."""
    return cast(Studio, request.app.state.studio)


def signer_of(request: Request) -> Signer:
    """Return what signs cookies and form tokens."""
    return cast(Signer, request.app.state.signer)


def visitor_of(request: Request) -> Visitor:
    """Return who asks, as the guard has found."""
    return cast(Visitor, request.scope["visitor"])


StudioOf = Annotated[Studio, Depends(studio_of)]
VisitorOf = Annotated[Visitor, Depends(visitor_of)]


def only_laptop(visitor: VisitorOf) -> None:
    """Refuse a phone where only the laptop may act."""
    if not visitor.is_laptop:
        raise HTTPException(403, say("guard.only_laptop"))


def only_owner(visitor: VisitorOf) -> None:
    """Refuse all but the laptop and the phones of owners of a shared book."""
    if not visitor.is_owner:
        raise HTTPException(403, say("guard.only_laptop"))


async def checked_form(request: Request) -> None:
    """Refuse a change whose form, or script, does not carry the token of its session."""
    if request.method in ("GET", "HEAD", "OPTIONS"):
        return
    if is_instrument(request.method, request.url.path, request.headers):
        # It brings the token of its day, which its route asks for.
        return
    token = request.headers.get(TOKEN_HEADER, "")
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if not token and kind in _FORMS:
        found = (await request.form(max_fields=MOST_FIELDS)).get(TOKEN_FIELD, "")
        token = found if isinstance(found, str) else ""
    if not signer_of(request).is_form_token(token, visitor_of(request).session):
        raise HTTPException(403, say("guard.token"))


def token_of(request: Request) -> str:
    """Return the token of this session, for a script."""
    return signer_of(request).form_token(visitor_of(request).session)


def show(
    request: Request, name: str, /, *, status: int = 200, here: str = "", **values: Any
) -> HTMLResponse:
    """Return a filled page.

    Parameters
    ----------
    request : Request
    name : str
        Of a file in ``templates``.
    status : int
    here : str
        Page of `NAV` that this one belongs to.
    values : object
        For the page, and ``kept_names`` of `fill`.
    """
    return HTMLResponse(fill(request, name, here=here, **values), status_code=status)


def fill(
    request: Request, name: str, /, *, here: str = "", kept_names: Iterable[str] = (), **values: Any
) -> str:
    """Return the text of a filled page, or of a part of one, with figures as chosen.

    Parameters
    ----------
    request : Request
    name : str
    here : str
    kept_names : iterable of str
        Names that the caster gave; no figure in them is turned.
    values : object
    """
    token = token_of(request)
    look = studio_of(request).look
    field = Markup('<input type="hidden" name="{}" value="{}">').format(TOKEN_FIELD, token)
    page = (
        shelf_of_templates()
        .get_template(name)
        .render(
            here=here,
            look=look,
            nav=nav(),
            token=field,
            token_text=token,
            visitor=visitor_of(request),
            **values,
        )
    )
    return page_as_chosen(page, look.chosen, kept_names) if name in _TOLD_IN_MM else page


@cache
def nav() -> tuple[tuple[str, str], ...]:
    """Return pages and paths of those pages that are there."""
    return tuple((page, path) for page, path in NAV if has_router(page))


def has_router(page: str) -> bool:
    """Return whether the file with the router of a page is there."""
    return importlib.util.find_spec(f"pourcast.app.routes_{page}") is not None


@cache
def shelf_of_templates() -> jinja2.Environment:
    """Return the templates, ready to be filled."""
    made = jinja2.Environment(
        loader=jinja2.PackageLoader("pourcast.app", "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals |= {
        "say": say,
        "count": count,
        "static": static_path,
        "has_static": has_static,
        "version": __version__,
        "worth_saying": worth_saying,
        "short_nav": _SHORT_NAV,
    }
    made.filters |= {
        "clean": clean,
        "in_100_draws": in_100_draws,
        "millimetres": millimetres,
        "number": number,
        "unit": unit_text,
        "with_unit": with_unit,
        "unknown_name": unknown_name,
    }
    return made
