"""Levers: every change within the caster's reach but the pushes, each by one step."""

from collections.abc import Iterator

from pourcast.change.ask import Ask
from pourcast.change.heat_levers import heat_levers
from pourcast.change.hold_levers import hold_levers
from pourcast.change.model import Lever, Refused
from pourcast.change.other_levers import other_levers
from pourcast.change.ramp_levers import ramp_levers
from pourcast.change.shape_levers import shape_levers


def levers_by_ends(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield every change but the pushes; which they are hangs on how the plan ends.

    Parameters
    ----------
    ask : Ask
        With the ends of all draws.

    Yields
    ------
    Lever or Refused
    """
    yield from shape_levers(ask)
    yield from heat_levers(ask)
    yield from hold_levers(ask)
    yield from ramp_levers(ask)
    yield from other_levers(ask)


def go_together(one: Lever, other: Lever) -> bool:
    """Return whether two levers can be pulled in one plan.

    Parameters
    ----------
    one, other : Lever

    Returns
    -------
    bool
        False where both move the same key or the curve, or where one needs a file of its own.
    """
    if not one.edits or not other.edits or (one.kind, one.part) == (other.kind, other.part):
        return False
    if "curve" in (one.kind, other.kind) and all(
        any(edit.path[:2] == ("kiln", "step") for edit in lever.edits) for lever in (one, other)
    ):
        return False
    places = [{edit.path for edit in lever.edits if len(edit.path) > 1} for lever in (one, other)]
    return not places[0] & places[1]
