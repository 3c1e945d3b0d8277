"""What does the answer rest on: which uncertain values stand out of luck?"""

import math
from dataclasses import replace
from statistics import NormalDist

from pourcast.change.family import BY_LUCK
from pourcast.forecast.model import Forecast, Unknown
from pourcast.speech import Speech


def rests_on(forecast: Forecast) -> list[tuple[Unknown, bool]]:
    """Return the uncertain values, the strongest first, and whether each stands out.

    They are told in the unit of the caster.

    A rank correlation stands out if luck alone shows so much on some row of fewer than 1
    in 20 such tables: its standard error without any link is 1/√(draws - 1) (Hotelling and
    Pabst 1936, Ann. Math. Stat. 7, 29; from memory), and as many are looked at as there are
    values (Bonferroni).
    """
    rows = max(len(forecast.unknowns), 1)
    times = NormalDist().inv_cdf(1.0 - BY_LUCK / (2.0 * rows))
    noise = times / math.sqrt(max(forecast.draws - 1, 1))
    ranked = sorted(forecast.unknowns, key=lambda known: -abs(known.rank_correlation))
    speech = forecast.plan.speech
    return [(_told(known, speech), abs(known.rank_correlation) > noise) for known in ranked]


def _told(known: Unknown, speech: Speech) -> Unknown:
    """Return an uncertain value as the caster is told it."""
    value, low, high = (
        speech.measure(each, known.unit)[0] for each in (known.value, known.low, known.high)
    )
    unit = speech.measure(0.0, known.unit)[1]
    return replace(known, value=value, low=low, high=high, unit=unit)
