"""Solve: one photograph, two or three become the parts of a piece."""

from collections.abc import Sequence

import numpy as np

from pourcast.errors import InputError, require_positive
from pourcast.photo.checks import findings
from pourcast.photo.model import Asked, Reading, View
from pourcast.photo.parts import parts
from pourcast.photo.view import read_view

_MOST_PARTS = 500  # more are hairs or noise; our own choice


def solve(photographs: Sequence[bytes], asked: Asked) -> Reading:
    """Return the parts of an original from one photograph, two or three.

    Parameters
    ----------
    photographs : sequence of bytes
        One to three files; for the second the original is turned a quarter turn
        about its stem, so that what was behind is to the right, and for the third
        half way back.
    asked : Asked

    Returns
    -------
    Reading

    Raises
    ------
    InputError
        If a file, a mark or the original cannot be read, or the pictures do not
        show the same height.
    """
    if len(photographs) not in (1, 2, 3) or len(asked.scales) != len(photographs):
        must = "one, two or three, each with its scale"
        raise InputError("photographs", len(photographs), "", must)
    if asked.camera is not None:
        require_positive("distance of the camera", asked.camera, "m")
    foot = asked.foot or (None,) * len(photographs)
    views = tuple(
        read_view(content, scale, place)
        for content, scale, place in zip(photographs, asked.scales, foot, strict=True)
    )
    _require_one_height(views)
    found, notes, views = parts(views, asked)
    if not found or len(found) > _MOST_PARTS:
        raise InputError(
            "original",
            f"{len(found)}",
            "parts",
            f"1 to {_MOST_PARTS}",
            "Take a plainer ground, or a sharper picture.",
        )
    return Reading(
        name=asked.name,
        parts=found,
        views=views,
        findings=findings(views, found, camera=asked.camera),
        notes=notes,
    )


def _require_one_height(views: Sequence[View]) -> None:
    """Refuse pictures of originals that are not as high as the first."""
    # By the outline: a stick that leaves at the top may lie before another, and not be read.
    one, *others = (
        (view.foot[1] - float(np.argmax(view.silhouette.inside.any(axis=1)))) * view.scale.size
        for view in views
    )
    for which, high in zip(("second", "third"), others, strict=False):
        if abs(one - high) > 0.1 * max(one, high):
            raise InputError(
                f"{which} photograph",
                f"{1e3 * high:.0f}",
                "mm high",
                f"within a tenth of the first, {1e3 * one:.0f} mm",
                "Is it the same original, upright, with the right scale and the same foot?",
            )
