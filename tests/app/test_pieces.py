"""Pieces: no text is lost, and of two devices the later one is told.

House rules, so no outside number is held against them.
"""

import json
import threading
from pathlib import Path

import pytest

from pourcast.app.faults import ConflictError, NotThereError
from pourcast.app.keep import create_text, replace_text
from pourcast.app.pieces import Pieces
from pourcast.app.studio import Studio
from pourcast.errors import SheetError
from tests.app.client import browser, example, opened, token

CHANGED = "# changed\n"


@pytest.fixture
def pieces(tmp_path: Path) -> Pieces:
    return Pieces(tmp_path / "pieces")


def test_each_text_is_kept_and_the_newest_stands(pieces: Pieces) -> None:
    first = pieces.add("a")

    second = pieces.save(first.id, "b", base=first.revision)

    assert (second.revision, second.text) == (2, "b")
    assert pieces.read(first.id).text == "b"
    assert [kept.text for kept in pieces.earlier(first.id)] == ["b", "a"]


def test_same_text_again_makes_no_new_one(pieces: Pieces) -> None:
    first = pieces.add("a")

    assert pieces.save(first.id, "a", base=1).revision == 1


def test_later_of_two_changes_is_told_and_writes_nothing(pieces: Pieces) -> None:
    first = pieces.add("a")
    pieces.save(first.id, "theirs", base=1)

    with pytest.raises(ConflictError) as told:
        pieces.save(first.id, "yours", base=1)

    assert (told.value.yours, told.value.theirs) == ("yours", "theirs")
    assert (told.value.base, told.value.revision) == (1, 2)
    assert pieces.read(first.id).text == "theirs"


def test_of_many_changes_at_once_one_is_kept_and_all_others_are_told(pieces: Pieces) -> None:
    first = pieces.add("a")
    told: list[str] = []
    gate = threading.Barrier(8)

    def change(number: int) -> None:
        gate.wait()
        try:
            pieces.save(first.id, f"text {number}", base=1)
        except ConflictError:
            told.append("conflict")
        else:
            told.append("kept")

    threads = [threading.Thread(target=change, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert sorted(told) == ["conflict"] * 7 + ["kept"]
    assert len(pieces.earlier(first.id)) == 2


@pytest.mark.parametrize("wrong", ["", "..", "../../etc", "0" * 15, "0" * 17, "O" * 16, "x/y"])
def test_id_that_is_none_leads_nowhere(pieces: Pieces, wrong: str) -> None:
    with pytest.raises(NotThereError):
        pieces.read(wrong)


def test_text_is_whole_or_not_there(tmp_path: Path) -> None:
    path = tmp_path / "a" / "text"

    create_text(path, "first")
    with pytest.raises(FileExistsError):
        create_text(path, "second")
    assert path.read_text("utf-8") == "first"
    replace_text(path, "third")

    assert path.read_text("utf-8") == "third"
    assert [entry.name for entry in path.parent.iterdir()] == ["text"]


def test_piece_file_of_a_known_name_becomes_the_newest_text(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        first = studio.take_in(example())

        second = studio.take_in(CHANGED + example())
        other = studio.take_in(example("dragonfly"))

        assert second.id == first.id
        assert second.revision == 2
        assert other.id != first.id


def test_text_with_a_fault_is_never_kept(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        first = studio.add(example())

        with pytest.raises(SheetError):
            studio.save(first.id, "name = 3", base=1)

        assert studio.piece(first.id).revision == 1


def test_plan_of_a_piece_goes_to_one_piece_of_the_book(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        first = studio.add(example())

        kept = studio.keep_in_book(first.id)
        again = studio.keep_in_book(first.id)

        assert kept.piece_id == again.piece_id
        assert kept.sheet == example()


def test_two_devices_that_change_one_piece_the_later_sees_both_texts(tmp_path: Path) -> None:
    """RFC 9110, 15.5.10: 409, with enough to see the conflict."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example())
        laptop, phone = browser(app), browser(app)
        mine, theirs = "# mine\n" + example(), "# theirs\n" + example()
        at = f"/piece/{piece.id}/text"
        first = phone.post(at, data={"token": token(phone), "base": "1", "text": theirs})

        told = laptop.post(at, data={"token": token(laptop), "base": "1", "text": mine})

        assert first.status_code == 303
        assert told.status_code == 409
        assert "# mine" in told.text
        assert "# theirs" in told.text
        assert studio.piece(piece.id).text == theirs
        put = {"token": token(laptop), "base": "2", "text": mine}
        assert laptop.post(at, data=put).status_code == 303
        assert [kept.text for kept in studio.pieces.earlier(piece.id)] == [mine, theirs, example()]


def test_script_that_comes_too_late_is_told_in_json(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example())
        studio.save(piece.id, CHANGED + example(), base=1)
        page = browser(app)
        data = {"token": token(page), "base": "1", "text": "# mine\n" + example()}

        told = page.post(
            f"/piece/{piece.id}/text", data=data, headers={"accept": "application/json"}
        )

        assert told.status_code == 409
        assert told.json()["revision"] == 2
        assert told.json()["theirs"].startswith(CHANGED)


def test_earlier_text_is_put_back_as_a_new_one(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example())
        studio.save(piece.id, CHANGED + example(), base=1)
        page = browser(app)

        page.post(f"/piece/{piece.id}/back", data={"token": token(page), "base": "2", "to": "1"})

        assert studio.piece(piece.id).revision == 3
        assert studio.piece(piece.id).text == example()


def test_text_with_faults_comes_back_with_them_and_what_was_typed(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example())
        page = browser(app)
        typed = example().replace("[flask]", "[flasc]")

        told = page.post(
            f"/piece/{piece.id}/text", data={"token": token(page), "base": "1", "text": typed}
        )

        assert told.status_code == 422
        assert "[flasc]" in told.text
        assert "did you mean flask?" in told.text
        assert studio.piece(piece.id).revision == 1


def test_chance_that_was_worked_out_is_known_after_a_new_start(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        piece = studio.add(example())
        assert studio.known_chance(piece) is None
        chance = studio.chance(piece)
    with Studio(tmp_path) as again:
        assert again.known_chance(again.piece(piece.id)) == chance
        again.own.put("pour.film_factor", value=1.9, low=1.8, high=2.0, note="measured")
        assert again.known_chance(again.piece(piece.id)) is None


def test_note_beside_a_piece_that_is_broken_is_not_read_as_a_chance(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        piece = studio.add(example())

        studio.pieces.note(piece.id, "chance.json", json.dumps({"of": "other", "chance": 1.0}))

        assert studio.known_chance(piece) is None
