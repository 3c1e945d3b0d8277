"""No request leaves the machine: each page is made with the network cut and names no other host.

House rule, so no outside number is held against it.
"""

import importlib.resources
import os
import re
import socket
from pathlib import Path
from typing import NoReturn

import pytest

from pourcast.app.statics import PAGE_STYLE, find_static, static_path
from tests.app.client import browser, example, opened, token

_OWN_NAMES = ("http://www.w3.org/",)  # names of formats, which nothing fetches


class NetworkCutError(OSError):
    """Raised where the program reaches for the network."""


@pytest.fixture
def network_cut(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make every way out of the machine fail."""

    def cut(*_: object, **__: object) -> NoReturn:
        raise NetworkCutError("the network is cut")

    for name in ("connect", "connect_ex", "sendto"):
        monkeypatch.setattr(socket.socket, name, cut)
    for name in ("create_connection", "getaddrinfo", "gethostbyname"):
        monkeypatch.setattr(socket, name, cut)


def test_cut_is_felt(network_cut: None) -> None:
    """Made to fail: a look-up and a connection are both refused."""
    with pytest.raises(NetworkCutError):
        socket.getaddrinfo("localhost", 80)
    with socket.socket() as probe, pytest.raises(NetworkCutError):
        probe.connect(("127.0.0.1", 9))


def test_every_page_is_made_with_the_network_cut_and_leads_nowhere_else(
    tmp_path: Path, network_cut: None
) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example())
        studio.keep_in_book(piece.id)
        page = browser(app)
        given = token(page)
        sheet = page.post("/new", data={"token": given}).headers["location"]
        todo = ["/", sheet, f"/piece/{piece.id}/texts", f"/shelf/{piece.id}/tag", "/join"]
        seen: set[str] = set()
        while todo:
            path = todo.pop()
            if path in seen or len(seen) > 80:
                continue
            seen.add(path)
            answer = page.get(path, follow_redirects=True)
            assert answer.status_code == 200, path
            text = answer.text
            for found in re.findall(r"""(?:https?:)?//[^\s"'<>]+""", text):
                assert found.startswith(_OWN_NAMES), (path, found)
            links = re.findall(r'(?:href|src)="(/[^"#]*)', text)
            todo += [link for link in links if _can_be_read(link)]
        assert {"/", "/values", "/book", "/store", "/studio", "/upload", "/new"} <= seen


def _can_be_read(link: str) -> bool:
    acts = ("/keep", "/text", "/back", "/drop", "/buy", "/move", "/look", "/money", "/flask")
    kept_out = ("/from-book/", "/studio/", "/upload/", "/events", "/stream")
    return (
        not link.startswith("/static/vendor")
        and not link.endswith(acts)
        and not any(part in link for part in kept_out)
        and not re.fullmatch(r"/(piece|break-out)/[0-9a-z]+/.+", link)
    )


def test_nothing_is_reported_to_anyone() -> None:
    """The web framework can send traces; it is told not to before it is loaded."""
    assert os.environ["FASTAPI_OTEL_AUTO_CONFIGURE"] == "false"


def test_styles_and_scripts_are_named_by_their_content_and_fetch_nothing_from_elsewhere() -> None:
    style = find_static(static_path(PAGE_STYLE).removeprefix("/static/"))
    own = find_static(static_path("app.css").removeprefix("/static/"))

    for found in (style, own):
        assert found is not None
        assert b"url(" not in found.content
        assert b"@import" not in found.content
    assert re.fullmatch(r"/static/app\.[0-9a-f]{12}\.css", static_path("app.css"))
    assert find_static("app.css") is None


def test_no_template_holds_a_style_or_a_script_of_its_own() -> None:
    """The policy would refuse both."""
    folder = importlib.resources.files("pourcast.app").joinpath("templates")
    for entry in folder.iterdir():
        text = entry.read_text("utf-8")
        assert not re.search(r"\sstyle=|<style|\son[a-z]+=", text), entry.name
        assert not re.search(r"<script(?![^>]*\bsrc=)[^>]*>\s*[^<\s]", text), entry.name
