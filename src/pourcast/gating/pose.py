"""Pose: how should the piece be turned and leaned on its button?

The button stands in the middle of the flask and stays upright; the piece turns about
its own direction by φ and then leans from hanging straight down by θ towards +x, so
a point that stands at p with the lean θ₀ of the piece file goes to

    p' = Y(-θ) Z(-φ) Y(θ₀) p                                                (1)

with Y and Z the turns about these axes.  As edits of the piece file φ is added to the
turn of each part on the button and θ is its tilt.

Poses are tried on a grid, every 10° of turn and 2.5° of lean up to 20°, and the best
of them is improved by steps that are halved down to 0.2°.  The grid stands for many
starts: a search from one start may stay in a dip of its own.  Of poses that come to
the same the one that leans less is taken: a degree must win 0.02 mm.

Where a piece has many points the search looks at the outermost of them; what is told of
the pose that it finds is of all of them.

Left out: a piece that is bent or moved on its button; that a leaning piece is held by
a joint of another strength.

Source: geometry.  20° as the most that is leaned: common practice has 10 to 30°, no source.
"""

import math
from collections.abc import Callable

import numpy as np

from pourcast import units as si
from pourcast.gating.circle import reach_about_axis
from pourcast.gating.model import Pose
from pourcast.gating.outline import surface_points
from pourcast.mould.places import frames
from pourcast.mould.traps import NEAR_LEVEL
from pourcast.piece.model import RECTANGLE, Network, Piece, first_segments

MOST_TILT = math.radians(20.0)
"""Lean that is tried [rad]; see above."""

FINEST = math.radians(0.2)
"""Step at which the search ends [rad]: no one leans a wax more finely."""

_TURNS: list[float] = np.radians(np.arange(0.0, 360.0, 10.0)).tolist()
_TILTS: list[float] = np.radians(np.arange(2.5, 20.1, 2.5)).tolist()
_RISE: list[float] = np.radians(np.arange(-20.0, 20.1, 5.0)).tolist()
_FALL: list[float] = np.radians([-90.0, -85.0, -80.0, -75.0, -70.0]).tolist()
_FEW = 3000  # points up to which all are looked at
_DEGREE = 2e-5  # m of room that a degree of lean must win; our own choice
_RISES = 1e-3  # m; angles are not read better (estimate)


class Poser:
    """Says what a pose of one piece comes to.

    Parameters
    ----------
    piece : Piece
    network : Network
        Of this piece.
    """

    def __init__(self, piece: Piece, network: Network) -> None:
        self._button = piece.button
        self._points, self._part = surface_points(piece)
        self._normal = frames(network)[:, 2]
        broad = network.length * network.width.mean(axis=1)
        self._broad = broad * (network.section == RECTANGLE)
        ends = first_segments(network)
        first, last = ends[:-1], ends[1:] - 1
        self._way = network.end_position[last] - network.start_position[first]
        self._start = piece.button.tilt
        # The grid is the same for each flask of the shelf.
        self._sizes: dict[tuple[float, float], tuple[float, float]] = {}
        self._planned: Pose | None = None
        self._few = _outermost(self._points, piece.button.tilt)
        self._members = np.bincount(network.member_part, minlength=len(piece.parts))

    @property
    def members(self) -> tuple[int, ...]:
        """How many each part has; its points stand member by member."""
        return tuple(int(count) for count in self._members)

    @property
    def planned(self) -> Pose:
        """The pose of the piece file."""
        if self._planned is None:
            self._planned = self.at(0.0, self._start)
        return self._planned

    def points(self, turn: si.Radian, tilt: si.Radian) -> si.Metres:
        """Return the surface points of the piece in a pose [m], shape (points, 3).

        Parameters
        ----------
        turn, tilt : float [rad]
        """
        return np.asarray(self._points @ rotation(turn, tilt, self._start).T)

    def size(self, turn: si.Radian, tilt: si.Radian) -> tuple[si.Metre, si.Metre]:
        """Return reach about the axis and depth under the rim of a pose [m].

        Parameters
        ----------
        turn, tilt : float [rad]
        """
        return self._measured(self.points(turn, tilt))

    def rough_size(self, turn: si.Radian, tilt: si.Radian) -> tuple[si.Metre, si.Metre]:
        """Return the same from few points, at most 0.3 % too small; for the search [m].

        Parameters
        ----------
        turn, tilt : float [rad]
        """
        known = self._sizes.get((turn, tilt))
        if known is None:
            known = self._measured(self._few @ rotation(turn, tilt, self._start).T)
            self._sizes[turn, tilt] = known
        return known

    def _measured(self, points: si.Metres) -> tuple[si.Metre, si.Metre]:
        reach = max(reach_about_axis(points), 0.5 * self._button.diameter)
        return reach, self._button.height - min(float(points[:, 2].min()), 0.0)

    def level_area(self, turn: si.Radian, tilt: si.Radian) -> si.SquareMetre:
        """Return the undersides near level in a pose [m²].

        Parameters
        ----------
        turn, tilt : float [rad]
        """
        return self._level(rotation(turn, tilt, self._start))

    def at(self, turn: si.Radian, tilt: si.Radian) -> Pose:
        """Return all that a pose comes to.

        Parameters
        ----------
        turn, tilt : float [rad]
        """
        reach, depth = self.size(turn, tilt)
        turned = rotation(turn, tilt, self._start)
        return Pose(
            turn=turn,
            tilt=tilt,
            reach=reach,
            depth=depth,
            level_area=self._level(turned),
            rising=int((self._way @ turned[2] > _RISES).sum()),
        )

    def parts_past(
        self, turn: si.Radian, tilt: si.Radian
    ) -> tuple[si.Metres, si.Metres, si.Integers]:
        """Return distance from the axis, height over the gate [m] and part of each point.

        Parameters
        ----------
        turn, tilt : float [rad]
        """
        points = self.points(turn, tilt)
        return np.hypot(points[:, 0], points[:, 1]), points[:, 2], self._part

    def _level(self, turned: si.Ratios) -> si.SquareMetre:
        """Return the area that faces down near level; the rule of `pourcast.mould.traps`."""
        upright = np.abs(self._normal @ turned[2])
        return float(self._broad[upright > math.cos(NEAR_LEVEL)].sum())


def rotation(turn: si.Radian, tilt: si.Radian, start: si.Radian) -> si.Ratios:
    """Return the matrix that takes a piece from its lean to another pose, equation (1).

    Parameters
    ----------
    turn, tilt : float [rad]
        Of the pose.
    start : float [rad]
        Lean that it has now.

    Returns
    -------
    array [-], shape (3, 3)
    """
    cosine, sine = math.cos(-turn), math.sin(-turn)
    about_z = np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0], [0.0, 0.0, 1.0]])
    return np.asarray(_about_y(-tilt) @ about_z @ _about_y(start))


def _about_y(angle: si.Radian) -> si.Ratios:
    cosine, sine = math.cos(angle), math.sin(angle)
    return np.array([[cosine, 0.0, sine], [0.0, 1.0, 0.0], [-sine, 0.0, cosine]])


def best_pose(poser: Poser, room: Callable[[si.Metre, si.Metre], si.Metre]) -> Pose:
    """Return the pose with the most room.

    Parameters
    ----------
    poser : Poser
    room : function of reach and depth [m]
        Room that a pose leaves [m]; the more the better.

    Returns
    -------
    Pose
        That of the piece file, unless another has more room.
    """

    def worth(turn: float, tilt: float) -> float:
        return room(*poser.rough_size(turn, tilt)) - _DEGREE * abs(math.degrees(tilt))

    now = poser.planned
    tried = [(0.0, now.tilt), (0.0, 0.0), *((turn, tilt) for tilt in _TILTS for turn in _TURNS)]
    scores = [worth(*pose) for pose in tried]
    at = int(np.argmax(scores))
    turn, tilt, best = *tried[at], scores[at]
    step = math.radians(5.0)
    while at > 1 and step >= FINEST:
        near = [(turn, tilt + step), (turn, tilt - step), (turn + step, tilt), (turn - step, tilt)]
        near = [(t, lean) for t, lean in near if 0.0 <= lean <= MOST_TILT]
        found = [worth(*pose) for pose in near]
        if max(found) > best:
            (turn, tilt), best = near[int(np.argmax(found))], max(found)
        else:
            step /= 2.0
    return now if best <= scores[0] else poser.at(turn, tilt)


def freed_pose(poser: Poser, fits: Callable[[si.Metre, si.Metre], bool]) -> Pose:
    """Return the pose of the grid with the least undersides near level.

    Parameters
    ----------
    poser : Poser
    fits : function of reach and depth [m]
        Whether the pose goes into the flask.

    Returns
    -------
    Pose
        That of the piece file, unless another that fits has less.
    """
    best = poser.planned
    for tilt in _TILTS:
        for turn in _TURNS:
            # The least lean wins among equals, since it is met first.
            if poser.level_area(turn, tilt) < 0.99 * best.level_area and fits(
                *poser.size(turn, tilt)
            ):
                best = poser.at(turn, tilt)
    return best


def _outermost(points: si.Metres, start: si.Radian) -> si.Metres:
    """Return the points that lie farthest out in directions up to 20° from level, or down.

    The reach is the farthest that any point lies out in a level direction, and a lean turns
    that by 20° at most.  Between two directions, 6° and 5° apart, 0.3 % is left out.
    """
    if len(points) <= _FEW:
        return points
    around = np.radians(np.arange(0.0, 360.0, 6.0))
    level = [_directions(around, np.full(around.size, rise)) for rise in _RISE]
    down = [_directions(around, np.full(around.size, fall)) for fall in _FALL]
    upright = points @ _about_y(start).T
    kept: set[int] = set()
    for ways in (*level, *down):
        kept.update((upright @ ways.T).argmax(axis=0).tolist())
    return points[sorted(kept)]


def _directions(around: si.Radians, rise: si.Radians) -> si.Ratios:
    return np.column_stack(
        [np.cos(rise) * np.cos(around), np.cos(rise) * np.sin(around), np.sin(rise)]
    )
