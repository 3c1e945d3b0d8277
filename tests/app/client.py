"""A studio in an empty folder, and a browser that asks it without a socket."""

import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from fastapi import FastAPI

from pourcast.app.server import make_app
from pourcast.app.studio import Studio

with warnings.catch_warnings():
    # The test client asks for a successor of httpx that is not among our packages.
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

ADDRESS = "http://127.0.0.1:8760"
PHONE = "192.0.2.7"
"""An address that is kept for documents (RFC 5737)."""

LAN = "192.0.2.2"
EXAMPLES = Path(__file__).parents[2] / "examples"


def browser(app: FastAPI, *, base: str = ADDRESS, client: str = "127.0.0.1") -> TestClient:
    """Return a browser at an address; its own pages are those of ``base``."""
    return TestClient(
        app,
        base_url=base,
        client=(client, 50_000),
        headers={"origin": base},
        follow_redirects=False,
        raise_server_exceptions=True,
    )


@contextmanager
def opened(folder: Path, *, hosts: tuple[str, ...] = ()) -> Iterator[tuple[Studio, FastAPI]]:
    """Give a studio and its pages."""
    with Studio(folder) as studio:
        yield studio, make_app(studio, hosts=hosts)


def token(page: TestClient, path: str = "/new") -> str:
    """Return the form token that a page carries."""
    found = re.search(r'name="token" value="([^"]+)"', page.get(path).text)
    assert found is not None
    return found[1]


def example(name: str = "fern_crozier") -> str:
    """Return the text of one of our examples."""
    return (EXAMPLES / f"{name}.toml").read_text("utf-8")
