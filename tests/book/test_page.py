"""The page of the book says what the program has."""

from pathlib import Path

from pourcast.book.kinds import NAME_LENGTH, NOTE_LENGTH
from pourcast.book.pictures import MOST_BYTES
from pourcast.book.settings import MARGIN
from pourcast.book.sqlite import WAIT_S
from pourcast.book.words import BUTTONS, SIGNS, SURE

PAGE = (Path(__file__).parents[2] / "docs" / "book.md").read_text(encoding="utf-8")


def test_page_lists_each_sign_with_its_meaning() -> None:
    assert [sign for sign, what in SIGNS.items() if f"| `{sign}` | {what} |" not in PAGE] == []


def test_page_tells_the_limits_and_words_that_hold() -> None:
    plain = " ".join(PAGE.split())

    for said in (
        f"{NAME_LENGTH} signs",
        f"{NOTE_LENGTH:,} signs".replace(",", " "),
        f"{MOST_BYTES // 10**6} MB",
        f"{WAIT_S:.0f} s",
        f"The margin is {MARGIN}",
        f"({', '.join(BUTTONS)})",
        ", ".join(SURE),
        f"({', '.join(f'{value:g}' for value in SURE.values())}; estimates",
    ):
        assert said in plain
