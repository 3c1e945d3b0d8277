"""Users of a shared book: the first is an owner, and one owner always is there.

House rules, on both stores.
"""

import threading

import pytest

from pourcast.book.store import Book
from pourcast.book.users import add_user, change_role, forget_user, has_users, role_of, users_of
from pourcast.errors import InputError
from tests.book.conftest import AT


def test_book_of_one_caster_has_no_users(book: Book) -> None:
    assert not has_users(book)
    assert users_of(book) == ()
    assert role_of(book, "Ash") is None


def test_users_are_added_changed_and_forgotten(book: Book) -> None:
    add_user(book, "Ash", "owner", at=AT)
    add_user(book, "  Elm   Tree ", "maker", at=AT)
    change_role(book, "Elm Tree", "reader")

    assert [(user.name, user.role) for user in users_of(book)] == [
        ("Ash", "owner"),
        ("Elm Tree", "reader"),
    ]
    forget_user(book, "Elm Tree")
    assert [user.name for user in users_of(book)] == ["Ash"]


def test_first_user_must_be_an_owner(book: Book) -> None:
    with pytest.raises(InputError, match="role of the first user is reader"):
        add_user(book, "Elm", "reader", at=AT)
    assert not has_users(book)


def test_last_owner_stays(book: Book) -> None:
    add_user(book, "Ash", "owner", at=AT)
    add_user(book, "Elm", "maker", at=AT)

    for act in (
        lambda: change_role(book, "Ash", "maker"),
        lambda: forget_user(book, "Ash"),
    ):
        with pytest.raises(InputError, match="last owner"):
            act()
    change_role(book, "Elm", "owner")
    forget_user(book, "Ash")
    assert [user.name for user in users_of(book)] == ["Elm"]


@pytest.mark.parametrize(
    ("name", "role", "said"),
    [
        ("", "owner", "name of the user"),
        ("x" * 61, "owner", "1 to 60 signs"),
        ("ash", "maker", "nobody has yet"),
        ("Elm", "king", "one of owner, maker, reader"),
    ],
)
def test_user_that_cannot_be_is_refused(book: Book, name: str, role: str, said: str) -> None:
    add_user(book, "Ash", "owner", at=AT)

    with pytest.raises(InputError, match=said):
        add_user(book, name, role, at=AT)


def test_two_owners_that_step_down_at_once_leave_one(book: Book) -> None:
    """Made to fail: each sees the other as the owner that stays, unless they wait their turn."""
    add_user(book, "Ash", "owner", at=AT)
    add_user(book, "Elm", "owner", at=AT)
    told: list[str] = []
    together = threading.Barrier(2)

    def step_down(name: str) -> None:
        together.wait()
        try:
            change_role(book, name, "reader")
        except InputError as fault:
            told.append(str(fault))

    for _ in range(12):
        for name in ("Ash", "Elm"):
            change_role(book, name, "owner")
        threads = [threading.Thread(target=step_down, args=(name,)) for name in ("Ash", "Elm")]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert [user.role for user in users_of(book)].count("owner") == 1
    assert len(told) == 12
