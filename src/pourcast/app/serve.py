"""Serve: open the studio, find a port, and answer until the caster ends it."""

import contextlib
import socket
import sys
import threading
import time
import webbrowser
from collections.abc import Callable
from pathlib import Path

import segno
import uvicorn

from pourcast.app.connections import Connection
from pourcast.app.devices import Devices
from pourcast.app.pages import shelf_of_templates
from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.app.words import say
from pourcast.errors import InputError
from pourcast.forecast.solve import forecast
from pourcast.kernels import cache_folder
from pourcast.sheet import new_sheet, read_plan

HERE = "127.0.0.1"
PACKAGE = "pourcast"
USUAL_PORT = 8760
"""Tried first, so that a phone finds the laptop again; own choice."""

_NEXT_FORMS = ("piece.html.j2", "first.html.j2", "cells.html.j2")
"""Of the page of a piece: a tenth of a second to read."""

_FIRST_PAGE = 1.0  # s that the first page has for itself; own choice

_WAIT_FOR_END = 5  # s, for answers that are under way


def serve(
    text: str | None,
    *,
    folder: Path | None,
    lan: bool,
    port: int | None,
    browser: bool,
    threads: int,
    write: Callable[[str], None],
    address: str | None = None,
) -> None:
    """Serve the pages of a studio until the program is ended.

    Parameters
    ----------
    text : str or None
        A piece file that goes on the shelf first; its page is then opened.
    folder : Path or None
        None: that of the system.
    lan : bool
        True: phones on the same network may join.
    port : int or None
        None: the usual one, or one that is free.
    browser : bool
        True: open the browser of this machine.
    threads : int
    write : callable
        Takes what the terminal says.
    address : str or None
        Of a book on a server; None: what the environment or the folder says.

    Raises
    ------
    InputError
        If the port is taken or the folder cannot be used.
    SheetError
        If the piece file has a fault.
    """
    with Studio(folder, threads=threads, address=address) as studio:
        path = "/"
        if text is not None:
            path = f"/piece/{studio.take_in(text).id}"
        addresses = own_addresses() if lan else ()
        app = make_app(studio, hosts=addresses)
        with _bound("0.0.0.0" if lan else HERE, port) as bound:
            number = int(bound.getsockname()[1])
            app.state.port = number
            page = f"http://{HERE}:{number}{path}"
            write(say("serve.at", address=page) + "\n")
            if studio.book.on_server:
                write(say("serve.book", place=studio.book.place) + "\n")
            if lan:
                _say_how_to_join(addresses, number, app.state.devices, write)
            write(say("serve.end") + "\n")
            if not cache_folder("pour").exists():
                write(say("serve.first") + "\n")
            threading.Thread(target=_warm, daemon=True).start()
            if browser:
                # Connections wait in the socket until the pages are ready.
                threading.Thread(target=webbrowser.open, args=(page,), daemon=True).start()
            server = uvicorn.Server(
                uvicorn.Config(
                    app,
                    http=Connection,
                    log_level="warning",
                    access_log=False,
                    proxy_headers=False,
                    server_header=False,
                    timeout_graceful_shutdown=_WAIT_FOR_END,
                )
            )
            # Ctrl-C is how the caster ends it; nothing is wrong then.
            with contextlib.suppress(KeyboardInterrupt):
                server.run(sockets=[bound])


def _warm() -> None:
    """Make ready what the page of a piece needs, once the first page had its time."""
    time.sleep(_FIRST_PAGE)
    for name in _NEXT_FORMS:
        shelf_of_templates().get_template(name)
    forecast(read_plan(new_sheet(PACKAGE)), draws=1)


def own_addresses() -> tuple[str, ...]:
    """Return the addresses of this machine on its networks."""
    found: dict[str, None] = {}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: it only asks the system which way out it would take.
            probe.connect(("192.0.2.1", 9))
            found[probe.getsockname()[0]] = None
        except OSError:
            pass
    try:
        for entry in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            found[str(entry[4][0])] = None
    except OSError:
        pass
    return tuple(address for address in found if not address.startswith("127."))


def join_address(host: str, port: int, secret: str) -> str:
    """Return the address that a phone is pointed at; what follows # is never sent."""
    return f"http://{host}:{port}/join#{secret}"


def _bound(host: str, port: int | None) -> socket.socket:
    last: OSError | None = None
    for number in (USUAL_PORT, 0) if port is None else (port,):
        bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if sys.platform != "win32":
            bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            bound.bind((host, number))
        except OSError as fault:
            bound.close()
            last = fault
        else:
            # From now on who asks waits, until the pages are ready.
            bound.listen()
            return bound
    why = last.strerror if last else ""
    raise InputError("port", port, "", f"one that is free ({why})", "Leave --port out.")


def _say_how_to_join(
    addresses: tuple[str, ...], port: int, devices: Devices, write: Callable[[str], None]
) -> None:
    if not addresses:
        write(say("serve.no_network") + "\n")
        return
    invitation = devices.invite()
    address = join_address(addresses[0], port, invitation.secret)
    if sys.stdout.isatty():
        segno.make(address, error="m").terminal(compact=True)
    write(
        say(
            "serve.join",
            plain=f"http://{addresses[0]}:{port}/join",
            code=f"{invitation.code[:4]} {invitation.code[4:]}",
        )
        + "\n"
        + say("serve.care")
        + "\n"
    )
