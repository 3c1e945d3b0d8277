"""Picture of the shelf: the outline of each flask to one scale, with the piece in it.

The reader looks level along the y axis, as on the plate.  Each flask is a rectangle of
its inside; the piece hangs in it from its button as it stands best there.  A dashed
line inside is the least wall and cover.  A flask that the piece does not go into has a
dashed outline, so it is not told by colour alone.
"""

import math

import numpy as np
from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.gating.flask_checks import size
from pourcast.gating.model import Circle, FlaskChoice, FlaskFit, Pose
from pourcast.gating.pose import rotation
from pourcast.gating.share import SharedFlask
from pourcast.mould.checks import LEAST_WALL
from pourcast.page.figures import clean
from pourcast.page.words_gating import ROOMS, flask_line
from pourcast.piece.model import Button, Network

MOST_FLASKS = 5
"""Flasks in one picture; those about the one that is taken are kept."""

_ID = "shelf-piece-"  # of the drawn pieces; one such picture stands on a page
_WIDE = 400.0
_GAP = 8.0
_COLUMN = 73.0  # room for the size of a flask under it
_TOP = 10.0
_FOOT = 36.0
_HIGHEST = 190.0


def shelf_picture(choice: FlaskChoice, network: Network, button: Button) -> Markup:
    """Return the flasks of the shelf to scale, with the piece in each.

    Parameters
    ----------
    choice : FlaskChoice
    network : Network
        Of the piece as it stands in the piece file.
    button : Button
        Of the same piece.
    """
    fits = _kept(choice)
    wides = [max(fit.flask.inside_diameter, button.diameter) for fit in fits]
    tall = max(fit.flask.height for fit in fits)
    room = _WIDE - _GAP * (len(fits) - 1)
    scale = _HIGHEST / tall
    while sum(max(wide * scale, _COLUMN) for wide in wides) > room:
        scale *= 0.98
    columns = [max(wide * scale, _COLUMN) for wide in wides]
    left = 0.5 * (room - sum(columns))
    drawn = []
    # Each pose is drawn once and used again: a piece may have thousands of segments.
    poses = list(dict.fromkeys(fit.best.pose for fit in fits))
    kept = "".join(
        f'<g id="{_ID}{n}">{_piece(pose, network, button, scale)}</g>'
        for n, pose in enumerate(poses)
    )
    for fit, column in zip(fits, columns, strict=True):
        middle = left + 0.5 * column
        drawn.append(_flask(fit, fit is choice.taken, middle, scale))
        drawn.append(f'<use href="#{_ID}{poses.index(fit.best.pose)}" x="{middle:.1f}"/>')
        left += column + _GAP
    high = _TOP + tall * scale + _FOOT
    label = escape("The flasks of the shelf. " + " ".join(flask_line(fit) for fit in fits))
    return Markup(
        f'<svg class="pic" viewBox="0 0 {_WIDE:.0f} {high:.0f}" role="img" aria-label="{label}">'
        f"<defs>{kept}</defs>{''.join(drawn)}</svg>"
    )


def shared_picture(shared: SharedFlask) -> Markup:
    """Return the circles of several pieces in their flask, seen along its axis.

    Parameters
    ----------
    shared : SharedFlask
    """
    scale = 0.5 * _HIGHEST / (0.5 * shared.flask.inside_diameter)
    middle = (0.5 * _WIDE, _TOP + 0.5 * _HIGHEST)
    rim = 0.5 * shared.flask.inside_diameter
    whole = Circle(x=0.0, y=0.0, radius=rim)
    least = Circle(x=0.0, y=0.0, radius=max(rim - LEAST_WALL, 0.0))
    circles = "".join(
        f"{_circle(each, middle, scale, 'thin')}"
        f'<text class="t2" x="{middle[0] + each.x * scale:.1f}" '
        f'y="{middle[1] - each.y * scale + 5:.1f}" text-anchor="middle">{number}</text>'
        for number, each in enumerate(shared.circles, start=1)
    )
    names = "; ".join(f"{n} {clean(name)}" for n, name in enumerate(shared.names, start=1))
    label = escape(
        f"{len(shared.names)} pieces in a flask of "
        f"{size(shared.flask.inside_diameter, shared.flask.height)}, seen from above: {names}. "
        f"{1e3 * shared.gap:.0f} mm between two of them, {1e3 * shared.wall:.0f} mm beside them."
    )
    return Markup(
        f'<svg class="pic" viewBox="0 0 {_WIDE:.0f} {_HIGHEST + 2 * _TOP:.0f}" role="img" '
        f'aria-label="{label}">{_circle(whole, middle, scale, "ax")}'
        f"{_circle(least, middle, scale, 'ax', dashed=True)}{circles}</svg>"
    )


def _kept(choice: FlaskChoice) -> tuple[FlaskFit, ...]:
    """Return the flasks about the one that is taken, or that lacks least."""
    at = choice.fits.index(choice.nearest)
    first = max(0, min(at - MOST_FLASKS // 2, len(choice.fits) - MOST_FLASKS))
    return choice.fits[first : first + MOST_FLASKS]


def _flask(fit: FlaskFit, taken: bool, middle: si.Ratio, scale: si.Ratio) -> str:
    flask = fit.flask
    half, high = 0.5 * flask.inside_diameter * scale, flask.height * scale
    lacks = ' stroke-dasharray="7 4"' if fit.best.room == "none" else ""
    inner = LEAST_WALL * scale
    within = ""
    if half > inner and high > inner:
        within = (
            f'<path class="ax" stroke-dasharray="2 3" d="M{middle - half + inner:.1f},{_TOP:.1f}'
            f'V{_TOP + high - inner:.1f}H{middle + half - inner:.1f}V{_TOP:.1f}"/>'
        )
    foot = _TOP + high
    return (
        f'<path class="{"l1" if taken else "ax"}"{lacks} d="M{middle - half:.1f},{_TOP:.1f}'
        f'V{foot:.1f}H{middle + half:.1f}V{_TOP:.1f}"/>{within}'
        f'<text class="t2" x="{middle:.1f}" y="{foot + 16:.1f}" text-anchor="middle">'
        f"{size(flask.inside_diameter, flask.height)}</text>"
        f'<text class="t2" x="{middle:.1f}" y="{foot + 31:.1f}" text-anchor="middle">'
        f"{'take' if taken else _short(fit)}</text>"
    )


def _short(fit: FlaskFit) -> str:
    return ROOMS[fit.best.room].replace("goes in tightly", "tight").replace("does not go in", "no")


def _piece(pose: Pose, network: Network, button: Button, scale: si.Ratio) -> str:
    """Return button and segments of the piece in a pose, its axis at 0."""
    turned = rotation(pose.turn, pose.tilt, button.tilt)
    ends = np.stack([network.start_position, network.end_position], axis=1) @ turned.T
    gate = _TOP + button.height * scale
    rim, throat = 0.5 * button.diameter * scale, 0.5 * button.gate_diameter * scale
    shapes = [
        f'<path class="c2" d="M{-rim:.1f},{_TOP:.1f}H{rim:.1f}'
        f'L{throat:.1f},{gate:.1f}H{-throat:.1f}z"/>'
    ]
    x = ends[:, :, 0] * scale
    y = gate - ends[:, :, 2] * scale
    way = np.hypot(x[:, 1] - x[:, 0], y[:, 1] - y[:, 0])
    half = _half(network, turned) * scale
    for k in range(len(way)):
        if way[k] < 1e-6:
            continue
        across = np.array([-(y[k, 1] - y[k, 0]), x[k, 1] - x[k, 0]]) / way[k]
        corners = [
            (x[k, 0] + across[0] * half[k, 0], y[k, 0] + across[1] * half[k, 0]),
            (x[k, 1] + across[0] * half[k, 1], y[k, 1] + across[1] * half[k, 1]),
            (x[k, 1] - across[0] * half[k, 1], y[k, 1] - across[1] * half[k, 1]),
            (x[k, 0] - across[0] * half[k, 0], y[k, 0] - across[1] * half[k, 0]),
        ]
        points = " ".join(f"{a:.1f},{b:.1f}" for a, b in corners)
        shapes.append(f'<polygon class="c2" points="{points}"/>')
    return "".join(shapes)


def _half(network: Network, turned: si.Ratios) -> si.Metres:
    """Return half of what is seen across each segment at both ends [m]."""
    broad, thin = 0.5 * network.width, 0.5 * network.thickness
    if network.across is None:
        return np.asarray(thin)
    # A blade that is seen on its edge is as thin as it is.
    across = network.across @ turned.T
    along = (network.end_position - network.start_position) @ turned.T
    flat = np.hypot(along[:, 0], along[:, 2])
    flat = np.where(flat > 0.0, flat, 1.0)
    seen = np.abs(across[:, 0] * along[:, 2] - across[:, 2] * along[:, 0]) / flat
    return np.asarray(np.maximum(thin, broad * np.minimum(seen, 1.0)[:, None]))


def _circle(
    circle: Circle,
    middle: tuple[si.Ratio, si.Ratio],
    scale: si.Ratio,
    name: str,
    *,
    dashed: bool = False,
) -> str:
    look = ' stroke-dasharray="2 3"' if dashed else ""
    radius = circle.radius * scale
    if not math.isfinite(radius) or radius <= 0.0:
        return ""
    return (
        f'<circle class="{name}" fill="none"{look} cx="{middle[0] + circle.x * scale:.1f}" '
        f'cy="{middle[1] - circle.y * scale:.1f}" r="{radius:.1f}"/>'
    )
