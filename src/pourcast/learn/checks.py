"""Checks: how far may what was learnt be trusted?"""

from pourcast.findings import Finding, in_100
from pourcast.learn.model import Learnt

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
    if learnt.outcomes + learnt.tests > 0 and learnt.calibration is None:
        found.append(
            Finding(
                stage="learn",
                level="GOOD",
                text="What was seen tells no value of this studio from another; the forecast "
                "stays as it is. How well it was met is told by pourcast book scores.",
                source="the intervals before and after",
                kind="computed",
            )
        )
    return tuple(found)
