"""Which finding is said where, and how short.

Each finding is said once.  One that is a caution of an act stands there as a
caution; what to stop or to watch for stands beside its act; what speaks of the
whole forecast stands beside the answer.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from pourcast.findings import Finding
from pourcast.forecast.model import Forecast
from pourcast.page.cautions import told_at_acts
from pourcast.page.figures import clean, with_unit
from pourcast.page.names import LEVELS

SHORT = 230
"""Letters of a finding where there is no room for all of it."""

WHOLE = "forecast"
"""Stage of the findings that speak of the whole forecast."""

FUME, HELD = "fume-", "held-"
"""With which the keys of findings on fume begin, and of those on what the original holds."""

MEND_FIRST = "Mend first."
"""Before what all else rests on."""

_ORDER = ("pour", "piece", "melt", "mould")
_SENTENCES = re.compile(r"(?<=[.!?])\s+(?=[A-Z“])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """A finding, and the other parts for which it says the same word for word."""

    finding: Finding
    others: tuple[str, ...] = ()

    @property
    def too(self) -> str:
        """Sentence on the other parts, after a space; "" if there are none."""
        return f" The same holds for {' and '.join(self.others)}." if self.others else ""


def sorted_findings(forecast: Forecast) -> list[Finding]:
    """Return the findings that are no caution, the gravest first, then as the forecast has them.

    They are told in the unit of the caster.
    """
    order = list(LEVELS)
    said = told_at_acts(forecast)
    speech = forecast.plan.speech
    own = (speech.finding(finding) for finding in forecast.findings if finding.key not in said)
    return sorted(own, key=lambda finding: order.index(finding.level))


def measured(finding: Finding) -> str:
    """Return a finding's value and limit, such as "8 mm; limit 10 mm"; "" if it has none."""
    found = "" if finding.value is None else with_unit(finding.value, finding.unit)
    limit = "" if finding.limit is None else f"limit {with_unit(finding.limit, finding.unit)}"
    return "; ".join(text for text in (found, limit) if text)


def sourced(kind: str, source: str) -> str:
    """Return how sure a number is and who says so, each once.

    Examples
    --------
    >>> sourced("common practice", "common practice, no source")
    'common practice, no source'
    >>> sourced("published", "Washburn (1921)")
    'published: Washburn (1921)'
    """
    said = clean(source)
    if not said or said.casefold().startswith(kind.casefold()):
        return said or kind
    return f"{kind}: {said}"


def of_the_whole(forecast: Forecast) -> list[Finding]:
    """Return what speaks of the whole forecast, the gravest first."""
    return [finding for finding in sorted_findings(forecast) if finding.stage == WHOLE]


def to_stop(forecast: Forecast) -> list[Finding]:
    """Return what should stop the caster, whatever its stage."""
    return [finding for finding in sorted_findings(forecast) if finding.level == "STOP"]


def first_of_all(forecast: Forecast) -> list[Finding]:
    """Return what is to be mended before all that rests on it; what says stop is told there."""
    return [kept for kept in sorted_findings(forecast) if kept.first and kept.level == "WATCH"]


def held_up(forecast: Forecast) -> str:
    """Return that findings say stop, whatever the chance; "" where none does."""
    stops = len(to_stop(forecast))
    if not stops:
        return ""
    what = "One finding below says" if stops == 1 else f"{stops} findings below say"
    return f"{what} stop, whatever this chance: settle that first."


def beside_the_act(forecast: Forecast, *stages: str) -> list[Alike]:
    """Return the findings of some stages that are not good, the gravest first.

    Of those alike grave what is in the original and does not burn comes first: later than at
    the bench nobody can take it out.
    """
    found = [
        finding
        for finding in sorted_findings(forecast)
        if finding.stage in stages and finding.level != "GOOD"
    ]
    order = list(LEVELS)
    return _alike(sorted(found, key=lambda each: (order.index(each.level), not _held(each))))


def good(forecast: Forecast) -> list[Finding]:
    """Return what is as it should be, but for what speaks of the whole forecast."""
    return [
        finding
        for finding in sorted_findings(forecast)
        if finding.level == "GOOD" and finding.stage != WHOLE
    ]


def to_watch(forecast: Forecast) -> list[Alike]:
    """Return what to watch for with this piece.

    What all else rests on is told with the answer and is not among them (`first_of_all`).
    What the alloy is flagged for comes first, then what is in the original and does not
    burn, then what was held against a limit, the pour first, then what has no figure.
    Limits of fume are left to the caution at the pour.
    """
    watch = [
        finding
        for finding in sorted_findings(forecast)
        if finding.level == "WATCH"
        and finding.stage != WHOLE
        and not finding.key.startswith(FUME)
        and not finding.first
    ]
    watch.sort(
        key=lambda finding: (
            finding.key != "alloy-flag",
            not _held(finding),
            finding.limit is None,
            finding.value is None,
            _ORDER.index(finding.stage) if finding.stage in _ORDER else len(_ORDER),
        )
    )
    return _alike(watch)


def _held(finding: Finding) -> bool:
    """Whether it is of what the original holds."""
    return finding.key.startswith(HELD)


def _alike(found: Iterable[Finding]) -> list[Alike]:
    kept: dict[str, Alike] = {}
    for finding in found:
        without = finding.text.replace(finding.part, "") if finding.part else finding.text
        if without in kept and finding.part:
            first = kept[without]
            kept[without] = replace(first, others=(*first.others, clean(finding.part)))
        else:
            kept[without] = Alike(finding=finding)
    return list(kept.values())


def brief(said: str, letters: int = SHORT) -> str:
    """Return the first sentence of a text, and more while whole sentences fit.

    Of the first sentence that does not fit, what stands before its colon or
    semicolon is taken if that fits.

    Examples
    --------
    >>> brief("It is thin. Thicken it. Or count on losing some.", 24)
    'It is thin. Thicken it.'
    >>> brief("It is thin. Thicken it: wax will do.", 24)
    'It is thin. Thicken it.'
    """
    kept, *more = _SENTENCES.split(clean(said))
    for sentence in more:
        clause = re.split("[:;]", sentence)[0].rstrip(".") + "."
        for piece in (sentence, clause):
            if len(kept) + 1 + len(piece) <= letters:
                kept += f" {piece}"
                break
        if not kept.endswith(sentence):
            break
    return kept
