"""What does the answer rest on: which uncertain values stand out of luck?"""

import math
from statistics import NormalDist

from pourcast.change.family import BY_LUCK
from pourcast.forecast.model import Forecast, Unknown


def rests_on(forecast: Forecast) -> list[tuple[Unknown, bool]]:
    """Return the uncertain values, the strongest first, and whether each stands out.

    A rank correlation stands out if luck alone shows so much on some row of fewer than 1
    in 20 such tables: its standard error without any link is 1/√(draws - 1) (Hotelling and
    Pabst 1936, Ann. Math. Stat. 7, 29; from memory), and as many are looked at as there are
    values (Bonferroni).
    """
    rows = max(len(forecast.unknowns), 1)
    times = NormalDist().inv_cdf(1.0 - BY_LUCK / (2.0 * rows))
    noise = times / math.sqrt(max(forecast.draws - 1, 1))
    ranked = sorted(forecast.unknowns, key=lambda known: -abs(known.rank_correlation))
    return [(known, abs(known.rank_correlation) > noise) for known in ranked]
