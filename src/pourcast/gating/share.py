"""Share: do several pieces go into one flask, and where does each stand?

Each piece with its button is the smallest circle that holds it, seen along the flask,
so it may be turned as one likes.  With the wall w and the gap g between two pieces the
circles of the radii R + g/2 must go into one of D/2 - w + g/2.  What is found so is
then spread out until the least gap is the least wall, but no wall is under w, and both
are told.

Left out: pieces that reach between each other, which need less; one button for all;
how the metal shares itself out between several buttons.

Source: geometry; the search is that of `pourcast.gating.packing`.  Walls of 10 mm:
common practice, one voice.  6 mm between two pieces: as the least wall, estimate.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.gating.flasks import piece_circle
from pourcast.gating.model import Circle, ShelfFlask
from pourcast.gating.packing import MOST_CIRCLES, packed
from pourcast.gating.pose import Poser
from pourcast.mould.checks import LEAST_WALL, USUAL_WALL
from pourcast.piece.network import build
from pourcast.sheet.model import Plan

LEAST_GAP = LEAST_WALL
"""Block between two pieces [m]; see above."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedFlask:
    """Several pieces in one flask.

    Parameters
    ----------
    flask : ShelfFlask
    names : tuple of str
        Of the pieces.
    circles : tuple of Circle
        Of each with its button, in its place in the flask.
    gap : float [m]
        Least block between two pieces; below 0 they do not go in together.
    wall : float [m]
        Least block beside them.
    cover : float [m]
        Over the far end of the longest.
    needed_diameter : float [m]
        Inside, with the usual wall and gap.
    """

    flask: ShelfFlask
    names: tuple[str, ...]
    circles: tuple[Circle, ...]
    gap: si.Metre
    wall: si.Metre
    cover: si.Metre
    needed_diameter: si.Metre


def share(plans: Sequence[Plan], shelf: Sequence[ShelfFlask]) -> SharedFlask:
    """Return the smallest flask for several pieces, and how they stand in it.

    Parameters
    ----------
    plans : sequence of Plan
        2 to 12.
    shelf : sequence of ShelfFlask
        One or more.

    Returns
    -------
    SharedFlask
        Of the smallest flask that holds them all with the usual wall and the least gap and
        wall over the far end; else of the one that lacks least.

    Raises
    ------
    InputError
        If there are too few or too many pieces, or the shelf is empty.
    """
    if not 2 <= len(plans) <= MOST_CIRCLES:
        raise InputError("pieces in one flask", len(plans), "", f"2 to {MOST_CIRCLES}")
    if not shelf:
        raise InputError(
            "flasks on the shelf",
            0,
            "",
            "1 or more",
            "Name them, as in --flask 76x127, or put them in the book.",
        )
    radius = np.array([piece_circle(plan).radius for plan in plans])
    depth = max(Poser(plan.piece, build(plan.piece)).planned.depth for plan in plans)
    ordered = sorted(shelf, key=lambda flask: (flask.inside_diameter**2 * flask.height, flask.name))
    names = tuple(plan.piece.name for plan in plans)
    tried = [in_flask(radius, depth, flask, names) for flask in ordered]
    return next(
        (found for found in tried if _lack(found) >= 0.0),
        max(tried, key=_lack),
    )


def in_flask(
    radius: si.Metres, depth: si.Metre, flask: ShelfFlask, names: tuple[str, ...]
) -> SharedFlask:
    """Return how circles stand in a flask, block between them and beside them alike.

    Parameters
    ----------
    radius : array [m], shape (pieces,)
        Of each piece with its button.
    depth : float [m]
        Of the longest, from the rim of its button.
    flask : ShelfFlask
    names : tuple of str

    Returns
    -------
    SharedFlask
    """
    tight = packed(radius + 0.5 * LEAST_GAP)
    far = np.hypot(tight.x, tight.y)
    inside = 0.5 * flask.inside_diameter
    room = inside - USUAL_WALL - radius
    away = far > 1e-9
    # Middles go out by one factor until the first has the usual wall; a factor under 1 would
    # push pieces into each other, so then they stay and the wall is thinner.
    most = max(float((room[away] / far[away]).min()), 1.0) if away.any() else 1.0
    one, other = np.triu_indices(radius.size, 1)
    between = np.hypot(tight.x[one] - tight.x[other], tight.y[one] - tight.y[other])
    # Each gap grows straight with the factor and each wall shrinks straight.  The least gap is
    # the least wall where every gap has come up to some wall.
    alike = (inside - radius + (radius[one] + radius[other])[:, None]) / (between[:, None] + far)
    factor = float(np.clip(alike.min(axis=1).max(), 1.0, most))
    x, y = factor * tight.x, factor * tight.y
    apart = factor * between - radius[one] - radius[other]
    return SharedFlask(
        flask=flask,
        names=names,
        circles=tuple(
            Circle(x=float(a), y=float(b), radius=float(r))
            for a, b, r in zip(x, y, radius, strict=True)
        ),
        gap=float(apart.min()),
        wall=float((inside - np.hypot(x, y) - radius).min()),
        cover=flask.height - depth,
        needed_diameter=2.0 * (tight.radius - 0.5 * LEAST_GAP + USUAL_WALL),
    )


def _lack(found: SharedFlask) -> si.Metre:
    # A micrometre of rounding is no lack.
    return min(found.wall - USUAL_WALL, found.gap - LEAST_GAP, found.cover - LEAST_WALL) + 1e-6
