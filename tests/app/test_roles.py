"""Who may change what in a shared book, asked of every page that there is.

House rules.  The routes are taken from the application itself, so a page that is added
later is asked as well.
"""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa
from fastapi import FastAPI
from starlette.routing import Route

from pourcast.app import roles
from pourcast.app.devices import FILE as DEVICES
from pourcast.app.devices import Devices
from pourcast.app.roles import FOR_ALL, FOR_OWNERS, refusal
from pourcast.app.studio import Studio
from pourcast.app.visitor import LAPTOP
from pourcast.app.words import say
from pourcast.book import tables
from pourcast.book.days import keep_note
from pourcast.book.faults import BookError
from pourcast.book.users import add_user, change_role, forget_user
from pourcast.book.who import CASTER, acting
from tests.app.client import LAN, PHONE, browser, example, opened, token
from tests.book.conftest import AT, address, empty_book, kept, server, shared_database

__all__ = ["address", "empty_book", "server", "shared_database"]

CHANGES = ("POST", "PUT", "PATCH", "DELETE")
PAGES = f"http://{LAN}:8760"


@pytest.fixture(params=["file", "server"])
def pages(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[Studio, FastAPI]]:
    """Open a studio for phones, its book in a folder and on a server."""
    if request.param == "server":
        monkeypatch.setenv("POURCAST_BOOK", request.getfixturevalue("address"))
    with opened(tmp_path, hosts=(LAN,)) as made:
        yield made


def phone_of(app: FastAPI, user: str, at: str = PHONE) -> Any:
    """Return a phone that has joined as a user, by the code that the laptop shows."""
    laptop = browser(app)
    given = {"token": token(laptop, "/studio"), "user": user}
    assert laptop.post("/studio/invite", data=given).status_code == 303
    code = app.state.devices.open_invitation().code
    phone = browser(app, base=PAGES, client=at)
    answer = phone.post("/join", data={"token": token(phone, "/join"), "code": code, "name": "p"})
    assert answer.status_code == 303
    return phone


def changes(app: FastAPI) -> list[tuple[str, str]]:
    """Return method and path of every route that changes something."""

    def below(routes: list[Any]) -> Iterator[tuple[str, str]]:
        for route in routes:
            # The framework keeps the pages of a file together under what it was given.
            given = getattr(route, "original_router", None)
            inner = getattr(given, "routes", None)
            if inner:
                yield from below(inner)
            elif isinstance(route, Route):
                for method in sorted((route.methods or set()) & set(CHANGES)):
                    yield method, re.sub(r"{[^}]*}", "0" * 16, route.path)

    described = {
        (method.upper(), re.sub(r"{[^}]*}", "0" * 16, path))
        for path, acts in app.openapi()["paths"].items()
        for method in acts
        if method.upper() in CHANGES
    }
    # What is described has its whole path; what is not described is found among the routes.
    return sorted(described | set(below(list(app.routes))))


def rows(studio: Studio) -> dict[str, int]:
    with studio.book.reading() as connection:
        return {
            name: connection.execute(sa.select(sa.func.count()).select_from(table)).scalar_one()
            for name, table in tables.metadata.tables.items()
        }


def lying(studio: Studio) -> dict[str, bytes]:
    """Return every file of a studio but those of the database and of forecasts."""
    return {
        str(path.relative_to(studio.folder)): path.read_bytes()
        for path in studio.folder.rglob("*")
        if path.is_file() and not path.name.startswith(("book.db", "chance."))
    }


def people(studio: Studio) -> None:
    add_user(studio.book, "Ash", "owner", at=AT)
    add_user(studio.book, "Elm", "maker", at=AT)
    add_user(studio.book, "Fir", "reader", at=AT)


def test_routes_are_found(pages: tuple[Studio, FastAPI]) -> None:
    """The list that the next tests stand on is not empty and holds each kind of page."""
    found = changes(pages[1])
    assert len(found) >= 35
    for page in (
        "/studio/money",
        "/store/move",
        "/join",
        "/values/" + "0" * 16,
        f"/piece/{'0' * 16}/knob",
    ):
        assert ("POST", page) in found


def test_reader_changes_nothing_on_any_page(pages: tuple[Studio, FastAPI]) -> None:
    """Every route that is there; the answer is a page that says so in a sentence."""
    studio, app = pages
    studio.add(example())
    people(studio)
    phone = phone_of(app, "Fir")
    before, lay = rows(studio), lying(studio)
    given = {"token": token(phone, "/new")}
    for method, path in changes(app):
        if path in FOR_ALL:
            continue
        answer = phone.request(method, path, data=given)
        assert (answer.status_code, path) == (403, path)
        assert say("guard.reader") in answer.text

    assert rows(studio) == before
    assert lying(studio) == lay


def test_reader_sees_every_page_and_changes_nothing_by_looking(
    pages: tuple[Studio, FastAPI],
) -> None:
    studio, app = pages
    piece = studio.add(example()).id
    people(studio)
    phone = phone_of(app, "Fir")
    before = rows(studio)
    for path in (
        "/", f"/piece/{piece}", f"/piece/{piece}/texts", f"/piece/{piece}/file", "/day", "/book",
        "/store", "/tests", "/values", "/studio", "/break-out",
    ):  # fmt: skip
        answer = phone.get(path)
        assert (answer.status_code, path) == (200, path)
        if "html" in answer.headers["content-type"]:
            assert say("base.reader", name="Fir") in answer.text

    assert rows(studio) == before


def test_maker_is_refused_what_holds_for_the_studio_and_nothing_else(
    pages: tuple[Studio, FastAPI],
) -> None:
    studio, app = pages
    people(studio)
    phone = phone_of(app, "Elm")
    # A wrong token is told by the page itself, so the door has let it through.
    for method, path in changes(app):
        answer = phone.request(method, path, data={"token": "none"})
        theirs = any(path.startswith(first) for first in FOR_OWNERS)
        said = say("guard.owner_only") in answer.text
        assert (said, path) == (theirs, path)
        if theirs:
            assert answer.status_code == 403


def test_maker_makes_a_piece_and_its_rows_are_theirs(pages: tuple[Studio, FastAPI]) -> None:
    studio, app = pages
    people(studio)
    phone = phone_of(app, "Elm")
    files = {"file": ("fern.toml", example().encode(), "text/plain")}
    answer = phone.post("/upload/piece", data={"token": token(phone, "/new")}, files=files)
    assert answer.status_code == 303
    piece = studio.pieces.ids()[0]

    assert studio.pieces.read(piece).who == "Elm"


def test_owner_on_a_phone_says_who_may_do_what(pages: tuple[Studio, FastAPI]) -> None:
    studio, app = pages
    people(studio)
    phone = phone_of(app, "Ash")
    given = {"token": token(phone, "/studio")}

    assert phone.post("/studio/user", data={**given, "name": "Yew", "role": "maker"}).is_redirect
    assert phone.post("/studio/role", data={**given, "name": "Yew", "role": "reader"}).is_redirect
    assert phone.post("/studio/forget-user", data={**given, "name": "Yew"}).is_redirect
    with studio.book.reading() as connection:
        users = tables.users.c
        found = connection.execute(sa.select(users.name, users.who).order_by(users.name)).all()
    assert [name for name, _ in found] == ["Ash", "Elm", "Fir"]


def test_last_owner_stays_on_the_page_too(pages: tuple[Studio, FastAPI]) -> None:
    studio, app = pages
    people(studio)
    laptop = browser(app)
    given = {"token": token(laptop, "/studio"), "name": "Ash"}
    for act, more in (("role", {"role": "reader"}), ("forget-user", {})):
        answer = laptop.post(f"/studio/{act}", data={**given, **more})
        assert answer.status_code == 422
        assert "last owner" in answer.text


def test_role_holds_from_the_next_request_on(pages: tuple[Studio, FastAPI]) -> None:
    studio, app = pages
    people(studio)
    phone = phone_of(app, "Elm")
    given = {"token": token(phone, "/new")}
    assert phone.post("/new", data=given).status_code == 303

    change_role(studio.book, "Elm", "reader")
    assert phone.post("/new", data=given).status_code == 403
    change_role(studio.book, "Elm", "maker")
    assert phone.post("/new", data=given).status_code == 303


def test_who_is_forgotten_is_shut_out_at_once(pages: tuple[Studio, FastAPI]) -> None:
    """By the page of this machine, and by another machine that knows nothing of the phone."""
    studio, app = pages
    people(studio)
    by_page, by_other = phone_of(app, "Elm"), phone_of(app, "Fir", "192.0.2.8")
    assert by_page.get("/").status_code == by_other.get("/").status_code == 200

    laptop = browser(app)
    laptop.post("/studio/forget-user", data={"token": token(laptop, "/studio"), "name": "Elm"})
    forget_user(studio.book, "Fir")

    assert by_page.get("/").status_code == by_other.get("/").status_code == 401
    # One who is given the same name later is another person.
    add_user(studio.book, "Elm", "owner", at=AT)
    assert by_page.get("/").status_code == 401


def test_phone_from_before_there_were_users_only_looks(pages: tuple[Studio, FastAPI]) -> None:
    studio, app = pages
    app.state.devices.invite()
    code = app.state.devices.open_invitation().code
    phone = browser(app, base=PAGES, client=PHONE)
    phone.post("/join", data={"token": token(phone, "/join"), "code": code, "name": "old"})
    given = {"token": token(phone, "/new")}
    assert phone.post("/new", data=given).status_code == 303

    people(studio)

    assert phone.get("/").status_code == 200
    assert phone.post("/new", data=given).status_code == 403


def test_code_is_made_for_one_user_and_no_stranger(pages: tuple[Studio, FastAPI]) -> None:
    studio, app = pages
    people(studio)
    laptop = browser(app)
    given = {"token": token(laptop, "/studio")}

    assert laptop.post("/studio/invite", data={**given, "user": "Nobody"}).status_code == 422
    assert laptop.post("/studio/invite", data=given).status_code == 422
    assert app.state.devices.open_invitation() is None
    laptop.post("/studio/invite", data={**given, "user": "Elm"})
    assert say("settings.phones.for", name="Elm") in laptop.get("/studio").text


def test_code_of_one_user_is_not_given_to_another(tmp_path: Path) -> None:
    """An invitation that is still open is not turned into one of somebody else."""
    devices = Devices(tmp_path)
    first = devices.invite("Elm")
    second = devices.invite("Ash")

    assert first.code != second.code
    assert devices.join(first.code, "p", "a") is None
    joined = devices.join(second.code, "p", "a")
    assert joined is not None
    assert joined.user == "Ash"


def test_list_of_phones_from_before_is_read(tmp_path: Path) -> None:
    lines = [{"id": "x", "name": "old phone", "joined": "2026-03-01T09:30:00+00:00"}]
    (tmp_path / DEVICES).write_text(json.dumps(lines))

    found = Devices(tmp_path).get("x")
    assert found is not None
    assert found.user == ""


def test_single_caster_sees_none_of_it(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app).get("/studio").text
        assert say("settings.users") not in page
        piece = browser(app)
        assert piece.post("/new", data={"token": token(piece)}).status_code == 303
        with studio.book.reading() as connection:
            assert connection.execute(sa.select(tables.program.c.who)).scalars().all() == [CASTER]


def test_rows_that_a_phone_writes_are_of_its_user(pages: tuple[Studio, FastAPI]) -> None:
    """The name goes with the request, not with the thread: two phones in turn."""
    studio, app = pages
    people(studio)
    given = {"currency": "EUR"}
    ash = phone_of(app, "Ash")
    answer = ash.post("/studio/money", data={"token": token(ash, "/studio"), **given})
    assert answer.status_code == 303
    with studio.book.reading() as connection:
        who = tables.settings.c.who
        assert set(connection.execute(sa.select(who)).scalars()) == {"Ash"}
    laptop = browser(app)
    laptop.post("/studio/money", data={"token": token(laptop, "/studio"), "currency": "CHF"})
    with studio.book.reading() as connection:
        assert "Ash" not in set(connection.execute(sa.select(who)).scalars())


@pytest.mark.parametrize(
    ("role", "path", "said"),
    [
        ("", "/studio/money", None),
        ("owner", "/studio/money", None),
        ("maker", "/studio/money", "guard.owner_only"),
        ("maker", "/studiox", None),
        ("maker", "/values/x/drop", "guard.owner_only"),
        ("maker", "/store/move", None),
        ("reader", "/store/move", "guard.reader"),
        ("reader", "/join", None),
        ("reader", "/joiner", "guard.reader"),
        ("some role of a later version", "/store/move", "guard.reader"),
    ],
)
def test_refusal_of_a_change(role: str, path: str, said: str | None) -> None:
    assert refusal(role, path) == said


def test_laptop_is_no_name_of_a_phone(tmp_path: Path) -> None:
    """A phone cannot be joined under the word that stands for this machine."""
    assert Devices(tmp_path).get(LAPTOP) is None


def test_server_that_is_gone_is_told_on_the_page(
    pages: tuple[Studio, FastAPI], monkeypatch: pytest.MonkeyPatch
) -> None:
    studio, app = pages
    people(studio)
    phone = phone_of(app, "Elm")

    def gone(*asked: object) -> None:
        raise BookError("the server of the book does not answer")

    monkeypatch.setattr(roles, "role_of", gone)
    answer = phone.get("/")
    assert answer.status_code == 503
    assert say("guard.no_book") in answer.text


def test_two_on_one_piece_are_told_who_and_both_texts_stay(
    pages: tuple[Studio, FastAPI],
) -> None:
    """The page shows both, who was first, and what changed; the later text is kept aside."""
    studio, app = pages
    piece = studio.add(example())
    people(studio)
    elm, ash = phone_of(app, "Elm"), phone_of(app, "Ash", "192.0.2.8")
    first = piece.text.replace("name =", "# by Elm\nname =", 1)
    second = piece.text.replace("name =", "# by Ash\nname =", 1)
    path = f"/piece/{piece.id}/text"
    first_kept = elm.post(path, data={"token": token(elm, "/new"), "base": 1, "text": first})
    told = ash.post(path, data={"token": token(ash, "/new"), "base": 1, "text": second})

    assert first_kept.status_code == 303
    assert told.status_code == 409
    assert "Elm kept text 2 on" in told.text
    assert "+ # by Elm" in told.text
    assert "# by Ash" in told.text
    assert studio.piece(piece.id).text == first
    aside = studio.pieces.asides(piece.id)
    assert [(each.text, each.who, each.revision) for each in aside] == [(second, "Ash", 1)]
    texts = ash.get(f"/piece/{piece.id}/texts").text
    assert say("texts.asides") in texts
    assert "# by Ash" in texts
    assert say("texts.by", who="Elm") in texts


def test_note_of_the_book_says_who(pages: tuple[Studio, FastAPI]) -> None:
    studio, _ = pages
    with acting("Elm"):
        plan = kept(studio.book)
        note = keep_note(studio.book, plan.piece_id, "x", at=AT)
    assert (plan.who, note.who) == ("Elm", "Elm")
