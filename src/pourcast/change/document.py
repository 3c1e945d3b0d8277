"""Document: what to change first, and two plans side by side, as trees of plain values.

`changes_tree` is the key ``changes`` of the forecast's JSON; a ranking by itself is
"pourcast.change/1", two plans are "pourcast.compare/1".  Units stand in the key.
"""

from collections.abc import Sequence
from typing import Any

from pourcast import units as si
from pourcast.change.compared import Comparison, PlanFigures
from pourcast.change.model import (
    Change,
    PartMove,
    Ranking,
    TrialPour,
)
from pourcast.forecast.document import refuse_not_finite

SCHEMA = "pourcast.change/1"
COMPARE_SCHEMA = "pourcast.compare/1"


def changes_tree(ranking: Ranking, most: int | None = None) -> list[dict[str, Any]]:
    """Return the changes of a ranking, combinations after the single ones.

    Parameters
    ----------
    ranking : Ranking
    most : int, optional
        Single changes; None: all.

    Returns
    -------
    list of dict
        As `schema.json` of the forecast has them under "changes".
    """
    changes = (*ranking.changes[:most], *ranking.combinations)
    made = [_change(change) for change in changes]
    refuse_not_finite(made, "changes")
    return made


def ranking_document(ranking: Ranking, *, version: str, first: str) -> dict[str, Any]:
    """Return a ranking as a tree of plain values.

    Parameters
    ----------
    ranking : Ranking
    version : str
        Of pourcast.
    first : str
        The answer in words.

    Returns
    -------
    dict

    Raises
    ------
    SolveError
        If a number is not finite.
    """
    made: dict[str, Any] = {
        "schema": SCHEMA,
        "version": version,
        "seed": ranking.seed,
        "draws": ranking.draws,
        "piece": {"name": ranking.plan.piece.name, "invented": ranking.plan.invented},
        "chance_all": ranking.chance,
        "first": first,
        "stops": list(ranking.stops),
        "changes": changes_tree(ranking),
        "refused": [
            {"change": refused.lever.act, "part": refused.lever.part, "reason": refused.reason}
            for refused in ranking.refused
        ],
        "trials": [_trial(each) for each in ranking.trials],
    }
    refuse_not_finite(made, "document")
    return made


def comparison_document(said: Comparison, *, version: str, first: str) -> dict[str, Any]:
    """Return two plans side by side as a tree of plain values.

    Parameters
    ----------
    said : Comparison
    version : str
        Of pourcast.
    first : str
        The answer in words.

    Returns
    -------
    dict

    Raises
    ------
    SolveError
        If a number is not finite.
    """
    made: dict[str, Any] = {
        "schema": COMPARE_SCHEMA,
        "version": version,
        "seed": said.seed,
        "draws": said.draws,
        "first": first,
        "a": _figures(said.one),
        "b": _figures(said.other),
        "gain": said.gain,
        "standard_error": said.standard_error,
        "beyond_noise": said.beyond_noise,
        "differences": [
            {
                "key": each.key,
                "words": each.words,
                "a": each.one,
                "b": each.other,
                "unit": each.unit,
            }
            for each in said.differences
        ],
        "parts": _parts(said.parts),
        "parts_only_in_a": list(said.alone[0]),
        "parts_only_in_b": list(said.alone[1]),
    }
    refuse_not_finite(made, "document")
    return made


def cost_note(change: Change) -> str:
    """Return what a change costs, as one line.

    Parameters
    ----------
    change : Change

    Examples
    --------
    "nine wax wires to the open face, and their stubs to clean; about 27 min; 1 g more metal"
    """
    cost = change.cost
    minutes = round(si.from_si(cost.time, "min"))
    grams = round(si.from_si(cost.metal, "g"))
    said = [cost.words]
    if minutes:
        said.append(f"about {_long(minutes)} of work")
    if grams:
        said.append(f"{abs(grams)} g {'more' if grams > 0 else 'less'} metal")
    return "; ".join(filter(None, said))


def _long(minutes: int) -> str:
    if minutes < 100:
        return f"{minutes} min"
    return f"{round(minutes / 60)} h"


def _change(change: Change) -> dict[str, Any]:
    levers = change.levers
    return {
        "change": _joined([lever.act for lever in levers]),
        "from": "; ".join(_written(lever.before, lever.unit) for lever in levers),
        "to": "; ".join(_written(lever.after, lever.unit) for lever in levers),
        "chance_all_before": change.chance_before,
        "chance_all_after": change.chance_after,
        "standard_error": change.standard_error,
        "beyond_noise": change.beyond_noise,
        "by_luck": change.by_luck,
        "place": change.place,
        "draws": change.draws,
        "cost_note": cost_note(change),
        "cost_min": si.from_si(change.cost.time, "min"),
        "cost_metal_g": si.from_si(change.cost.metal, "g"),
        "risk": change.cost.risk,
        "detail": change.cost.detail,
        "mends": list(change.mends),
        "reveals": list(change.reveals),
        "eases": list(change.eases),
        "rights": list(change.rights),
        "kinds": [lever.kind for lever in levers],
        "parts": _parts(change.parts),
        "edits": [
            {"path": list(edit.path), "value": edit.value}
            for lever in levers
            for edit in lever.edits
        ],
    }


def _joined(acts: Sequence[str]) -> str:
    """Return acts as one: the first as it is, the others within the sentence."""
    first, *rest = acts
    return " + ".join([first, *(act[:1].lower() + act[1:] for act in rest)])


def _written(value: str, unit: str) -> str:
    return f"{value} {unit}".strip() if unit != "°" else f"{value}°"


def _parts(moves: Sequence[PartMove]) -> list[dict[str, Any]]:
    return [
        {
            "name": move.name,
            "chance_full_before": move.before,
            "chance_full_after": move.after,
            "standard_error": move.standard_error,
        }
        for move in moves
    ]


def _trial(trial: TrialPour) -> dict[str, Any]:
    return {
        "specimen": trial.specimen,
        "chance_trial": trial.chance_trial,
        "chance_all_without": trial.without,
        "chance_all_with": trial.with_trial,
        "standard_error": trial.standard_error,
        "spread_taken": trial.spread_taken,
        "draws": trial.draws,
    }


def _figures(figures: PlanFigures) -> dict[str, Any]:
    return {
        "name": figures.name,
        "chance_all": figures.chance,
        "causes": dict(figures.causes),
        "metal_g": si.from_si(figures.metal, "g"),
        "powder_g": si.from_si(figures.powder, "g"),
        "stops": list(figures.stops),
    }
