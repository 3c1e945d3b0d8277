"""Ground: which pixels are the original?

The ground is plain and lit, but not evenly.  Its light is a smooth surface,
a polynomial of the third degree in column and row; it is fitted to the bright
quarter of coarse tiles, then again to all pixels near it, until it holds.
Light over that of the ground falls into two heaps, ground and original, and
the level that parts them best is that of

    Otsu (1979), IEEE Trans. Syst. Man Cybern. 9, 62,

as scikit-image has it.  In a colour picture the darkest of the three channels
counts, each over its own ground: a yellow flower is dark in blue.

Left out: a ground that is darker than the original, patterns, and hard shadows,
which are read as part of the original.
"""

import numpy as np
from scipy import ndimage
from skimage.filters import threshold_otsu
from skimage.measure import label

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.photo.model import Greys, Silhouette

_TILE = 8  # pixels a side; the ground is fitted on tiles
_LEAST_CONTRAST = 0.35  # of the ground's light; estimate
_NEAR = 0.12  # of the ground's light: so far off a tile is not ground; estimate
_SOFTEN = 0.7  # pixels, against the noise of the sensor
_SPECK = 60  # pixels; less is dust


def flattened(pixels: Greys) -> si.Ratios:
    """Return the light of each pixel over that of the ground there.

    Parameters
    ----------
    pixels : array of uint8, shape (rows, columns, channels)

    Returns
    -------
    array [-], shape (rows, columns)
    """
    least = np.full(pixels.shape[:2], np.inf)
    for channel in range(pixels.shape[2]):
        grey = pixels[:, :, channel].astype(np.float64)
        least = np.minimum(least, grey / np.maximum(_ground(grey), 1.0))
    return np.asarray(ndimage.gaussian_filter(least, _SOFTEN))


def _ground(grey: si.Ratios) -> si.Ratios:
    """Fit the light of the ground, in the unit of the pixels."""
    rows, columns = grey.shape
    tall, wide = rows // _TILE, columns // _TILE
    tiles = grey[: tall * _TILE, : wide * _TILE].reshape(tall, _TILE, wide, _TILE)
    light = np.median(tiles, axis=(1, 3)).ravel()
    row = np.repeat((np.arange(tall) + 0.5) * _TILE / rows, wide) * 2 - 1
    column = np.tile((np.arange(wide) + 0.5) * _TILE / columns, tall) * 2 - 1
    terms = _terms(column, row)
    used = light >= np.percentile(light, 50)
    fit: si.Ratios = np.zeros(terms.shape[1])
    fit[0] = np.percentile(light, 75)
    for _ in range(12):
        fit = np.asarray(np.linalg.lstsq(terms[used], light[used], rcond=None)[0])
        surface = terms @ fit
        now = np.abs(light - surface) < _NEAR * np.maximum(surface, 1.0)
        if now.sum() < 3 * terms.shape[1] or np.array_equal(now, used):
            break
        used = now
    u = (np.arange(columns) + 0.5) / columns * 2 - 1
    v = (np.arange(rows) + 0.5) / rows * 2 - 1
    surface = np.zeros((rows, columns))
    for k, (i, j) in enumerate(_POWERS):
        surface += fit[k] * np.outer(v**j, u**i)
    return surface


_POWERS = tuple((i, j) for i in range(4) for j in range(4 - i))


def _terms(u: si.Ratios, v: si.Ratios) -> si.Ratios:
    return np.stack([u**i * v**j for i, j in _POWERS], axis=1)


def dark_pieces(light: si.Ratios) -> tuple[si.Integers, si.Ratio]:
    """Return the dark pieces of a picture, numbered, and say how dark they are.

    Parameters
    ----------
    light : array [-], shape (rows, columns)
        From `flattened`.

    Returns
    -------
    array of int, shape (rows, columns)
        0: ground.
    float [-]
        Contrast: ground less original, over the ground.

    Raises
    ------
    InputError
        If ground and original are too much alike.
    """
    spread = float(np.ptp(light))
    if spread < _LEAST_CONTRAST:
        raise _too_alike(spread)
    level = float(threshold_otsu(light[::2, ::2]))  # type: ignore[no-untyped-call]
    dark = light < level
    if not dark.any() or dark.all():
        raise _too_alike(0.0)
    contrast = float(np.median(light[~dark]) - np.median(light[dark]))
    if contrast < _LEAST_CONTRAST or dark.mean() > 0.5:
        raise _too_alike(contrast)
    pieces = label(dark, connectivity=2)  # type: ignore[no-untyped-call]
    return np.asarray(pieces, dtype=np.int64), contrast


def _too_alike(contrast: si.Ratio) -> InputError:
    return InputError(
        "contrast",
        f"{contrast:.2f}",
        "of the light of the ground",
        f"at least {_LEAST_CONTRAST}, with the ground over half of the picture",
        "Lay the original on a plain white ground, lit from two sides.",
    )


def cut_out(
    light: si.Ratios, pieces: si.Integers, mark: int, contrast: si.Ratio, reduced: int
) -> Silhouette:
    """Take the largest dark piece that is not the mark for the original.

    Parameters
    ----------
    light : array [-], shape (rows, columns)
    pieces : array of int, shape (rows, columns)
        From `dark_pieces`.
    mark : int
        Number of the piece that is the mark; 0: none.
    contrast : float [-]
    reduced : int

    Returns
    -------
    Silhouette

    Raises
    ------
    InputError
        If there is nothing beside the mark.
    """
    size = np.bincount(pieces.ravel())
    size[0] = 0
    if mark:
        size[mark] = 0
    if size.max(initial=0) < 20 * _SPECK:
        raise InputError(
            "original",
            "not found",
            "",
            "a dark shape on the ground beside the mark",
            "Is the mark laid over the original, or is the picture empty?",
        )
    chosen = int(size.argmax())
    inside = pieces == chosen
    holes = label(~inside, connectivity=1)  # type: ignore[no-untyped-call]
    small = np.bincount(holes.ravel()) < _SPECK // 2
    small[0] = False
    return Silhouette(
        light=light,
        inside=inside | small[holes],
        contrast=contrast,
        loose=int((size > _SPECK).sum()) - 1,
        reduced=reduced,
    )
