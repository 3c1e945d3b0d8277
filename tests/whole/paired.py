"""Two plans poured with the same draws, so that what differs is the plans and not luck."""

from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.forecast.chances import Members, members
from pourcast.forecast.draws import pour_case
from pourcast.forecast.prepare import prepare
from pourcast.piece.model import Part, Piece
from pourcast.pour.solve import solve
from pourcast.sheet.model import Assist, Plan
from tests.forecast.hand import example


@dataclass(frozen=True, slots=True, kw_only=True)
class Poured:
    """How each draw ends: every member, every part and the share of the length filled."""

    ends: Members
    full: dict[str, si.Booleans]
    share: si.Ratios

    def chance(self, part: str) -> float:
        """Return the chance that every member of a part fills."""
        return float(self.full[part].mean())


def pour(plan: Plan, draws: int) -> Poured:
    """Pour a plan, draw by draw, as a forecast does."""
    ready = prepare(plan, None, draws, 0)
    network = ready.network
    case = pour_case(
        plan,
        network,
        ready.measures,
        ready.mould,
        ready.metal,
        ready.drawn,
        ready.scale,
        ready.seed,
    )
    ends = members(network, solve(ready.poured, case), ready.book.pour["full_share"].si)
    length = np.bincount(network.member, weights=network.length)
    return Poured(
        ends=ends,
        full={
            name: np.asarray(ends.full[:, network.member_part == number].all(axis=1))
            for number, name in enumerate(network.part_names)
        },
        share=np.asarray(ends.share @ length / length.sum()),
    )


def lost(before: Poured, after: Poured, part: str) -> int:
    """Return in how many draws a part filled before and does not any more."""
    return int((before.full[part] & ~after.full[part]).sum())


def won(before: Poured, after: Poured, part: str) -> int:
    """Return in how many draws a part fills now and did not before."""
    return lost(after, before, part)


def by_gravity(plan: Plan) -> Plan:
    """Return the plan without its pump; vents lead to the air."""
    vents = tuple(replace(vent, leads_to="air") for vent in plan.piece.vents)
    return replace(plan, assist=Assist(kind="gravity"), piece=replace(plan.piece, vents=vents))


def rod(name: str, parent: str, length_mm: float, diameter_mm: float, **changes: object) -> Part:
    """Return a rod of one thickness that goes straight on from the tip of its parent."""
    part = Part(
        name=name,
        parent=parent,
        shape="rod",
        count=1,
        length=length_mm * 1e-3,
        width=(diameter_mm * 1e-3, diameter_mm * 1e-3),
        thickness=(diameter_mm * 1e-3, diameter_mm * 1e-3),
        position=(1.0, 1.0),
        angle=0.0,
        turn=0.0,
        turn_step=1.0,
        bend=0.0,
        coat=0.0,
        material="leaf",
    )
    return replace(part, **changes)  # type: ignore[arg-type]


def floret(thickness_mm: float) -> Part:
    """Return six flat florets, 5 mm wide and 10 mm long, on the stem."""
    thick = thickness_mm * 1e-3
    return rod(
        "floret", "stem", 10.0, 1.0, shape="blade", count=6, width=(5e-3, 5e-3),
        thickness=(thick, thick), position=(0.4, 0.9), angle=1.0,
    )  # fmt: skip


def plan_of(*parts: Part, like: str = "sea_holly") -> Plan:
    """Return the plan of a demo piece with other parts on its button and metal enough."""
    plan = example(like)
    piece: Piece = replace(plan.piece, parts=parts, vents=())
    charge = replace(plan.charge, on_hand=None, returns=None)
    return replace(plan, piece=piece, charge=charge)
