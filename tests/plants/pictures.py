"""Pictures: a test plant photographed on a plain ground with a bar of known length.

A pinhole at a distance from the axis of the plant looks at it level; what is
nearer looks larger.  The bar lies in the plane of the axis, under the plant.
The light falls off from one side to the other, the lens blurs, the sensor adds
noise.  `turn` walks round the plant: 0 and 90 degrees are two views about the
stem.  Left out: shadows on the ground, hairs, gloss, colour.

Uses `tests.plants.shells`; the faces are filled by a small compiled loop that
takes a pixel where its middle lies in the triangle, at three times the
resolution, so that an edge is true to a sixth of a pixel.
"""

import io
import math
from dataclasses import dataclass

import numpy as np
from numba import njit
from scipy import ndimage
from trimesh import Trimesh

from pourcast import units as si

_FINE = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photograph and what is true of it.

    ``pixels`` is a grey picture; ``mm_per_pixel`` holds in the plane of the
    axis; ``bar_mm`` is the length of the bar, ``bar`` its ends and ``gate`` the
    foot of the plant, as column and row.
    """

    pixels: si.Integers
    mm_per_pixel: float
    bar_mm: float
    bar: tuple[tuple[float, float], tuple[float, float]]
    gate: tuple[float, float]

    def png(self) -> bytes:
        """Return the picture as a PNG file."""
        from PIL import Image

        out = io.BytesIO()
        Image.fromarray(self.pixels).save(out, "PNG")
        return out.getvalue()


def photograph(
    mesh: Trimesh,
    *,
    turn_deg: float = 0.0,
    mm_per_pixel: float = 0.07,
    camera_mm: float = 1000.0,
    bar_mm: float = 50.0,
    blur_px: float = 1.2,
    noise: float = 4.0,
    uneven: float = 25.0,
    bar: bool = True,
    seed: int = 0,
) -> Picture:
    """Return a photograph of a plant that stands on its gate at the origin."""
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    x, y, z = mesh.vertices.T
    x, y = c * x + s * y, -s * x + c * y
    near = camera_mm / (camera_mm + y)
    tall, wide = float((z * near).max()), float(abs(x * near).max())
    half = max(wide, 0.5 * bar_mm) + 6.0
    foot = 14.0  # mm of ground under the gate, with the bar in it
    columns = math.ceil(2.0 * half / mm_per_pixel)
    rows = math.ceil((tall + foot + 6.0) / mm_per_pixel)
    centre, base = 0.5 * columns, rows - foot / mm_per_pixel
    scale = _FINE / mm_per_pixel
    # The lens looks at the middle of the picture: away from there nearness tells.
    middle = (base - 0.5 * rows) * mm_per_pixel
    u = x * near * scale + centre * _FINE
    v = 0.5 * rows * _FINE - (z - middle) * near * scale
    light = _shade(mesh, c, s)
    fine = np.full((rows * _FINE, columns * _FINE), 215.0, dtype=np.float64)
    fill(fine, np.stack([u, v], 1)[mesh.faces], light)
    ends = (centre - 0.5 * bar_mm / mm_per_pixel, centre + 0.5 * bar_mm / mm_per_pixel)
    height = rows - 6.0 / mm_per_pixel
    if bar:
        top, low = int(height * _FINE), int((height + 2.0 / mm_per_pixel) * _FINE)
        fine[top:low, round(ends[0] * _FINE) : round(ends[1] * _FINE)] = 20.0
    seen = fine.reshape(rows, _FINE, columns, _FINE).mean(axis=(1, 3))
    seen = ndimage.gaussian_filter(seen, blur_px)
    seen += uneven * np.linspace(-1.0, 0.0, columns)
    seen += np.random.default_rng(seed).normal(0.0, noise, seen.shape)
    # An index of a pixel is that of its middle: half a pixel less than the edge of the grid.
    row = height + 1.0 / mm_per_pixel - 0.5
    return Picture(
        pixels=np.clip(seen, 0, 255).astype(np.uint8),
        mm_per_pixel=mm_per_pixel,
        bar_mm=bar_mm,
        bar=((ends[0] - 0.5, row), (ends[1] - 0.5, row)),
        gate=(centre - 0.5, base - 0.5),
    )


def _shade(mesh: Trimesh, c: float, s: float) -> si.Ratios:
    """Grey of each face, 40 to 110: darker where it turns away from the light on the left."""
    normal = mesh.face_normals
    towards = -(c * normal[:, 0] + s * normal[:, 1])
    return np.asarray(75.0 + 35.0 * towards)


@njit(cache=False)  # type: ignore[untyped-decorator, unused-ignore]
def fill(out: si.Ratios, corners: si.Ratios, light: si.Ratios) -> None:
    """Paint triangles in their order; no depth, an outline needs none."""
    rows, columns = out.shape
    for k in range(corners.shape[0]):
        ax, ay = corners[k, 0, 0], corners[k, 0, 1]
        bx, by = corners[k, 1, 0], corners[k, 1, 1]
        cx, cy = corners[k, 2, 0], corners[k, 2, 1]
        area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if area == 0.0:
            continue
        first = max(0, math.floor(min(ay, by, cy)))
        last = min(rows - 1, math.ceil(max(ay, by, cy)))
        left = max(0, math.floor(min(ax, bx, cx)))
        right = min(columns - 1, math.ceil(max(ax, bx, cx)))
        for i in range(first, last + 1):
            py = i + 0.5
            for j in range(left, right + 1):
                px = j + 0.5
                one = ((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / area
                two = ((cx - bx) * (py - by) - (cy - by) * (px - bx)) / area
                three = ((ax - cx) * (py - cy) - (ay - cy) * (px - cx)) / area
                if one >= 0.0 and two >= 0.0 and three >= 0.0:
                    out[i, j] = light[k]
