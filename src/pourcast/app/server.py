"""Server: all pages of one studio as one application.

A page is a file ``routes_<page>.py`` with a ``router``; one that is not there
is left out, here and in the line of pages.
"""

import importlib
import os
from collections.abc import Collection

# The web framework can report what it does to a collector; ours reports nothing.
os.environ["FASTAPI_OTEL_AUTO_CONFIGURE"] = "false"

from fastapi import Depends, FastAPI
from fastapi.responses import Response
from starlette.middleware.gzip import GZipMiddleware

from pourcast import __version__
from pourcast.app import answers
from pourcast.app.devices import Devices
from pourcast.app.guard import LOOPBACK, Guard
from pourcast.app.pages import checked_form, has_router
from pourcast.app.roles import Roles
from pourcast.app.signing import Signer, read_key
from pourcast.app.statics import FOREVER, find_static
from pourcast.app.studio import Studio

ROUTERS = (
    "join",
    "shelf",
    "new",
    "upload",
    "taken",
    "texts",
    "piece",
    "compare",
    "day",
    "breakout",
    "book",
    "store",
    "tests",
    "values",
    "settings",
)
"""Pages in the order in which their paths are tried."""

_SMALLEST_ZIPPED = 1000  # bytes


def make_app(studio: Studio, *, hosts: Collection[str] = ()) -> FastAPI:
    """Return the pages of a studio.

    Parameters
    ----------
    studio : Studio
        Stays open for as long as the pages are served.
    hosts : collection of str
        Addresses of this machine beside its own loopback under which phones ask.

    Returns
    -------
    FastAPI
    """
    app = FastAPI(
        title="pourcast",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        dependencies=[Depends(checked_form)],
    )
    app.state.studio = studio
    app.state.signer = Signer(read_key(studio.folder))
    app.state.devices = Devices(studio.folder)
    app.state.hosts = tuple(hosts)
    answers.add_to(app)
    app.add_api_route("/static/{name:path}", _static, methods=["GET"], include_in_schema=False)
    for page in ROUTERS:
        if has_router(page):
            app.include_router(importlib.import_module(f"pourcast.app.routes_{page}").router)
    # The last that is added stands outermost.
    app.add_middleware(GZipMiddleware, minimum_size=_SMALLEST_ZIPPED)
    app.add_middleware(
        Guard,
        hosts=(*LOOPBACK, *hosts),
        signer=app.state.signer,
        devices=app.state.devices,
        roles=Roles(studio.book, app.state.devices),
    )
    return app


def _static(name: str) -> Response:
    found = find_static(name)
    if found is None:
        return Response(status_code=404)
    return Response(found.content, media_type=found.media_type, headers={"cache-control": FOREVER})
