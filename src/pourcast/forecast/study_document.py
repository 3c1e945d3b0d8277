"""Study document: a burnout beside the usual one as JSON, schema "pourcast.burnout/1"."""

from typing import Any

from pourcast import units as si
from pourcast.burnout.curves import steps_of
from pourcast.burnout.dial import DialPlan
from pourcast.burnout.model import KilnStep
from pourcast.burnout.shortest import Shortest
from pourcast.forecast.burnout_document import burnout_document
from pourcast.forecast.burnout_study import BurnoutStudy
from pourcast.forecast.document import finding_tree, refuse_not_finite
from pourcast.kernels import HASH

SCHEMA = "pourcast.burnout/1"


def study_document(
    study: BurnoutStudy, *, version: str, dial: DialPlan | None = None
) -> dict[str, Any]:
    """Return a study as a tree of plain values.

    Parameters
    ----------
    study : BurnoutStudy
    version : str
        Of pourcast.
    dial : DialPlan, optional

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
        "seed": study.seed,
        "draws": study.draws,
        "kernels_sha256": HASH,
        "piece": {"name": study.plan.piece.name, "invented": study.plan.invented},
        "steps": [_step(step) for step in steps_of(study.burnout.curve)],
        "burnout": burnout_document(study.burnout),
        "usual": burnout_document(study.usual),
        "findings": [finding_tree(finding) for finding in study.findings],
    }
    if study.shortest is not None:
        made["shortest"] = _shortest(study.shortest)
    if dial is not None:
        made["dial"] = {
            "turns": [
                {"h": si.from_si(turn.time, "h"), "clock": turn.clock, "setting": turn.setting}
                for turn in dial.turns
            ],
            "miss_K": dial.miss,
            "worst_K": dial.worst,
        }
    refuse_not_finite(made, "document")
    return made


def _step(step: KilnStep) -> dict[str, float | None]:
    return {
        "to_C": si.from_si(step.temperature, "degC"),
        "ramp_C_per_h": None if step.ramp is None else si.from_si(step.ramp, "K/h"),
        "hold_h": si.from_si(step.hold, "h"),
    }


def _shortest(found: Shortest) -> dict[str, Any]:
    return {
        "h": si.from_si(found.time, "h"),
        "usual_h": si.from_si(found.usual_time, "h"),
        "breaks": list(found.broken),
        "usual_breaks": list(found.usual_broken),
        "rules": [
            {"step": rule.step, "part": rule.part, "limits": list(rule.limits)}
            for rule in found.rules
        ],
        "curves": found.curves,
        "whole": found.whole,
    }
