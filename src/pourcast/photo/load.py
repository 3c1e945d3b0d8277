"""Load: is this file a photograph that can be opened without harm, and what does it show?

A picture of a few kilobytes may ask for gigabytes when it is unpacked.  So the
size that the file claims is held against a limit before anything is unpacked,
only three kinds of file are opened at all, and a file that ends too early is
refused instead of being filled up with grey.

Limits (our own choice): 60 MB of file, 80 million pixels, 200 to 20 000 pixels
a side.  A picture is then made smaller, by whole numbers, until its longer side
has at most 3 000 pixels: the reader needs no more.
"""

import io
import warnings

import numpy as np
from PIL import Image, ImageOps

from pourcast.errors import InputError
from pourcast.photo.model import Greys

MOST_BYTES = 60_000_000
_MOST_PIXELS = 80_000_000
_LEAST_SIDE, _MOST_SIDE = 200, 20_000
_WORKED_SIDE = 3_000
_KINDS = ("JPEG", "PNG", "WEBP")
_WHAT = "photograph"


def load(content: bytes) -> tuple[Greys, int]:
    """Return the picture of a file, upright, and by how much it was made smaller.

    Parameters
    ----------
    content : bytes
        Of a JPEG, PNG or WebP file.

    Returns
    -------
    array of uint8, shape (rows, columns, channels)
        One channel or three.
    int
        Pixels of the file along one side of a pixel returned.

    Raises
    ------
    InputError
        If it is no such file, is damaged, or is too large or too small.
    """
    if len(content) > MOST_BYTES:
        raise InputError(_WHAT, f"{len(content) / 1e6:.0f}", "MB", f"at most {MOST_BYTES // 10**6}")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            picture = Image.open(io.BytesIO(content), formats=_KINDS)
    except Image.DecompressionBombError:
        raise _too_large("more than 178 million") from None
    except (OSError, ValueError, SyntaxError, OverflowError, MemoryError):
        raise InputError(_WHAT, "no picture", "", "a JPEG, PNG or WebP file") from None
    wide, tall = picture.size
    if wide * tall > _MOST_PIXELS or max(wide, tall) > _MOST_SIDE:
        raise _too_large(f"{wide} x {tall}")
    if min(wide, tall) < _LEAST_SIDE:
        hint = "Send the picture as the camera made it, not a preview."
        raise InputError(
            _WHAT, f"{wide} x {tall}", "pixels", f"at least {_LEAST_SIDE} pixels a side", hint
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            picture.load()
            upright = ImageOps.exif_transpose(picture)
            reduced = max(1, -(-max(wide, tall) // _WORKED_SIDE))
            plain = _plain(upright)
            small = plain.reduce(reduced) if reduced > 1 else plain
    except (OSError, ValueError, SyntaxError, OverflowError, MemoryError) as fault:
        hint = "Copy it again from the camera."
        raise InputError(_WHAT, f"damaged ({fault})", "", "a whole file", hint) from None
    pixels = np.asarray(small, dtype=np.uint8)
    return (pixels if pixels.ndim == 3 else pixels[:, :, None]), reduced


def _plain(picture: Image.Image) -> Image.Image:
    """Return a picture in grey or in three colours; what is clear stands on white."""
    if picture.mode in ("L", "RGB"):
        return picture
    if picture.mode.startswith("I;16") or picture.mode in ("I", "F"):
        levels = np.asarray(picture, dtype=np.float64)
        top = float(levels.max()) or 1.0
        return Image.fromarray((255.0 * np.clip(levels / top, 0, 1)).astype(np.uint8))
    clear = picture.convert("RGBA")
    white = Image.new("RGBA", clear.size, (255, 255, 255, 255))
    return Image.alpha_composite(white, clear).convert("RGB")


def _too_large(size: str) -> InputError:
    return InputError(
        _WHAT,
        size,
        "pixels",
        f"at most {_MOST_PIXELS // 10**6} million pixels and {_MOST_SIDE} a side",
        "Make it smaller; 3000 pixels along the longer side are enough.",
    )
