"""Files that are no photograph, or harm whoever opens them, are refused by name.

No outside numbers: the limits are those of the docstring.
"""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from pourcast.errors import InputError
from pourcast.photo.load import load


def encoded(picture: Image.Image, kind: str = "PNG") -> bytes:
    out = io.BytesIO()
    picture.save(out, kind)
    return out.getvalue()


def claiming(wide: int, tall: int) -> bytes:
    """Return a PNG of a few bytes whose header claims a size."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    header = struct.pack(">IIBBBBB", wide, tall, 8, 0, 0, 0, 0)
    body = zlib.compress(b"\0" * 1000)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("content", [b"", b"not a picture", b"[metal]\nalloy = 1\n", b"solid x"])
def test_what_is_no_picture_is_refused(content: bytes) -> None:
    with pytest.raises(InputError, match="it must be a JPEG, PNG or WebP file"):
        load(content)


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF", "PPM"])
def test_another_kind_of_picture_is_refused(kind: str) -> None:
    with pytest.raises(InputError, match="JPEG, PNG or WebP"):
        load(encoded(Image.new("L", (300, 300)), kind))


@pytest.mark.parametrize(("wide", "tall"), [(30_000, 300), (300, 30_000), (16_000, 16_000)])
def test_a_header_that_claims_too_much_is_refused_before_it_is_unpacked(
    wide: int, tall: int
) -> None:
    with pytest.raises(InputError, match="80 million pixels and 20000 a side"):
        load(claiming(wide, tall))


def test_a_picture_too_small_to_measure_is_refused() -> None:
    with pytest.raises(InputError, match="at least 200 pixels a side"):
        load(encoded(Image.new("L", (199, 500))))


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_a_file_that_ends_too_early_is_refused(kind: str) -> None:
    grain = np.random.default_rng(0).integers(0, 255, (400, 400)).astype(np.uint8)
    whole = encoded(Image.fromarray(grain), kind)

    with pytest.raises(InputError, match=r"whole file|JPEG, PNG or WebP"):
        load(whole[: len(whole) // 2])


def test_a_large_picture_is_made_smaller_by_a_whole_number() -> None:
    pixels, reduced = load(encoded(Image.new("L", (6100, 400), 200)))

    assert reduced == 3
    assert pixels.shape == (134, 2034, 1)
    assert (pixels[:-1, :-1] == 200).all()


def test_a_picture_that_was_taken_with_the_camera_turned_stands_upright() -> None:
    """Orientation 6 of the Exif standard: the top of the scene is the right of the file."""
    grey = np.full((300, 400), 255, dtype=np.uint8)
    grey[:, 350:] = 0
    exif = Image.Exif()
    exif[0x0112] = 6
    out = io.BytesIO()
    Image.fromarray(grey).save(out, "PNG", exif=exif)

    pixels, _ = load(out.getvalue())

    assert pixels.shape[:2] == (400, 300)
    assert (pixels[360:] == 0).all()
    assert (pixels[:340] == 255).all()


def test_what_is_clear_stands_on_white() -> None:
    pixels, _ = load(encoded(Image.new("RGBA", (300, 300), (0, 0, 0, 0))))

    assert pixels.shape == (300, 300, 3)
    assert (pixels == 255).all()
