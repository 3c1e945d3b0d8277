"""Joins: which tips that are starved could take metal from a part beside them?

A thread of wax goes from the tip of every member of a part that stops for cold, or
because the metal behind it has frozen, to the nearest place of another part that fills
more often.  It gives the tip a second feed and makes a ring.

Left out: that two streams may meet cold in a ring, which the forecast of the changed
piece says; whether the eye suffers from the scars.

Source: threads of wax from leaf to leaf: common practice since the old treatises, no
source for sizes; 10 mm as the longest: estimate.
"""

import numpy as np

from pourcast import units as si
from pourcast.forecast.model import Forecast, PartForecast
from pourcast.gating.bench import THREAD as THREAD_TIME
from pourcast.gating.bench import costs, rod_volume
from pourcast.gating.model import Proposal, WaxPiece
from pourcast.gating.shape import (
    WAX_OF_THREADS,
    has_free_tip,
    members_of,
    mm_up,
    tips_of,
    unused,
    way_down,
)
from pourcast.gating.vents import ALMOST_SURE
from pourcast.piece.model import MOST_MEMBERS, Part, first_segments
from pourcast.sheet.edit import Edit

LONGEST = 10e-3
"""Thread between two parts [m]; estimate."""

THREAD = 1e-3
"""Diameter of a thread between two parts [m]; estimate."""

STARVED = ("cold", "choke")
"""Causes that a second feed is for."""

_JOINTS = 4e-3  # m of wax melted into both ends
_SHORTEST = 1e-3  # m


def join_proposals(said: Forecast) -> tuple[Proposal, ...]:
    """Return a proposal for each starved part that has another beside its tips.

    Parameters
    ----------
    said : Forecast

    Returns
    -------
    tuple of Proposal
    """
    parts = {part.name: part for part in said.plan.piece.parts}
    total = said.network.member_part.size
    found = (
        _proposal(said, part, parts)
        for part in said.parts
        if part.cause in STARVED
        and part.chance_full < ALMOST_SURE
        and total + part.count <= MOST_MEMBERS
        and has_free_tip(said.plan.piece, parts[part.name])
    )
    return tuple(each for each in found if each is not None)


def _proposal(said: Forecast, part: PartForecast, parts: dict[str, Part]) -> Proposal | None:
    best: tuple[si.Metre, str, si.Ratio] | None = None
    for other in said.parts:
        beyond = {each.name for each in way_down(said.plan.piece, other.name)}
        if part.name in beyond or parts[part.name].parent == other.name:
            continue
        if other.chance_full <= part.chance_full:
            continue
        way, at = _nearest(said, part.name, other.name)
        if way <= LONGEST and (best is None or way < best[0]):
            best = way, other.name, at
    if best is None:
        return None
    way, beside, at = best
    name = unused(f"thread to {beside}", parts)
    long = mm_up(max(way, _SHORTEST))
    many = f"each of the {part.count} tips of {part.name}" if part.count > 1 else part.name
    return Proposal(
        name=f"join {part.name} to {beside}",
        kind="join",
        part=part.name,
        words=(
            f"A thread of wax from {many} to the {beside} beside it, at most {long:g} mm away. "
            f"{part.name} is starved: it stays short for {_cause(part)}, and {beside} fills more "
            "often. Where both streams meet they may meet cold."
        ),
        edits=(
            Edit(
                path=("part",),
                value={
                    "name": name,
                    "on": part.name,
                    "at": 1.0,
                    "shape": "rod",
                    "length_mm": long,
                    "diameter_mm": 1e3 * THREAD,
                    "material": WAX_OF_THREADS,
                    "tip_on": beside,
                    "tip_at": at,
                },
            ),
        ),
        wax=(
            WaxPiece(
                what="thread", diameter=THREAD, length=1e-3 * long + _JOINTS, count=part.count
            ),
        ),
        clean_off=f"Cut the threads out between {part.name} and {beside} and chase both ends",
        costs=costs(
            said.plan, THREAD_TIME * part.count, part.count * rod_volume(THREAD, 1e-3 * long)
        ),
    )


def _cause(part: PartForecast) -> str:
    return "cold" if part.cause == "cold" else "a neck that froze behind it"


def _nearest(said: Forecast, part: str, other: str) -> tuple[si.Metre, si.Ratio]:
    """Return the longest way from a tip to the other part, and the place that makes it least."""
    network = said.network
    tips = tips_of(network, part)
    first = first_segments(network)
    members = members_of(network, other)
    lengths = network.length[first[members[0]] : first[members[0] + 1]]
    share = np.cumsum(lengths) / lengths.sum()
    ends = np.stack([network.end_position[first[m] : first[m + 1]] for m in members])
    apart = tips[:, None, None, :] - ends[None, :, :, :]
    # Nearest member for each tip, the farthest of the tips, the best place along the part.
    ways = np.sqrt((apart**2).sum(axis=3)).min(axis=1).max(axis=0)
    place = int(ways.argmin())
    return float(ways[place]), round(float(share[place]), 3)
