"""Two plans side by side, in words; page and terminal share it."""

from collections.abc import Mapping, Sequence

from pourcast import units as si
from pourcast.change import as_written
from pourcast.change.compared import Comparison, Difference
from pourcast.change.model import NOISE, PartMove
from pourcast.findings import in_100_draws
from pourcast.page.figures import clean, grams, in_100
from pourcast.page.names import CAUSES
from pourcast.page.words_change import WITHIN, gain, signed
from pourcast.pour.model import Cause

NOTHING_DIFFERS = "The two files say the same."


def part_gain(move: PartMove) -> str:
    """Return the gain of one part in 100 pours, or that it is within the noise."""
    moved_by = move.after - move.before
    if moved_by == 0.0:
        return "the same"
    if abs(moved_by) <= NOISE * move.standard_error:
        return WITHIN
    return signed(moved_by, move.standard_error)


def the_same(moves: Sequence[PartMove]) -> str:
    """Return the parts with which no pour ends otherwise, those of one count together."""
    named: dict[str, list[str]] = {}
    for move in moves:
        named.setdefault(in_100_draws(move.before), []).append(f"“{clean(move.name)}”")
    said = [f"{often} of {', '.join(names)}" for often, names in named.items()]
    return f"The same in both: {'; '.join(said)}."


def compared(said: Comparison) -> str:
    """Return the answer on two plans in a sentence or two."""
    a, b = in_100_draws(said.one.chance), in_100_draws(said.other.chance)
    if said.gain == 0.0 and said.standard_error == 0.0:
        answer = f"{_upper(a)} whole in 100 pours with both: any difference is {WITHIN}."
    elif not said.beyond_noise:
        answer = f"{_upper(a)} against {b} whole in 100 pours: the difference is {WITHIN}."
    else:
        better = "second" if said.gain > 0.0 else "first"
        answer = (
            f"{_upper(a)} against {b} whole in 100 pours: the {better} plan is better, "
            f"{gain(said)} in 100."
        )
    return f"{answer}{_stopped(said)}"


def _stopped(said: Comparison) -> str:
    """Return which of two plans has what must stop the caster, whatever its chance."""
    if said.one.stops and said.other.stops:
        return " Each has something that stops it as it stands."
    if said.one.stops or said.other.stops:
        which = "first" if said.one.stops else "second"
        return f" The {which} has something that stops it as it stands."
    return ""


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def difference(each: Difference) -> str:
    """Return one key in which two plans differ: "flask at the pour: 600 against 650 °C"."""
    if {each.one, each.other} == {"yes", "no"}:
        return f"{clean(each.words)}: in the {'first' if each.one == 'yes' else 'second'} alone"
    other = with_its_unit(each.other, each)
    # A unit that is told with the second number is not told with the first.
    one = clean(each.one) if other != clean(each.other) else with_its_unit(each.one, each)
    return f"{clean(each.words)}: {one} against {other}"


def with_its_unit(value: str, each: Difference) -> str:
    """Return one of two differing values as it stands alone: "600 °C", "not said"."""
    return as_written.with_its_unit(clean(value), each)


def causes(shares: Mapping[Cause, si.Ratio]) -> str:
    """Return how often each cause stops a part, the commonest first."""
    ranked = sorted(shares.items(), key=lambda pair: -pair[1])
    return (
        ", ".join(f"{CAUSES[cause]} in {in_100(share)} of 100" for cause, share in ranked) or "none"
    )


def masses(said: Comparison) -> str:
    """Return what both plans take in metal and powder."""
    one, other = said.one, said.other
    metal = _pair(grams(one.metal), grams(other.metal))
    powder = _pair(grams(one.powder), grams(other.powder))
    return f"Metal: {metal}; powder: {powder}."


def _pair(one: str, other: str) -> str:
    return f"{one} in both" if one == other else f"{one} against {other}"


def what_stops(which: str, shares: Mapping[Cause, si.Ratio]) -> str:
    """Return what stops the parts of one plan, as a sentence."""
    if not shares:
        return f"Nothing stops a part of the {which}."
    return f"What stops a part of the {which}: {causes(shares)}."
