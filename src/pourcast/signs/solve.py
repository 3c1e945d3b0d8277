"""Diagnose: which causes fit what was seen and what is on record, best first.

Model.  A cause of a sign that was seen begins with points for how usual it is:
place k of n causes, counted from 0, gets (n - k) / n, and a sign that may be
meant gets 1 / (1 + place of the sign among those that may be).  Each tell on
record adds or takes 2 points:

    points = usual + 2 (tells that fit - tells that do not)                 (1)

So one tell outweighs any order of usualness.  Causes with as many points stay in
the order of the table.  A cause is dropped where more tells speak against it
than for it.  Up to three are told; with none left it is not known.

Left out: how strongly each tell speaks; all count alike.  Points are no chance.
Source: common practice, no source; the weights are an estimate.
"""

from collections import Counter
from collections.abc import Mapping, Sequence

from pourcast.errors import InputError
from pourcast.signs.model import Answer, Cause, Diagnosis, Likely, Sign
from pourcast.signs.table import LOOKS_LIKE, SIGNS
from pourcast.signs.tells import TELLS

MOST_CAUSES = 3
MOST_QUESTIONS = 3
_TELL = 2.0  # points; estimate


def diagnose(seen: Sequence[str], record: Mapping[str, Answer]) -> Diagnosis:
    """Return which causes fit best.

    Parameters
    ----------
    seen : sequence of str
        Signs of `pourcast.signs.table.SIGNS`, or words of `LOOKS_LIKE`.
    record : mapping of str to {"yes", "no"}
        Tells of `pourcast.signs.tells.TELLS` that are known of this pour.

    Returns
    -------
    Diagnosis

    Raises
    ------
    InputError
        If a sign or a tell is not known.
    """
    for key, answer in record.items():
        if key not in TELLS:
            raise InputError("tell", key, "", "one of " + ", ".join(TELLS))
        if answer not in ("yes", "no"):
            raise InputError(key, answer, "", "yes or no")
    weighed = [
        _weigh(sign, cause, usual / (1 + place), record)
        for sign, place in _signs(seen)
        for cause, usual in _usual(sign)
    ]
    fitting = [each for each in weighed if len(each.speaks_against) <= len(each.speaks_for)]
    best = sorted(fitting, key=lambda each: -each.points)
    likely = _each_cause_once(best)[:MOST_CAUSES]
    return Diagnosis(likely=tuple(likely), ask=_questions(likely))


def _signs(seen: Sequence[str]) -> list[tuple[Sign, int]]:
    """Return the signs that may be meant, each with its place among those of one word."""
    found: dict[str, int] = {}
    for word in seen:
        keys = (word,) if word in SIGNS else LOOKS_LIKE.get(word)
        if keys is None:
            raise InputError("sign", word, "", "one of " + ", ".join((*SIGNS, *LOOKS_LIKE)))
        for place, key in enumerate(keys):
            found[key] = min(place, found.get(key, place))
    return [(SIGNS[key], place) for key, place in found.items()]


def _usual(sign: Sign) -> list[tuple[Cause, float]]:
    count = len(sign.causes)
    return [(cause, (count - place) / count) for place, cause in enumerate(sign.causes)]


def _weigh(sign: Sign, cause: Cause, usual: float, record: Mapping[str, Answer]) -> Likely:
    fits = tuple(tell.key for tell in cause.tells if record.get(tell.key) == tell.expected)
    unknown = tuple(tell.key for tell in cause.tells if tell.key not in record)
    against = tuple(tell.key for tell in cause.tells if tell.key in record and tell.key not in fits)
    return Likely(
        sign=sign,
        cause=cause,
        points=usual + _TELL * (len(fits) - len(against)),
        speaks_for=fits,
        speaks_against=against,
        unknown=unknown,
    )


def _each_cause_once(best: Sequence[Likely]) -> list[Likely]:
    kept: dict[str, Likely] = {}
    for each in best:
        kept.setdefault(each.cause.key, each)
    return list(kept.values())


def _questions(likely: Sequence[Likely]) -> tuple[str, ...]:
    """Return the unknown tells, those on which the causes differ first.

    A tell that one cause expects and another denies parts them best; one that
    only one of them knows of comes next; one that all expect parts nothing.
    """
    expected: dict[str, Counter[str]] = {}
    for each in likely:
        for tell in each.cause.tells:
            if tell.key in each.unknown:
                expected.setdefault(tell.key, Counter())[tell.expected] += 1
    parts = {
        key: (len(answers) > 1, sum(answers.values()) < len(likely))
        for key, answers in expected.items()
        if len(likely) == 1 or len(answers) > 1 or sum(answers.values()) < len(likely)
    }
    order = sorted(parts, key=lambda key: tuple(not each for each in parts[key]))
    return tuple(order[:MOST_QUESTIONS])
