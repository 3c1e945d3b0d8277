"""Leans: would the piece stand better turned and leaned, or in another flask?

Two questions, one answer each at most: does a lean on the button free the undersides
that hold bubbles, and does it give the room that the flask does not have?  A lean that
would take the wall or the cover below what they are and below the usual is not offered.
With a shelf, the flask that the piece goes into best is offered too.
"""

import math
from collections.abc import Sequence

from pourcast.forecast.model import Forecast
from pourcast.gating.bench import LEAN, costs
from pourcast.gating.flask_checks import FREES, LEAST_AREA, size
from pourcast.gating.flasks import best_for, choose, room_of, stand
from pourcast.gating.model import Pose, Proposal, ShelfFlask, Stand
from pourcast.gating.pose import Poser, freed_pose
from pourcast.gating.shape import degrees, mm
from pourcast.piece.model import Piece
from pourcast.sheet.edit import Edit

_ROOMS = ("usual", "tight", "none")


def pose_edits(piece: Piece, pose: Pose) -> tuple[Edit, ...]:
    """Return the edits of a piece file that bring a piece into a pose.

    Parameters
    ----------
    piece : Piece
    pose : Pose

    Returns
    -------
    tuple of Edit
    """
    edits = [Edit(path=("button", "tilt_deg"), value=degrees(pose.tilt))]
    if abs(math.sin(0.5 * pose.turn)) > 1e-6:
        edits += [
            Edit(path=("part", part.name, "turn_deg"), value=degrees(part.turn + pose.turn))
            for part in piece.parts
            if part.parent == "button"
        ]
    return tuple(edits)


def lean_proposals(said: Forecast) -> tuple[Proposal, ...]:
    """Return up to two proposals: for room, and for undersides that hold bubbles.

    Parameters
    ----------
    said : Forecast

    Returns
    -------
    tuple of Proposal
    """
    piece, flask = said.plan.piece, said.plan.flask
    poser = Poser(piece, said.network)
    now = stand(poser.planned, flask.inside_diameter, flask.height)
    found = []
    roomy = best_for(poser, flask.inside_diameter, flask.height)
    if roomy.pose != now.pose:
        found.append(_for_room(said, now, roomy))

    def fits(reach: float, depth: float) -> bool:
        wall, cover = 0.5 * flask.inside_diameter - reach, flask.height - depth
        room = room_of(wall, cover, flask.inside_diameter)
        return _ROOMS.index(room) <= _ROOMS.index(now.room)

    freed = freed_pose(poser, fits)
    if now.pose.level_area >= LEAST_AREA and freed.level_area <= FREES * now.pose.level_area:
        found.append(_for_bubbles(said, now, freed))
    return tuple(found)


def flask_proposals(said: Forecast, shelf: Sequence[ShelfFlask]) -> tuple[Proposal, ...]:
    """Return the flask of the shelf that is best, unless it is that of the plan.

    Parameters
    ----------
    said : Forecast
    shelf : sequence of ShelfFlask
        None: nothing is proposed.

    Returns
    -------
    tuple of Proposal
    """
    if not shelf:
        return ()
    plan = said.plan
    choice = choose(plan, shelf)
    taken = choice.taken
    same = taken is not None and (
        abs(taken.flask.inside_diameter - plan.flask.inside_diameter) < 1e-3
        and abs(taken.flask.height - plan.flask.height) < 1e-3
        and taken.flask.wall == plan.flask.wall
    )
    if taken is None or same:
        return ()
    held = taken.best if choice.needs_pose else taken.planned
    flask = taken.flask
    now = stand(held.pose, plan.flask.inside_diameter, plan.flask.height)
    edits = [
        Edit(path=("flask", "inside_diameter_mm"), value=mm(flask.inside_diameter)),
        Edit(path=("flask", "height_mm"), value=mm(flask.height)),
        Edit(path=("flask", "wall"), value=flask.wall),
        Edit(path=("flask", "wall_mm"), value=mm(flask.wall_thickness)),
    ]
    if choice.needs_pose:
        edits += pose_edits(plan.piece, held.pose)
    leaned = f" It stands {_posed(held.pose)} there." if choice.needs_pose else ""
    return (
        Proposal(
            name=f"flask {size(flask.inside_diameter, flask.height)}",
            kind="flask",
            part=None,
            words=(
                f"The {flask.wall} flask of {size(flask.inside_diameter, flask.height)} from the "
                f"shelf instead of the {plan.flask.wall} one of "
                f"{size(plan.flask.inside_diameter, plan.flask.height)}: "
                f"{_walls(held)}, where there are {_walls(now)} now.{leaned} Powder, water and the "
                "kiln curve are worked out anew."
            ),
            edits=tuple(edits),
            wax=(),
            clean_off="",
            costs=costs(plan, LEAN if choice.needs_pose else 0.0),
        ),
    )


def _for_room(said: Forecast, now: Stand, roomy: Stand) -> Proposal:
    return Proposal(
        name="lean for room",
        kind="tilt",
        part=None,
        words=(
            f"The piece {_posed(roomy.pose)} on its button has {_walls(roomy)}, where there are "
            f"{_walls(now)} now.{_uphill(said, now.pose, roomy.pose)}"
        ),
        edits=pose_edits(said.plan.piece, roomy.pose),
        wax=(),
        clean_off="",
        costs=costs(said.plan, LEAN),
    )


def _for_bubbles(said: Forecast, now: Stand, freed: Pose) -> Proposal:
    return Proposal(
        name="lean against bubbles",
        kind="tilt",
        part=None,
        words=(
            f"The piece {_posed(freed)} on its button has {1e6 * freed.level_area:.0f} mm² of "
            f"undersides near level, where there are {1e6 * now.pose.level_area:.0f} mm² now; they "
            "hold bubbles while the flask is filled. Leaning the flask itself while it is filled "
            f"does as much.{_uphill(said, now.pose, freed)}"
        ),
        edits=pose_edits(said.plan.piece, freed),
        wax=(),
        clean_off="",
        costs=costs(said.plan, LEAN),
    )


def _posed(pose: Pose) -> str:
    turn = round(math.degrees(pose.turn)) % 360
    lean = f"leaned by {math.degrees(pose.tilt):.0f}°"
    return f"turned by {turn}° and {lean}" if turn else lean


def _walls(found: Stand) -> str:
    return f"{1e3 * found.wall:.0f} mm beside it and {1e3 * found.cover:.0f} mm over the far end"


def _uphill(said: Forecast, now: Pose, then: Pose) -> str:
    if then.rising <= now.rising or said.plan.assist.kind != "gravity":
        return ""
    return (
        f" {then.rising - now.rising} more of its members then run uphill, and without vacuum "
        "nothing should have to fill upwards."
    )
