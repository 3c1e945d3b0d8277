"""Photographs: kept under the hash of their content, told by their first bytes."""

import errno
import hashlib
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.book import pictures
from pourcast.book.faults import BookError
from pourcast.book.model import KeptPlan
from pourcast.book.pictures import (
    keep_photograph,
    kind_of,
    photographs_of,
    picture_path,
    read_file,
)
from pourcast.book.store import PICTURES, Book
from pourcast.errors import InputError
from tests.book.conftest import AT, in_a_file

PNG = bytes.fromhex("89504e470d0a1a0a") + b"not a whole picture"
JPG = bytes.fromhex("ffd8ffe0") + b"JFIF"
WEBP = b"RIFF\x10\x00\x00\x00WEBPVP8 "


@pytest.mark.parametrize(
    ("content", "kind"),
    [(PNG, "png"), (JPG, "jpg"), (WEBP, "webp")],
)
def test_kind_is_told_by_the_first_bytes(content: bytes, kind: str) -> None:
    """Published: PNG (W3C 2003) 5.2, ITU-T T.81 (1992) annex B, RFC 9649 (2024) 2.4."""
    assert kind_of(content) == kind


@pytest.mark.parametrize(
    "content",
    [b"", b"<svg onload=x>", b"GIF89a", b"%PDF-1.7", b"RIFF\x10\x00\x00\x00WAVE", PNG[:7], b"MZ"],
)
def test_what_is_no_picture_is_refused(content: bytes) -> None:
    with pytest.raises(InputError, match="a PNG, JPEG or WebP file"):
        kind_of(content)


def test_file_that_is_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pictures, "MOST_BYTES", 20)

    with pytest.raises(InputError, match="MB or less"):
        kind_of(PNG)


@in_a_file
@pytest.mark.parametrize(
    "name", ["../../../etc/cron.d/x", "..\\..\\x.png", "/etc/passwd", "a/b.png", "'; --.png", ""]
)
def test_name_never_becomes_part_of_a_path(book: Book, plan: KeptPlan, name: str) -> None:
    """House rule: the file lies under the hash of its content, whatever it was called."""
    made = keep_photograph(book, PNG, name, piece_id=plan.piece_id, at=AT)
    lying = [path.name for path in (book.folder / PICTURES).iterdir()]

    assert lying == [f"{hashlib.sha256(PNG).hexdigest()}.png"]
    assert "/" not in made.original_name
    assert ".." not in made.original_name
    assert read_file(book, made) == PNG
    assert photographs_of(book, plan.piece_id) == (made,)


@in_a_file
def test_same_picture_twice_lies_once(book: Book, plan: KeptPlan) -> None:
    for name in ("one.jpg", "two.jpg"):
        keep_photograph(book, JPG, name, piece_id=plan.piece_id, at=AT)

    assert len(list((book.folder / PICTURES).iterdir())) == 1
    names = {kept.original_name for kept in photographs_of(book, plan.piece_id)}
    assert names == {"one.jpg", "two.jpg"}


@in_a_file
def test_picture_that_was_changed_or_is_gone_is_told(book: Book, plan: KeptPlan) -> None:
    made = keep_photograph(book, WEBP, "x.webp", piece_id=plan.piece_id, at=AT)
    path = picture_path(book.folder, made.sha256, made.kind)
    path.write_bytes(WEBP + b"!")

    with pytest.raises(InputError, match="it has been changed"):
        read_file(book, made)
    path.unlink()
    with pytest.raises(InputError, match="a file that can be read"):
        read_file(book, made)


@in_a_file
def test_full_disk_keeps_neither_the_picture_nor_its_entry(
    book: Book, plan: KeptPlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX: ENOSPC may come as late as the flush."""

    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BookError, match="the disk is full"):
        keep_photograph(book, PNG, "x.png", piece_id=plan.piece_id, at=AT)

    assert photographs_of(book, plan.piece_id) == ()
    assert list((book.folder / PICTURES).iterdir()) == []


def test_picture_of_no_piece_is_refused(book: Book) -> None:
    with pytest.raises(InputError, match="stands in the book"):
        keep_photograph(book, PNG, "x.png", piece_id="zzzzzz", at=AT)
    assert not (book.folder / PICTURES).exists()


@given(sha256=st.text(max_size=70), kind=st.sampled_from(("png", "jpg", "webp", "../x", "png/..")))
def test_path_is_built_of_a_hash_and_a_known_kind_alone(sha256: str, kind: str) -> None:
    """A damaged or hostile export may hold any text where a hash should stand."""
    folder = Path("book")
    try:
        path = picture_path(folder, sha256, kind)
    except InputError:
        return
    assert path.parent == folder / PICTURES
    assert path.name == f"{sha256}.{kind}"
    assert len(sha256) == 64


def test_path_of_a_true_hash_is_given() -> None:
    assert picture_path(Path("b"), "0" * 64, "png") == Path("b") / PICTURES / f"{'0' * 64}.png"
    for wrong in ("0" * 63, "0" * 64 + "\n", "A" * 64, "../" + "0" * 61):
        with pytest.raises(InputError):
            picture_path(Path("b"), wrong, "png")
