"""What to change first, in words; page and terminal share it.

A chance is told in 100 pours.  A gain or loss that luck makes on one row or another of such
a table more often than once in 20 times is told as within the noise.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from pourcast import units as si
from pourcast.change.compared import Comparison
from pourcast.change.document import cost_note
from pourcast.change.model import (
    NOISE,
    Change,
    Lever,
    Ranking,
    TrialPour,
)
from pourcast.findings import in_100_draws
from pourcast.page.figures import clean, in_100

NEARLY_ALL = 0.995
"""Chance from which on there is nothing to win that so many pours could show."""

WITHIN = "within the noise"


def as_told(ranking: Ranking) -> Ranking:
    """Return a ranking whose sentences are told in the unit of the caster.

    Parameters
    ----------
    ranking : Ranking
    """
    told = ranking.plan.speech.text
    return replace(
        ranking,
        changes=tuple(_as_told(change, told) for change in ranking.changes),
        combinations=tuple(_as_told(change, told) for change in ranking.combinations),
        refused=tuple(
            replace(each, lever=_lever_told(each.lever, told), reason=told(each.reason))
            for each in ranking.refused
        ),
        stops=tuple(map(told, ranking.stops)),
    )


def _as_told(change: Change, told: Callable[[str], str]) -> Change:
    return replace(
        change,
        levers=tuple(_lever_told(lever, told) for lever in change.levers),
        mends=tuple(map(told, change.mends)),
        reveals=tuple(map(told, change.reveals)),
        eases=tuple(map(told, change.eases)),
        rights=tuple(map(told, change.rights)),
    )


def _lever_told(lever: Lever, told: Callable[[str], str]) -> Lever:
    cost = replace(lever.cost, risk=told(lever.cost.risk))
    return replace(lever, act=told(lever.act), moved=told(lever.moved), cost=cost)


def first(ranking: Ranking) -> str:
    """Return the answer: the best change in one sentence, or that none is worth it."""
    best = next(iter(ranking.changes), None)
    if best is not None and (best.cures or best.puts_right):
        return f"{sentence(best)} {mended(best)}{_alike(ranking, best)}{_left(ranking, best)}"
    if ranking.stops:
        return f"{_stopped(ranking)} {_first_of_filling(ranking)}"
    return _first_of_filling(ranking)


def _first_of_filling(ranking: Ranking) -> str:
    best = next(iter(ranking.changes), None)
    helps = ranking.chance < NEARLY_ALL and best and best.gain > 0.0 and best.beyond_noise
    if best and helps:
        return f"{sentence(best)}{_alike(ranking, best)}"
    eased = f" {acts(best)}: {mended(best)}" if best and best.eases else ""
    if ranking.chance >= NEARLY_ALL:
        nothing = "Nothing" if not ranking.stops and not eased else "Nothing for the filling"
        return (
            f"{nothing}: {in_100_draws(ranking.chance)} of 100 pours come out whole as it is "
            f"planned.{eased}"
        )
    return (
        "No single change within reach buys more than the noise of "
        f"{ranking.draws} pours. It stands at {in_100_draws(ranking.chance)} in 100.{eased}"
    )


def _stopped(ranking: Ranking) -> str:
    """Return what stops a plan where no change within reach takes it away."""
    told = "; ".join(text.split(". ")[0].rstrip(".") for text in ranking.stops)
    return clean(f"Mend first what stops the plan, which no change below does: {told}.")


def _alike(ranking: Ranking, best: Change) -> str:
    """Return which other changes stand in the first place too, as the end of the answer."""
    named = [acts(one) for one in ranking.changes if one is not best and same_place(one, best)]
    return f" As good, as far as {ranking.draws} pours can tell: {'; '.join(named)}." * bool(named)


def _left(ranking: Ranking, best: Change) -> str:
    """Return what a change that mends leaves to do: what still stops, and what wins most then."""
    stops = [text.split(". ")[0].rstrip(".") for text in ranking.stops if text not in best.mends]
    said = f" This still stops the plan: {clean('; '.join(stops))}." * bool(stops)
    wins = (
        one
        for one in ranking.changes
        if one.beyond_noise and one.gain > 0.0 and not one.cures and not one.puts_right
    )
    then = next(wins, None)
    if then is not None:
        said += f" Next: {acts(then)}, {moved(then)} by itself."
    return said


def same_place(one: Change, other: Change) -> bool:
    """Return whether two changes cannot be told apart, each of them a help."""
    helps = all(each.cures or (each.beyond_noise and each.gain > 0.0) for each in (one, other))
    return helps and one.place is not None and one.place == other.place


def beside(change: Change, above: Change | None) -> str:
    """Return what a row is beside the one above it, for the table; "" if plainly less."""
    if not change.beyond_noise:
        return WITHIN
    if above is not None and same_place(change, above):
        pours = min(change.draws, above.draws)
        return f"as good as the one above, as far as {pours} pours can tell"
    return ""


def rows(changes: Sequence[Change]) -> tuple[tuple[Change, str], ...]:
    """Return the rows of the table, each with its last cell: its place, and what it costs.

    Parameters
    ----------
    changes : sequence of Change
        In their order, those that move nothing left out.
    """
    return tuple(
        (each, "; ".join(filter(None, (beside(each, above), cost_note(each)))))
        for above, each in zip((None, *changes), changes, strict=False)
    )


def stands_out(change: Change) -> bool:
    """Return whether a row is more than luck and worth it: it helps, cures or puts right."""
    return (change.beyond_noise and change.gain > 0.0) or change.cures or change.puts_right


def sentence(change: Change) -> str:
    """Return one change with what it buys and what it costs.

    "Vent “spine”: 62 to 81 in 100; costs nine wax wires and their stubs to clean."
    """
    what = acts(change)
    moves = moved(change)
    note = cost_note(change)
    if not change.beyond_noise:
        cost = f"; costs {note}" * bool(note and (change.cures or change.puts_right))
        return f"{what}: {moves}, {WITHIN}{cost}."
    if change.gain < 0.0 and not (change.cures or change.puts_right):
        return f"{what}: {moves}. Do not."
    if change.gain < 0.0:
        note += "; fewer fill by it, and it is to be done all the same"
    return f"{what}: {moves}; costs {note}." if note else f"{what}: {moves}."


def acts(change: Change) -> str:
    """Return what to do; of several acts the later ones within the sentence."""
    named = [clean(lever.act) for lever in change.levers]
    later = [act[:1].lower() + act[1:] for act in named[1:]]
    return " and ".join([named[0], *later]) if len(later) < 2 else _listed(named[0], later)


def _listed(start: str, later: list[str]) -> str:
    return f"{start}, {', '.join(later[:-1])} and {later[-1]}"


def moved(change: Change) -> str:
    """Return the two chances: "62 to 81 in 100"."""
    before, after = in_100_draws(change.chance_before), in_100_draws(change.chance_after)
    return f"{before} to {after} in 100"


def gain(change: Change | Comparison) -> str:
    """Return the gain in 100 pours with its give or take: "+19 ± 3"."""
    return signed(change.gain, change.standard_error)


def signed(moved_by: si.Ratio, error: si.Ratio) -> str:
    """Return a difference in 100 pours with its give or take: "+19 ± 3"."""
    sign = "−" if moved_by < 0.0 else "+"
    return f"{sign}{_tenths(abs(moved_by))} ± {_tenths(NOISE * error)}"


def _tenths(share: si.Ratio) -> str:
    value = 100.0 * share
    return f"{value:.0f}" if value >= 10.0 else f"{value:.1f}".removesuffix(".0")


def part_moves(change: Change) -> str:
    """Return which parts a change moves beyond the noise; "" if none."""
    said = [
        f"“{clean(move.name)}” {in_100_draws(move.before)} to {in_100_draws(move.after)}"
        for move in change.parts
        if abs(move.after - move.before) > NOISE * move.standard_error
    ]
    return f"In 100 pours every one fills: {'; '.join(said)}." if said else ""


def warnings_of(change: Change) -> str:
    """Return what may go wrong by a change, what detail it takes, and what it leaves to mend."""
    reveals = [f"Once it fills: {text}" for text in change.reveals]
    return clean(" ".join(filter(None, (change.cost.risk, change.cost.detail, *reveals))))


def mended(change: Change) -> str:
    """Return what is wrong with the plan and would not be after a change; "" if nothing."""
    said = [
        f"It {does}: {'; '.join(told)}."
        for does, texts in (
            ("takes away what stops the plan", change.mends),
            ("puts right what is out of the usual", change.rights),
            ("takes away what the burnout warns of", () if change.mends else change.eases),
        )
        if (told := [text.split(". ")[0].rstrip(".") for text in texts])
    ]
    return clean(" ".join(said))


def idle(changes: Sequence[Change]) -> tuple[Change, ...]:
    """Return the changes with which no pour ends otherwise, and that mend nothing else."""
    return tuple(
        each
        for each in changes
        if each.gain == 0.0 and each.standard_error == 0.0 and not mended(each)
    )


def moves_nothing(changes: Sequence[Change]) -> str:
    """Return what moves nothing as one sentence: rows of noughts tell no more."""
    few, most = min(each.draws for each in changes), max(each.draws for each in changes)
    pours = f"{most}" if few == most else f"{few} to {most}"
    return f"With these none of {pours} pours ends otherwise: {'; '.join(map(acts, changes))}."


def together(ranking: Ranking) -> str:
    """Return the best of two and three together, or that no more than one is worth it."""
    if ranking.combinations:
        return sentence(ranking.combinations[-1])
    if not ranking.looked_at:
        return ""
    return "No second change adds more than the noise."


def refused(ranking: Ranking) -> list[str]:
    """Return each change that is not offered, and why."""
    return [f"{clean(each.lever.act)}: {clean(each.reason)}" for each in ranking.refused]


def trial(told: TrialPour) -> str:
    """Return what a trial pour of another specimen would teach."""
    worth = told.with_trial - told.without
    name = f"“{clean(told.specimen)}”"
    taken = f"It takes away {in_100(told.spread_taken)} in 100 of the spread of the outcome."
    if worth <= NOISE * told.standard_error:
        return (
            f"A trial pour of {name} first would not change what to do: "
            f"its worth is {WITHIN}. {taken}"
        )
    return (
        f"A trial pour of {name} first, and then the change that it speaks for: "
        f"{in_100_draws(told.without)} to {in_100_draws(told.with_trial)} in 100. {taken}"
    )


def rests_on(ranking: Ranking) -> str:
    """Return how the figures were made, and what is not in them."""
    return (
        f"{poured(ranking)}; seed {ranking.seed}. "
        "Minutes of work are estimates. The chance speaks of filling alone. Within the noise: "
        "luck alone shows as much on some row of more than 1 in 20 such tables."
    )


def poured(ranking: Ranking) -> str:
    """Return over how many pours the changes were counted: not all of them over all."""
    said = f"{ranking.draws} pours with the same draws for each change"
    least = min((each.draws for each in ranking.changes), default=ranking.draws)
    if least == ranking.draws:
        return said
    return f"{said}, fewer ({least} or more) for one that could not come to the front"
