"""Vents: which ends stop because gas cannot leave them, and where would a thread lead?

A thread of wax from the tip of every member of a part, only where members stop for gas
more often than for anything else.  It leads to the open air over the block where the
metal goes in by its weight; under vacuum to the wall of a perforated flask, or to the
far end of a solid one, where the pump draws.

Practice disagrees: vents fill first and rob thin work, and vacuum pours often use none.

Source: threads of 0.8 to 1.5 mm: estimate of the trade.
"""

from pourcast import units as si
from pourcast.findings import in_100
from pourcast.forecast.model import Forecast, PartForecast
from pourcast.gating.bench import VENT, costs, rod_volume
from pourcast.gating.model import Proposal, WaxPiece
from pourcast.gating.shape import has_free_tip, mm_up, tips_of
from pourcast.mould.vents import ways_out
from pourcast.sheet.edit import Edit

THREAD = 1e-3
"""Diameter of a vent thread [m]: the middle of 0.8 to 1.5 mm; estimate of the trade."""

ALMOST_SURE = 0.98
"""A part that fills as often as this is left alone [-]; estimate."""

DISPUTED = (
    "Practice disagrees: vents fill first and rob thin work, and vacuum pours often use none."
)

_SHORTEST = 2e-3  # m
_JOINT = 2e-3  # m of wax melted into the tip


def vent_proposals(said: Forecast) -> tuple[Proposal, ...]:
    """Return a proposal for each part whose ends stop for gas.

    Parameters
    ----------
    said : Forecast

    Returns
    -------
    tuple of Proposal
    """
    vented = {vent.part for vent in said.plan.piece.vents}
    parts = {part.name: part for part in said.plan.piece.parts}
    return tuple(
        _proposal(said, part)
        for part in said.parts
        if part.cause == "gas"
        and part.chance_full < ALMOST_SURE
        and part.name not in vented
        and has_free_tip(said.plan.piece, parts[part.name])
    )


def _proposal(said: Forecast, part: PartForecast) -> Proposal:
    lead, length = _way_out(said, part.name)
    long = mm_up(length)
    gas = in_100(part.causes.get("gas", 0.0))
    to = {
        "air": "up to the open air",
        "wall": "to the wall of the flask, where the pump draws",
        "end": "to the far end, where the pump draws",
    }[lead]
    many = f"each of the {part.count} tips of {part.name}" if part.count > 1 else part.name
    return Proposal(
        name=f"vent {part.name}",
        kind="vent",
        part=part.name,
        words=(
            f"A thread of wax from {many} {to}. Of those that stay short {gas} in 100 stop "
            f"for gas. {DISPUTED}"
        ),
        edits=(
            Edit(
                path=("vent",),
                value={
                    "on": part.name,
                    "diameter_mm": 1e3 * THREAD,
                    "length_mm": long,
                    "leads_to": "air" if lead == "air" else "vacuum",
                },
            ),
        ),
        wax=(
            WaxPiece(
                what="vent thread", diameter=THREAD, length=1e-3 * long + _JOINT, count=part.count
            ),
        ),
        clean_off=f"Nip the threads off the tips of {part.name} and chase each stub",
        costs=costs(said.plan, VENT * part.count, part.count * rod_volume(THREAD, 1e-3 * long)),
    )


def _way_out(said: Forecast, part: str) -> tuple[str, si.Metre]:
    """Return where the threads lead, and the longest of them [m]."""
    plan = said.plan
    if plan.assist.kind == "gravity":
        lead = "air"
    else:
        lead = "wall" if plan.flask.wall == "perforated" else "end"
    ways = ways_out(
        tips_of(said.network, part),
        plan.flask,
        plan.piece.button.height,
        to_pump=lead != "air",
    )
    return lead, max(float(ways.max()), _SHORTEST)
