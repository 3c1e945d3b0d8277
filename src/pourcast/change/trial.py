"""Trial: what would a trial pour of a lesser specimen teach?

A trial pour and the pour of the piece share what nobody knows of this studio's metal
and block, and differ in reading errors, like members and weather.  So in each draw the
trial is poured with the values of that draw and luck of its own, and how it ends, T,
says something of how the piece ends.  With the plan as it stands and every change as
actions a, and W(a) the outcome 0 or 1,

    without = max over a of E[W(a)]                                         (1)
    with    = E over T of max over a of E[W(a) | T]                         (2)

T is which parts of the trial were full.  Because a maximum over noisy means flatters
itself, the action of each T is chosen on one half of the draws and judged on the
other, both ways round.  The share of the spread that the trial takes away is

    1 - E[Var(W | T)] / Var W                                               (3)

for the best action, corrected for the number of classes.  No pour beyond the trial's
own is needed; the draws of the actions are there already.

Left out: what a caster sees beside full and short, and that values learnt from a trial
stay in the book for every later piece.  Both make a trial worth more than told here.

Source: preposterior analysis, Raiffa and Schlaifer (1961), Applied Statistical Decision
Theory (from memory).
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.change.at_hand import Specimen
from pourcast.change.ground import Ground
from pourcast.change.model import TrialPour
from pourcast.change.pours import LUCK
from pourcast.forecast.whole import Ends, lay_out, pour_ends

MOST_PARTS = 3
"""Parts of the trial that are looked at, those that are short most variably."""

LEAST_DRAWS = 20
"""Of one ending of the trial; rarer ones are put together."""


def trial_pour(ground: Ground, specimen: Specimen, actions: list[si.Booleans]) -> TrialPour:
    """Return what a trial pour of another specimen would teach.

    Parameters
    ----------
    ground : Ground
    specimen : Specimen
    actions : list of array of bool, shape (draws,)
        Outcomes of the plan as it stands and of its changes, at the same draws.

    Returns
    -------
    TrialPour

    Raises
    ------
    InputError
        If a value of the specimen's plan is outside its limits.
    """
    base = ground.layout
    layout = lay_out(
        specimen.plan,
        ground.calibration,
        base.draws,
        base.ready.seed,
        luck=base.ready.seed + 2 * LUCK,
        threads=ground.threads,
    )
    ends = pour_ends(layout, threads=ground.threads)
    return taught(specimen.name, ends.whole, classes(ends), np.stack(actions))


def classes(ends: Ends) -> si.Integers:
    """Return which way each trial ends, as numbers from 0, shape (draws,).

    Parameters
    ----------
    ends : Ends

    Returns
    -------
    array of int, shape (draws,)
    """
    full = np.stack([ends.part(name) for name in ends.part_names], axis=1)
    chance = full.mean(axis=0)
    varied = np.argsort(-chance * (1.0 - chance), kind="stable")[:MOST_PARTS]
    code = full[:, varied].astype(np.int64) @ (1 << np.arange(varied.size))
    values, place, count = np.unique(code, return_inverse=True, return_counts=True)
    rare = count < LEAST_DRAWS
    kept = np.where(rare, values.size, np.arange(values.size))
    return np.asarray(np.unique(kept[place], return_inverse=True)[1])


def taught(name: str, whole: si.Booleans, ending: si.Integers, actions: si.Booleans) -> TrialPour:
    """Return what endings of a trial teach of actions.

    Parameters
    ----------
    name : str
    whole : array of bool, shape (draws,)
        Of the trial.
    ending : array of int, shape (draws,)
        Which way it ends.
    actions : array of bool, shape (actions, draws)

    Returns
    -------
    TrialPour
    """
    draws = whole.size
    halves = [np.arange(draws) % 2 == side for side in (0, 1)]
    blind = np.zeros(draws)
    told = np.zeros(draws)
    for judged, chosen in (halves, halves[::-1]):
        best = int(actions[:, chosen].mean(axis=1).argmax())
        blind[judged] = actions[best, judged]
        for each in np.unique(ending):
            seen = chosen & (ending == each)
            # An ending that the other half never saw teaches nothing.
            action = int(actions[:, seen].mean(axis=1).argmax()) if seen.any() else best
            told[judged & (ending == each)] = actions[action, judged & (ending == each)]
    gain = told - blind
    error = float(gain.std(ddof=1)) / math.sqrt(draws) if draws > 1 else 0.0
    top = actions[int(actions.mean(axis=1).argmax())].astype(float)
    return TrialPour(
        specimen=name,
        chance_trial=float(whole.mean()),
        without=float(blind.mean()),
        with_trial=float(told.mean()),
        standard_error=error,
        spread_taken=_taken(top, ending),
        draws=draws,
    )


def _taken(outcome: si.Ratios, ending: si.Integers) -> si.Ratio:
    """Return the share of a spread that is gone once the ending is known [-]."""
    total = float(((outcome - outcome.mean()) ** 2).sum())
    kinds = np.unique(ending)
    free = outcome.size - kinds.size
    if total == 0.0 or free <= 0:
        return 0.0
    left = sum(
        float(((outcome[ending == each] - outcome[ending == each].mean()) ** 2).sum())
        for each in kinds
    )
    return max(0.0, 1.0 - (left / free) / (total / (outcome.size - 1)))
