"""Flasks: which flask of the shelf does the piece go into, and how must it stand?

In a flask of the inside diameter D and the height H a pose leaves

    wall = D/2 - reach,   cover = H - depth                                  (1)

and the usual room is a wall of 10 mm or more with a cover that keeps at least one of
the two rules of practice; the least is 6 mm of each.  Practice disagrees on the cover:
see `pourcast.mould.far_end`.  For each flask the pose is looked for that leaves the
most of the lesser of

    wall - 10 mm,   cover - the smaller of the two rules                    (2)

so that neither is bought with the other; where that is not to be had, of the lesser of
wall - 6 mm and cover - 6 mm.

Left out: head room that is not filled; a button that stands off the middle of the
flask (the smallest circle says what that would win); what the slurry does to a piece
that leans.

Source: geometry.  Walls of 10 to 13 mm and of 6 mm: common practice, one voice.
"""

import math
from collections.abc import Callable, Sequence

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.gating.circle import enclosing_circle
from pourcast.gating.load import load
from pourcast.gating.model import (
    Circle,
    Cut,
    FlaskChoice,
    FlaskFit,
    Pose,
    Room,
    ShelfFlask,
    Stand,
)
from pourcast.gating.outline import button_points, surface_points
from pourcast.gating.pose import Poser, best_pose, freed_pose
from pourcast.materials import Library, library
from pourcast.mould.checks import LEAST_WALL, USUAL_WALL
from pourcast.mould.far_end import FIXED, OF_DIAMETER
from pourcast.mould.model import Flask
from pourcast.mould.solve import powder_of
from pourcast.mould.solve import solve as solve_mould
from pourcast.piece.measure import measure
from pourcast.piece.model import Measures
from pourcast.piece.network import build
from pourcast.sheet.model import Plan

_ROOMS: tuple[Room, ...] = ("usual", "tight", "none")
_MOST_CUT = 0.5  # of its length; a part that would lose more is not spoken of (our own choice)
_GAIN = 1e-4  # m of room below which a pose wins nothing; our own choice


def least_cover(inside_diameter: si.Metre) -> si.Metre:
    """Return the smaller of the two rules for the cover over the far end [m].

    Parameters
    ----------
    inside_diameter : float [m]
    """
    return min(OF_DIAMETER * inside_diameter, FIXED)


def room_of(wall: si.Metre, cover: si.Metre, inside_diameter: si.Metre) -> Room:
    """Return whether wall and cover are as usual, tight, or too little.

    Parameters
    ----------
    wall, cover, inside_diameter : float [m]
    """
    if wall >= USUAL_WALL and cover >= least_cover(inside_diameter):
        return "usual"
    return "tight" if min(wall, cover) >= LEAST_WALL else "none"


def stand(pose: Pose, inside_diameter: si.Metre, height: si.Metre) -> Stand:
    """Return what a pose leaves in a flask, equation (1).

    Parameters
    ----------
    pose : Pose
    inside_diameter, height : float [m]

    Returns
    -------
    Stand
    """
    wall, cover = 0.5 * inside_diameter - pose.reach, height - pose.depth
    return Stand(pose=pose, wall=wall, cover=cover, room=room_of(wall, cover, inside_diameter))


def choose(plan: Plan, shelf: Sequence[ShelfFlask]) -> FlaskChoice:
    """Return which flask of the shelf to take, and how the piece stands in each.

    Parameters
    ----------
    plan : Plan
    shelf : sequence of ShelfFlask
        One or more.

    Returns
    -------
    FlaskChoice

    Raises
    ------
    InputError
        If the shelf is empty, or a size is not above 0.
    """
    if not shelf:
        raise InputError(
            "flasks on the shelf",
            0,
            "",
            "1 or more",
            "Name them, as in --flask 76x127, or put them in the book.",
        )
    for flask in shelf:
        require_positive("inside_diameter", flask.inside_diameter, "m")
        require_positive("flask height", flask.height, "m")
    book = library()
    network = build(plan.piece)
    measures = measure(plan.piece, network)
    poser = Poser(plan.piece, network)
    planned = poser.planned
    ordered = sorted(
        shelf, key=lambda flask: (_inside(flask), flask.wall != plan.flask.wall, flask.name)
    )
    fits = tuple(_fit(plan, poser, planned, flask, measures, book) for flask in ordered)
    taken = _taken(fits)
    nearest = taken or max(fits, key=lambda fit: min(fit.best.wall, fit.best.cover))
    needed = 2.0 * (planned.reach + USUAL_WALL)
    return FlaskChoice(
        needed_diameter=needed,
        needed_height=planned.depth + least_cover(needed),
        circle=piece_circle(plan),
        fits=fits,
        taken=taken,
        needs_pose=taken is not None and taken.planned.room != taken.best.room,
        nearest=nearest,
        cuts=() if taken else _cuts(plan, poser, nearest),
        freed=freed_pose(poser, _goes_in(nearest.flask)),
    )


def best_for(poser: Poser, inside_diameter: si.Metre, height: si.Metre) -> Stand:
    """Return how a piece stands best in a flask; as planned where nothing is won.

    Parameters
    ----------
    poser : Poser
    inside_diameter, height : float [m]

    Returns
    -------
    Stand
        As planned, too, where that has the usual room.
    """
    best = stand(poser.planned, inside_diameter, height)
    for wall in (USUAL_WALL, LEAST_WALL):
        if best.room == "usual":
            break
        room = _room(inside_diameter, height, wall)
        pose = best_pose(poser, room)
        better = stand(pose, inside_diameter, height)
        won = room(pose.reach, pose.depth) - room(best.pose.reach, best.pose.depth) > _GAIN
        if won and _ROOMS.index(better.room) <= _ROOMS.index(best.room):
            best = better
    return best


def piece_circle(plan: Plan) -> Circle:
    """Return the smallest circle that holds piece and button, seen along the flask.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    Circle
    """
    points, _ = surface_points(plan.piece)
    return enclosing_circle(np.concatenate([points, button_points(plan.piece.button)]))


def metal_mass(measures: Measures, plan: Plan, book: Library) -> si.Kilogram:
    """Return the mass of metal in piece and button [kg].

    Parameters
    ----------
    measures : Measures
    plan : Plan
    book : Library
    """
    density = book.alloy(plan.charge.alloy)["density_20"].si
    return float((measures.volume + measures.button_volume) * density)


def _inside(flask: ShelfFlask) -> si.CubicMetre:
    return math.pi / 4.0 * flask.inside_diameter**2 * flask.height


def _fit(
    plan: Plan,
    poser: Poser,
    planned: Pose,
    flask: ShelfFlask,
    measures: Measures,
    book: Library,
) -> FlaskFit:
    now = stand(planned, flask.inside_diameter, flask.height)
    best = best_for(poser, flask.inside_diameter, flask.height)
    carried = None
    if best.wall > 0.0 and best.cover > 0.0:
        steel = Flask(
            inside_diameter=flask.inside_diameter,
            height=flask.height,
            wall=flask.wall,
            wall_thickness=flask.wall_thickness,
            temperature=plan.flask.temperature,
        )
        mould = solve_mould(
            measures,
            plan.piece.button,
            steel,
            plan.mix,
            powder_of(book.investment, plan.mix.powder),
        )
        carried = load(flask, mould, metal_mass(measures, plan, book), plan, book)
    return FlaskFit(flask=flask, planned=now, best=best, load=carried)


def _room(
    inside_diameter: si.Metre, height: si.Metre, wall: si.Metre
) -> Callable[[si.Metre, si.Metre], si.Metre]:
    """Return what a pose leaves of (2) in a flask; over the least wall, of that on all sides."""
    cover = least_cover(inside_diameter) if wall == USUAL_WALL else wall

    def room(reach: float, depth: float) -> float:
        return min(0.5 * inside_diameter - reach - wall, height - depth - cover)

    return room


def _goes_in(flask: ShelfFlask) -> Callable[[si.Metre, si.Metre], bool]:
    def fits(reach: float, depth: float) -> bool:
        return min(0.5 * flask.inside_diameter - reach, flask.height - depth) >= LEAST_WALL

    return fits


def _taken(fits: Sequence[FlaskFit]) -> FlaskFit | None:
    """Return the smallest flask with the most room, as planned before as leaned."""
    for room in _ROOMS[:2]:
        for fit in fits:
            if room in (fit.planned.room, fit.best.room):
                return fit
    return None


def _cuts(plan: Plan, poser: Poser, nearest: FlaskFit) -> tuple[Cut, ...]:
    """Return what stands past the least wall or cover of a flask, part by part."""
    flask, pose = nearest.flask, nearest.best.pose
    far, height, part = poser.parts_past(pose.turn, pose.tilt)
    beside = far - (0.5 * flask.inside_diameter - LEAST_WALL)
    below = -height - (flask.height - LEAST_WALL - plan.piece.button.height)
    past = np.maximum(beside, below)
    found = []
    for index, shape in enumerate(plan.piece.parts):
        mine = past[part == index]
        if mine.size == 0 or mine.max() <= 0.0:
            continue
        each = mine.reshape(poser.members[index], -1).max(axis=1)
        if each.max() > _MOST_CUT * shape.length:
            continue
        found.append(
            Cut(
                part=shape.name,
                members=int((each > 0.0).sum()),
                length=float(each.max()),
            )
        )
    return tuple(sorted(found, key=lambda cut: -cut.length))
