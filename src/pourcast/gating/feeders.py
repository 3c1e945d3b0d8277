"""Feeders: which wax rods from the button would feed the hot spots?

A rod of the diameter that `pourcast.freeze.feeder` found goes from the gate to the hot
spot, one to each member of its part.  A part of the piece file on the button begins in
the middle of the gate, so a rod that went straight would lie in the stem.  It is bowed:
it sets off at the angle a + β from the way straight to the spot and bends back by 2β,
with the least β of 0 to 60° that keeps 1 mm of mould between it and the piece.

Left out: that the hand puts a feeder beside the stem on the rim of the gate, which the
piece file cannot say; more than six feeders to one part, which no one fits.

Source: geometry of an arc; 1 mm of mould as the least between two parts: estimate of
the trade.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.findings import in_100
from pourcast.forecast.model import Forecast
from pourcast.freeze.feeder import MODULUS_FACTOR
from pourcast.freeze.model import Feeder, HotSpot
from pourcast.gating.bench import FEEDER, costs, rod_volume
from pourcast.gating.model import Proposal, WaxPiece
from pourcast.gating.shape import (
    WAX_OF_RODS,
    degrees,
    members_of,
    mm,
    mm_up,
    share_along,
    unused,
)
from pourcast.mould.checks import LEAST_WALL
from pourcast.mould.gaps import NARROW
from pourcast.piece.frames import arc, away, branch, cross, gate_frame
from pourcast.piece.model import Network, first_segments
from pourcast.sheet.edit import Edit

MOST_FEEDERS = 6
"""Rods to the members of one part; our own choice."""

THICKEST = 1.5
"""Feed over the section that it joins, most that is usual; common practice, one voice."""

_BOWS = np.radians(np.arange(0.0, 61.0, 10.0))
_SIDES = np.radians(np.arange(0.0, 360.0, 30.0))
_ALONG = np.linspace(0.0, 1.0, 21)
_CLEAR_FROM, _CLEAR_TO = 6, 16  # places of these that must stand clear of the piece
_STRAIGHT = math.radians(2.0)  # nearer than this to the way of the piece any side will do
_SHORTEST = 2e-3  # m
_JOINTS = 3e-3  # m of wax melted into the joints


def feeder_proposals(said: Forecast) -> tuple[Proposal, ...]:
    """Return a proposal for each hot spot that a feeder was found for.

    Parameters
    ----------
    said : Forecast

    Returns
    -------
    tuple of Proposal
        None where nothing is cut off from the button while it shrinks.
    """
    if said.freeze is None:
        return ()
    spots = {(spot.part, spot.segment): spot for spot in said.freeze.spots}
    made = (
        _proposal(said, feeder, spots[feeder.part, feeder.segment])
        for feeder in said.freeze.feeders
        if (feeder.part, feeder.segment) in spots
    )
    return tuple(each for each in made if each is not None)


def _proposal(said: Forecast, feeder: Feeder, spot: HotSpot) -> Proposal | None:
    network, plan = said.network, said.plan
    members = members_of(network, feeder.part)
    if members.size > MOST_FEEDERS:
        return None
    first = first_segments(network)
    offset = feeder.segment - int(first[network.member[feeder.segment]])
    at = round(share_along(network, feeder.segment), 3)
    diameter = mm_up(feeder.diameter)
    taken = [part.name for part in plan.piece.parts]
    edits, lengths, clear = [], [], []
    for member in members:
        segment = int(first[member]) + offset
        angle, turn, bend, length, room = _rod(said, segment, feeder.diameter)
        name = unused(f"feeder to {feeder.part}", taken)
        taken.append(name)
        lengths.append(length)
        clear.append(room)
        table = {
            "name": name,
            "on": "button",
            "shape": "rod",
            "length_mm": mm(length),
            "diameter_mm": diameter,
            "angle_deg": degrees(angle),
            "turn_deg": degrees(turn),
            "bend_deg": degrees(bend),
            "material": WAX_OF_RODS,
            "tip_on": feeder.part,
            "tip_at": at,
        }
        edits.append(Edit(path=("part",), value=table))
    longest = max(lengths)
    many = f"{len(lengths)} feeders, one to each" if len(lengths) > 1 else "A feeder to the"
    return Proposal(
        name=f"feeder to {feeder.part}",
        kind="feeder",
        part=feeder.part,
        words=f"{many} {feeder.part}. {_why(said, feeder, spot)}{_room(clear)}",
        edits=tuple(edits),
        wax=(
            WaxPiece(
                what="feeder",
                diameter=1e-3 * diameter,
                length=longest + _JOINTS,
                count=len(lengths),
            ),
        ),
        clean_off=(
            f"Saw {'each' if len(lengths) > 1 else 'it'} off 1 to 2 mm from the {feeder.part} "
            f"and file and chase a scar {diameter:.1f} mm across"
        ),
        costs=costs(
            plan,
            FEEDER * len(lengths),
            sum(rod_volume(1e-3 * diameter, length) for length in lengths),
        ),
    )


def _why(said: Forecast, feeder: Feeder, spot: HotSpot) -> str:
    network = said.network
    section = float(network.thickness[feeder.segment].mean())
    times = feeder.diameter / section
    where = (
        f"the {spot.neck} closes first while the {spot.part} still shrinks"
        if spot.neck not in ("", spot.part)
        else f"a place of the {spot.part} is cut off while it still shrinks"
    )
    unfed = 1e9 * spot.total
    # Ten times the volume is no better known: no more figures than count.
    volume = f"{unfed:.1f}" if unfed < 10.0 else f"{unfed:.0f}"
    by_rule, by_model = 1e3 * feeder.diameter_by_modulus, 1e3 * feeder.diameter_by_model
    text = (
        f"In {in_100(spot.chance)} of 100 pours {where}, and {volume} mm³ of it are left "
        f"unfed. A rod of {by_rule:.1f} mm has {MODULUS_FACTOR:g} times its casting modulus, the "
        f"rule; by this freezing {by_model:.1f} mm would do."
    )
    if times > THICKEST:
        text += (
            f" That is {times:.1f} times what it joins, where practice stays under {THICKEST:g}: "
            "a thinner one feeds for a shorter time, and a thick one may leave a hole at the joint."
        )
    return text


def _room(clear: list[si.Metre]) -> str:
    if min(clear) >= NARROW:
        return " See that nothing of the piece stands in its way."
    return (
        " No bow keeps 1 mm of mould between it and the piece, or it from the flask: look whether "
        "there is room for it at all, and lay it by hand."
    )


def _rod(
    said: Forecast, segment: int, diameter: si.Metre
) -> tuple[si.Radian, si.Radian, si.Radian, si.Metre, si.Metre]:
    """Return angle, turn, bend and length of a bowed rod to a segment, and its least mould."""
    network = said.network
    goal = 0.5 * (network.start_position[segment] + network.end_position[segment])
    straight = float(np.sqrt((goal**2).sum()))
    down, side = gate_frame(said.plan.piece.button.tilt)
    chord = goal / straight
    other = cross(down, side)
    angle = math.acos(min(max(float(chord @ down), -1.0), 1.0))
    turn = math.atan2(float(chord @ other), float(chord @ side))
    turns = [turn, *(_SIDES if angle < _STRAIGHT else ())]
    best: tuple[float, float, float, float] | None = None
    clearest = -math.inf
    for bow in _BOWS:
        length = straight * (float(bow) / math.sin(bow) if bow > 0.0 else 1.0)
        for about in turns:
            # A rod straight along the piece bows to any side; its end is off by under 2°.
            base = 0.0 if about != turn else angle
            outward = away(down, side, np.asarray(float(about)))
            way, its_side = branch(down, outward, base + float(bow))
            line, _, _ = arc(
                np.zeros((1, 3)), way[None], its_side[None], length, -2.0 * float(bow), _ALONG
            )
            clear = _clearance(said, segment, line[0], 0.5 * diameter)
            if clear > clearest + 1e-5:
                clearest = clear
                best = base + float(bow), float(about), -2.0 * float(bow), length
        if clearest >= NARROW:
            break
    assert best is not None  # a way is better than none
    half = 0.5 * float(network.thickness[segment].mean())
    return best[0], best[1], best[2], max(best[3] - half, _SHORTEST), clearest


def _clearance(said: Forecast, segment: int, line: si.Metres, radius: si.Metre) -> si.Metre:
    """Return the least mould between a rod and the piece, or the flask [m]."""
    network = said.network
    free = line[_CLEAR_FROM : _CLEAR_TO + 1]
    wall = 0.5 * said.plan.flask.inside_diameter - LEAST_WALL + NARROW
    beside = wall - float(np.hypot(free[:, 0], free[:, 1]).max()) - radius
    others = network.member != network.member[segment]
    if not others.any():
        return beside
    middle, half = _balls(network, others)
    apart = np.sqrt(((free[:, None, :] - middle[None, :, :]) ** 2).sum(axis=2)) - half[None, :]
    return min(beside, float(apart.min()) - radius)


def _balls(network: Network, chosen: si.Booleans) -> tuple[si.Metres, si.Metres]:
    """Return segments as balls on both ends and the middle: places and radii."""
    start, end = network.start_position[chosen], network.end_position[chosen]
    half = 0.5 * np.maximum(network.thickness, 0.0)[chosen].max(axis=1)
    return np.concatenate([start, 0.5 * (start + end), end]), np.tile(half, 3)
