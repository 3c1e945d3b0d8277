"""Proposals: changes of wax, lean and flask that `pourcast.gating` makes, as levers.

A proposal claims no gain; as a lever it is poured and ranked like any other.  Wax that
it adds (a feeder, a second sprue) is no part of the work: whether that fills does not
count, only whether the parts that stood before do.
"""

from collections.abc import Sequence
from dataclasses import replace

from pourcast import units as si
from pourcast.change.ask import shown
from pourcast.change.edit_plan import changed
from pourcast.change.model import Cost, Lever, LeverKind, Refused
from pourcast.change.shape_levers import counted
from pourcast.errors import InputError, SheetError
from pourcast.gating.model import Proposal, ProposalKind, WaxPiece
from pourcast.sheet.model import Plan

_KINDS: dict[ProposalKind, LeverKind] = {
    "feeder": "feeder",
    "gate": "gate",
    "vent": "vent",
    "join": "join",
    "tilt": "tilt",
    "flask": "flask",
}


def levers_of_proposals(
    plan: Plan, text: str | None, proposals: Sequence[Proposal]
) -> tuple[Lever | Refused, ...]:
    """Return proposals as levers, or why a changed piece file cannot be read.

    Parameters
    ----------
    plan : Plan
    text : str or None
        The piece file; proposals that add a part need it.
    proposals : sequence of Proposal

    Returns
    -------
    tuple of Lever or Refused
    """
    return tuple(_lever(plan, text, proposal) for proposal in proposals)


def _lever(plan: Plan, text: str | None, proposal: Proposal) -> Lever | Refused:
    lever = Lever(
        kind=_KINDS[proposal.kind],
        moved=proposal.name,
        act=_act(proposal),
        before="as it is",
        after="changed",
        unit="",
        edits=proposal.edits,
        plan=plan,
        part=proposal.part,
        cost=Cost(
            time=proposal.costs.bench,
            metal=proposal.costs.metal,
            words=_costs(proposal),
        ),
    )
    try:
        return replace(lever, plan=changed(plan, proposal.edits, text))
    except (InputError, SheetError) as fault:
        return Refused(lever=lever, reason=str(fault))


def _costs(proposal: Proposal) -> str:
    """Return the wax to cut, and where it is taken off afterwards."""
    many = sum(wax.count for wax in proposal.wax)
    said = [_wax(wax) for wax in proposal.wax]
    if proposal.kind == "vent":
        said[-1] += f" and {'its stub' if many == 1 else 'their stubs'} to clean"
    elif proposal.clean_off:
        said.append(proposal.clean_off[:1].lower() + proposal.clean_off[1:])
    return "; ".join(said)


def _wax(wax: WaxPiece) -> str:
    across = shown(si.from_si(wax.diameter, "mm"), 2)
    long = f"{si.from_si(wax.length, 'mm'):.0f}"
    return f"{counted(wax.count, wax.what)} of {across} mm, {long} mm long"


def _act(proposal: Proposal) -> str:
    if proposal.kind == "vent" and proposal.part is not None:
        return f"Vent “{proposal.part}”"
    if proposal.kind == "tilt":
        said = {edit.path[-1]: edit.value for edit in proposal.edits}
        turned = ", turned too" if "turn_deg" in said else ""
        return f"{_upper(proposal.name)}, to {said.get('tilt_deg')}° on its button{turned}"
    return _upper(proposal.name)


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
