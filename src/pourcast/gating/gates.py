"""Gates: which of the ways to a hot spot close too early, and how thick should they be?

Every part between the button and a hot spot is a gate of it.  A rod of wax is made as
thick as both rules ask for: the casting modulus of `pourcast.gating.modulus`, and the
rod that closes no earlier by the freezing that was worked out.  A part of the original
is only rounded up with a coat of wax, by no more than 1 mm and as thick as the second
rule asks for, since every tenth is a tenth of its shape.  Where a blade or a lump stands
in the way, or a coat would be thicker, nothing is proposed here: a feeder goes round it.

Left out: that a thick gate makes the joint a hot spot of its own; short gates, which
the button warms.

Source: common practice: the feed a little thicker than what it joins, straight or
flared and never necked; 1 mm of coat as the most: estimate.
"""

from dataclasses import replace

from pourcast import units as si
from pourcast.forecast.model import Forecast
from pourcast.freeze.feeder import MODULUS_FACTOR
from pourcast.freeze.model import Feeder, HotSpot
from pourcast.gating.bench import THICKER, costs
from pourcast.gating.model import Proposal, WaxPiece
from pourcast.gating.modulus import rod_for
from pourcast.gating.shape import mm_up, way_down
from pourcast.materials import library
from pourcast.piece.measure import measure
from pourcast.piece.model import Part
from pourcast.piece.network import build
from pourcast.sheet.edit import Edit

MOST_COAT = 1e-3
"""Wax that a part of the original is rounded up with, on one side [m]; estimate."""

_SAME = 5e-5  # m; less is not measured with a caliper on wax


def gate_proposals(said: Forecast) -> tuple[Proposal, ...]:
    """Return a proposal for each hot spot whose way to the button can be made thick enough.

    Parameters
    ----------
    said : Forecast

    Returns
    -------
    tuple of Proposal
        The first of those that would change the same parts.
    """
    if said.freeze is None:
        return ()
    spots = {(spot.part, spot.segment): spot for spot in said.freeze.spots}
    found = []
    changed = set()
    for feeder in said.freeze.feeders:
        spot = spots.get((feeder.part, feeder.segment))
        made = _proposal(said, feeder, spot) if spot else None
        if made is not None:
            parts = tuple(edit.path[1] for edit in made.edits if edit.path[0] == "part")
            if parts not in changed:
                changed.add(parts)
                found.append(made)
    return tuple(found)


def _proposal(said: Forecast, feeder: Feeder, spot: HotSpot) -> Proposal | None:
    plan = said.plan
    by_rule = rod_for(spot.modulus)
    edits: list[Edit] = []
    told, wax = [], []
    changed: dict[str, Part] = {}
    for part in way_down(plan.piece, feeder.part)[1:]:
        if part.shape != "rod":
            return None
        waxen = part.material in library().waxes
        asked = max(by_rule, feeder.diameter_by_model) if waxen else feeder.diameter_by_model
        made = _rolled(part, asked) if waxen else _coated(part, asked)
        if made is None:
            return None
        if made[0] is None:
            continue
        edits.append(made[0])
        told.append(made[1])
        changed[part.name] = replace(part, width=made[2], thickness=made[2], coat=made[3])
        wax.append(
            WaxPiece(
                what=f"rod for {part.name}" if waxen else f"wax round {part.name}",
                diameter=max(made[2]) + 2.0 * made[3],
                length=part.length,
                count=part.count,
            )
        )
    if not edits:
        return None
    edits += _wider_gate(said, edits)
    return Proposal(
        name=f"thicker gate to {feeder.part}",
        kind="gate",
        part=feeder.part,
        words=(
            f"{_sentence(told)}, so that the way to the {feeder.part} closes after it: it closes "
            f"{spot.cut_time:.1f} s after the pour and must stay open to {spot.close_time:.1f} s. "
            f"A rod of {1e3 * by_rule:.1f} mm has {MODULUS_FACTOR:g} times the casting modulus "
            f"of what draws on it, the rule; by this freezing "
            f"{1e3 * feeder.diameter_by_model:.1f} mm would do."
        ),
        edits=tuple(edits),
        wax=tuple(wax),
        clean_off=(
            "Wax gates are sawn off as before, with a larger scar; wax on the original is filed "
            "back to its shape"
        ),
        costs=costs(plan, THICKER * len(told), _grown(said, changed)),
    )


def _sentence(told: list[str]) -> str:
    text = ", ".join(told)
    return text[0].upper() + text[1:]


_Made = tuple[Edit | None, str, tuple[si.Metre, si.Metre], si.Metre]


def _rolled(part: Part, asked: si.Metre) -> _Made:
    """Return the edit, its words, and the diameters and coat of a thicker wax rod."""
    bare = asked - 2.0 * part.coat
    ends = (max(part.width[0], bare), max(part.width[1], bare))
    if max(ends[0] - part.width[0], ends[1] - part.width[1]) < _SAME:
        return None, "", part.width, part.coat
    base, tip = mm_up(ends[0]), mm_up(ends[1])
    value = base if base == tip else [base, tip]
    words = (
        f"{part.name} {base:g} mm thick" if base == tip else f"{part.name} {base:g} to {tip:g} mm"
    )
    edit = Edit(path=("part", part.name, "diameter_mm"), value=value)
    return edit, words, (1e-3 * base, 1e-3 * tip), part.coat


def _coated(part: Part, asked: si.Metre) -> _Made | None:
    """Return the same for a coat on a part of the original; None: it would be too thick."""
    coat = 0.5 * (asked - min(part.width))
    if coat - part.coat < _SAME:
        return None, "", part.width, part.coat
    if coat > MOST_COAT:
        return None
    written = mm_up(coat)
    edit = Edit(path=("part", part.name, "coat_mm"), value=written)
    return edit, f"{part.name} rounded up with {written:g} mm of wax", part.width, 1e-3 * written


def _grown(said: Forecast, changed: dict[str, Part]) -> si.CubicMetre:
    """Return by how much the piece grows; what grows on a thicker part is cut to it too."""
    piece = said.plan.piece
    grown = replace(piece, parts=tuple(changed.get(part.name, part) for part in piece.parts))
    return measure(grown, build(grown)).volume - said.measures.volume


def _wider_gate(said: Forecast, edits: list[Edit]) -> list[Edit]:
    """Return the edit of a gate that was written thinner than the rod that begins there."""
    button, first = said.plan.piece.button, said.plan.piece.parts[0]
    value = next((e.value for e in edits if e.path == ("part", first.name, "diameter_mm")), None)
    if value is None:
        return []
    base = value[0] if isinstance(value, list) else value
    assert isinstance(base, float)  # made by `_rolled`
    wide = min(base + 2e3 * first.coat, 1e3 * button.diameter)
    if button.gate_diameter >= 1e-3 * wide or button.gate_diameter >= min(
        first.width[0] + 2.0 * first.coat, button.diameter
    ):
        return []
    return [Edit(path=("button", "gate_diameter_mm"), value=wide)]
