"""The door: who may ask, from which page, and how much at once.

What each attack is called, and that it must be refused, is common practice of the web (the
fetch standard, RFC 6454 on origins, RFC 9110 on status codes); no number is held against it.
"""

import asyncio
import os
import stat
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.types import Message, Receive, Scope, Send

from pourcast.app.devices import Devices
from pourcast.app.guard import MOST_BODY, POLICY, Guard, most_body
from pourcast.app.rates import Rates
from pourcast.app.roles import Roles
from pourcast.app.signing import KEY_FILE, Signer, read_key
from pourcast.book.store import open_book
from pourcast.errors import InputError
from tests.app.client import ADDRESS, LAN, PHONE, browser, opened, token

App = FastAPI


@pytest.fixture
def app(tmp_path: Path) -> Iterator[FastAPI]:
    with opened(tmp_path, hosts=(LAN,)) as (_, made):
        yield made


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "evil.example:8760",
        "127.0.0.1.evil.example",
        "evil@127.0.0.1",
        "127.0.0.1/evil",
        "127.0.0.1#evil",
        "",
    ],
)
def test_foreign_name_of_this_machine_is_refused(app: App, host: str) -> None:
    """RFC 9110, 15.5.20: 421, so that a name that is turned to this address reaches nothing."""
    answer = browser(app).get("/", headers={"host": host})

    assert answer.status_code == 421


@pytest.mark.parametrize("host", ["127.0.0.1:8760", "localhost:1", "LOCALHOST", "[::1]:9"])
def test_own_names_of_this_machine_are_let_in(app: App, host: str) -> None:
    assert browser(app).get("/new", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9"},
        {"origin": "file://127.0.0.1:8760"},
        {"origin": ""},
        {"origin": "http://[bad"},
    ],
)
def test_change_from_another_page_is_refused(app: App, headers: dict[str, str]) -> None:
    """RFC 6454: another scheme, host or port is another origin, and so is none at all."""
    page = browser(app)

    answer = page.post("/new", data={"token": token(page)}, headers=headers)

    assert answer.status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site", "none", None])
def test_change_without_origin_needs_a_page_of_the_same_origin(app: App, site: str | None) -> None:
    """Fetch metadata: only "same-origin" stands for the page itself."""
    page = browser(app)
    given = token(page)
    del page.headers["origin"]

    headers = {"sec-fetch-site": site} if site else {}

    assert page.post("/new", data={"token": given}, headers=headers).status_code == 403
    page.headers["sec-fetch-site"] = "same-origin"
    assert page.post("/new", data={"token": given}).status_code == 303


def test_form_without_its_token_changes_nothing(app: App, tmp_path: Path) -> None:
    page, other = browser(app), browser(app)
    foreign = token(other)
    token(page)

    for given in ("", "x.y.z", foreign):
        assert page.post("/new", data={"token": given}).status_code == 403
    assert not (tmp_path / "drafts").exists()


def test_token_may_come_in_a_header(app: App) -> None:
    page = browser(app)
    given = token(page)

    assert page.post("/new", headers={"x-form-token": given}).status_code == 303


def test_stranger_sees_nothing_but_the_page_to_join(app: App) -> None:
    phone = browser(app, base=f"http://{LAN}:8760", client=PHONE)

    answers = {path: phone.get(path).status_code for path in ("/", "/values", "/join")}

    assert answers == {"/": 401, "/values": 401, "/join": 200}


def test_forged_cookie_is_worth_nothing(app: App, tmp_path: Path) -> None:
    """A cookie that was signed with another key, or for a phone that is not on the list."""
    name = Signer(read_key(tmp_path)).cookie
    forged = Signer("0" * 64).session("s", "laptop")
    unknown = Signer(read_key(tmp_path)).session("s", "no-such-phone")
    stolen = Signer(read_key(tmp_path)).session("s", "laptop")

    for value in ("x.y.z", forged, unknown, stolen):
        phone = browser(app, base=f"http://{LAN}:8760", client=PHONE)
        assert phone.get("/", headers={"cookie": f"{name}={value}"}).status_code == 401


@pytest.mark.parametrize(
    "path",
    [
        "/static/../server.py",
        "/static/%2e%2e/server.py",
        "/static/..%2fserver.py",
        "/static/....//server.py",
        "/static/%2e%2e%5cserver.py",
        "/static/vendor/../app.css",
        "/piece/..%2f..%2fsigning_key/file",
        "/new/..%2fsigning_key",
    ],
)
def test_path_leads_out_of_nothing(app: App, path: str) -> None:
    answer = browser(app).get(path)

    assert answer.status_code in (404, 422)
    assert "pourcast" not in answer.headers.get("content-disposition", "")


def test_body_that_says_it_is_too_long_is_refused(app: App) -> None:
    page = browser(app)

    answer = page.post("/new", data={"token": token(page), "x": "x" * MOST_BODY})

    assert answer.status_code == 413


def test_body_that_does_not_say_its_length_is_cut_off(tmp_path: Path) -> None:
    """RFC 9112, 7.1: a chunked body has no length; it is counted as it comes, and not read on."""
    taken = 0
    told: list[Message] = []

    async def reads_on(scope: Scope, receive: Receive, send: Send) -> None:
        nonlocal taken
        while (message := await receive())["type"] == "http.request":
            taken += len(message["body"])
        await send({"type": "http.response.start", "status": 200, "headers": []})

    async def endless() -> Message:
        assert taken < 10 * MOST_BODY, "it reads on without end"
        return {"type": "http.request", "body": b"x" * 100_000, "more_body": True}

    async def hear(message: Message) -> None:
        told.append(message)

    signer, devices = Signer(read_key(tmp_path)), Devices(tmp_path)
    book = open_book(tmp_path)
    guard = Guard(
        reads_on,
        hosts=("127.0.0.1",),
        signer=signer,
        devices=devices,
        roles=Roles(book, devices),
    )
    named = {"host": "127.0.0.1:8760", "origin": "http://127.0.0.1:8760"}
    scope: Scope = {
        "type": "http",
        "method": "POST",
        "path": "/new",
        "client": ("127.0.0.1", 50_000),
        "headers": [(name.encode(), text.encode()) for name, text in named.items()],
    }

    # In a thread of its own: a browser of another test may hold a loop in this one.
    with ThreadPoolExecutor(1) as alone:
        alone.submit(lambda: asyncio.run(guard(scope, endless, hear))).result()

    book.close()
    assert taken == MOST_BODY
    assert told[0]["status"] == 413


def test_only_uploads_may_be_long() -> None:
    assert most_body("/upload/scan") > 50_000_000
    assert most_body("/uploads") == most_body("/") == MOST_BODY


def test_every_answer_carries_the_policy(app: App) -> None:
    """Content Security Policy level 3: no inline script or style, nothing from elsewhere."""
    page = browser(app)

    answers = [page.get("/"), page.get("/nothing"), page.get("/", headers={"host": "x"})]
    answers.append(page.post("/new"))

    assert "unsafe" not in POLICY
    assert "http" not in POLICY
    for answer in answers:
        assert answer.headers["content-security-policy"] == POLICY
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_cookie_is_out_of_reach_of_scripts_and_other_sites(app: App) -> None:
    said = browser(app).get("/").headers["set-cookie"]

    assert "HttpOnly" in said
    assert "SameSite=Strict" in said


@pytest.mark.skipif(os.name != "posix", reason="rights of this kind are of such systems")
def test_signing_key_is_readable_by_the_caster_alone(app: App, tmp_path: Path) -> None:
    del app
    path = tmp_path / KEY_FILE

    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    path.chmod(0o640)
    with pytest.raises(InputError, match="600"):
        read_key(tmp_path)


def test_signing_key_stays_the_same(tmp_path: Path) -> None:
    first = read_key(tmp_path)

    assert read_key(tmp_path) == first
    assert len(first) == 64


def test_device_that_asks_too_often_waits_and_no_other_does() -> None:
    """Three at once and one a second: the fourth waits, and is let in after a second."""
    now = 100.0
    rates = Rates(most=3, per_second=1.0, clock=lambda: now)

    first = [rates.takes("a") for _ in range(4)]
    other = rates.takes("b")
    now += 1.0
    later = [rates.takes("a"), rates.takes("a")]

    assert first == [True, True, True, False]
    assert other
    assert later == [True, False]


def test_stranger_who_asks_without_end_is_put_off_and_the_laptop_is_not(app: App) -> None:
    phone = browser(app, base=f"http://{LAN}:8760", client=PHONE)
    laptop = browser(app)

    told = {phone.get("/join").status_code for _ in range(80)}

    assert told == {200, 429}
    assert {laptop.get("/new").status_code for _ in range(80)} == {200}


def test_number_that_json_cannot_hold_is_refused_without_a_fault(app: App) -> None:
    """NaN is no JSON (RFC 8259, 6): the answer says the place, and not what came."""
    page = browser(app)

    answer = page.get("/?page=NaN", headers={"accept": "application/json"})

    assert answer.status_code == 422
    assert answer.json()["faults"][0]["place"] == "query.page"
    assert "NaN" not in answer.text


def test_fault_of_the_program_tells_nothing_of_its_inside(app: App) -> None:
    @app.get("/broken")
    def broken() -> None:
        raise RuntimeError("a secret")

    answer = browser(app).get("/broken")

    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert answer.headers["content-security-policy"] == POLICY


def test_page_asked_under_an_address_of_the_network_answers_a_joined_phone_only(app: App) -> None:
    invitation = app.state.devices.invite()
    base = f"http://{LAN}:8760"
    phone = browser(app, base=base, client=PHONE)

    joined = phone.post("/join", data={"token": token(phone, "/join"), "code": invitation.code})

    assert joined.status_code == 303
    assert phone.get("/new").status_code == 200
    assert ADDRESS not in phone.get("/new").text
