"""Checks: how far may what was learnt be trusted?"""

from itertools import groupby

from pourcast.findings import Finding, in_100, in_100_draws
from pourcast.learn.likelihood import RARE
from pourcast.learn.model import Against, Learnt

LEAST_EFFECTIVE = 100.0
"""Equal draws below which percentiles are rough: a 5th percentile rests on five; estimate."""

ODD_DAY = 0.5
"""Chance that a day was odd from which it is named; estimate."""


def findings(learnt: Learnt) -> tuple[Finding, ...]:
    """Return what the caster should know of what was learnt.

    Parameters
    ----------
    learnt : Learnt
    """
    found = []
    if learnt.outcomes + learnt.tests == 0:
        found.append(
            Finding(
                stage="learn",
                key="nothing-learnt",
                level="WATCH",
                text="There is nothing to learn from yet: no outcome of a plan that was kept "
                "before its pour, and no test.",
                source="the book",
                kind="computed",
            )
        )
    if learnt.effective < LEAST_EFFECTIVE:
        found.append(
            Finding(
                stage="learn",
                key="rough-ranges",
                level="WATCH",
                text=f"The {learnt.draws} draws are worth only {learnt.effective:.0f} after what "
                "was seen: the ranges are rough. Ask for more draws, or look for an entry that "
                "does not fit the others.",
                value=learnt.effective,
                limit=LEAST_EFFECTIVE,
                unit="draws",
                source="effective sample size, Kish (1965)",
                kind="estimate",
            )
        )
    for name, chance in learnt.odd.items():
        if chance > ODD_DAY:
            found.append(
                Finding(
                    stage="learn",
                    key="odd-day",
                    level="WATCH",
                    text=f"What came of {name} does not fit the others: with "
                    f"{in_100(chance)} in 100 it was an odd day. Was something different, or is "
                    "an entry wrong? It counts for little as it stands.",
                    value=100.0 * chance,
                    limit=100.0 * ODD_DAY,
                    unit="in 100",
                    source="weight of the odd day against what the others say",
                    kind="estimate",
                )
            )
    found += _against(learnt)
    if learnt.outcomes + learnt.tests > 0 and learnt.calibration is None:
        found.append(
            Finding(
                stage="learn",
                key="nothing-told-apart",
                level="GOOD",
                text="What was seen tells no value of this studio from another; the forecast "
                "stays as it is. How well it was met is told by pourcast book scores.",
                source="the intervals before and after",
                kind="computed",
            )
        )
    return tuple(found)


def _against(learnt: Learnt) -> list[Finding]:
    """Return the pours of which a part ended plainly against the forecast.

    Parts of one pour share its metal and its flask, so they are told together, as one.
    """
    made = []
    for pour, parts in groupby(learnt.against, key=lambda each: each.pour):
        if learnt.odd.get(pour, 0.0) > ODD_DAY:
            continue  # told as an odd day already
        told = list(parts)
        rarest = min(told, key=_chance)
        others = f" (and {len(told) - 1} more of its parts)" if len(told) > 1 else ""
        made.append(
            Finding(
                stage="learn",
                key="odd-pour",
                level="WATCH",
                text=f"Odd in {pour.partition(': ')[2] or pour}: {_ended(rarest)}{others}. One "
                "casting cannot say whether that was luck, a slip in the sheet or in what was "
                "entered, something that went otherwise on the day, or a thing that no chance "
                "holds, such as ash or a broken piece of mould in the way. Look at the place "
                "before it is cleaned; pourcast diagnose asks what would tell them apart. By "
                "itself it moves little.",
                part=rarest.part,
                value=100.0 * rarest.chance_full,
                limit=100.0 * RARE if rarest.full else 100.0 * (1.0 - RARE),
                unit="in 100",
                source="pours of the kept plan with the book of values; the limit is set by hand",
                kind="estimate",
            )
        )
    return made


def _chance(each: Against) -> float:
    return each.chance_full if each.full else 1.0 - each.chance_full


def _ended(each: Against) -> str:
    fills = f"fills in {in_100_draws(each.chance_full)} of 100 pours"
    if each.full:
        return f"“{each.part}” came whole, which by the book of values {fills}"
    return f"“{each.part}” did not fill, which by the book of values {fills}"
