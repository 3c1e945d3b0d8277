"""What the forecast rests on, and what it does not know."""

from pourcast import units as si
from pourcast.findings import Finding, in_100
from pourcast.forecast.model import Calibration, Outcomes, Unknown
from pourcast.forecast.names import unknown_name
from pourcast.speech import joined, said

_WEAK = 0.15  # rank correlation below which a value is not named; estimate
_MOST_NAMED = 4
_WEAK_KINDS = ("estimate", "from memory")


def findings(
    outcomes: Outcomes,
    unknowns: tuple[Unknown, ...],
    cold_shut_chance: si.Ratio | None,
    calibration: Calibration | None,
    *,
    burnt: bool,
) -> tuple[Finding, ...]:
    """Return the findings that belong to no single stage.

    Parameters
    ----------
    outcomes : Outcomes
    unknowns : tuple of Unknown
        The strongest first.
    cold_shut_chance : float or None [-]
    calibration : Calibration or None
    burnt : bool
        The burnout was worked out.

    Returns
    -------
    tuple of Finding
    """
    found = [_rests_on(unknowns, calibration), _left_out(), *([] if burnt else [_not_burnt()])]
    if cold_shut_chance:
        found.append(
            Finding(
                stage="forecast",
                key="cold-loop",
                level="WATCH",
                text=(
                    f"In {in_100(cold_shut_chance)} of 100 pours two streams meet cold where "
                    "the piece closes a loop, and do not join: a seam like a crack. Fewer loops, "
                    "a hotter flask or hotter metal help."
                ),
                value=100 * cold_shut_chance,
                unit="in 100",
                source="both fronts under the liquidus when they meet",
                kind="estimate",
            )
        )
    if outcomes.lost >= _LOST:
        found.append(
            Finding(
                stage="forecast",
                key="mostly-empty",
                level="STOP",
                text=(
                    f"In {in_100(outcomes.lost)} of 100 pours more than half of the piece stays "
                    "empty. Do not invest the original before this is mended."
                ),
                value=100 * outcomes.lost,
                limit=100 * _LOST,
                unit="in 100",
                source="limit set by hand",
                kind="estimate",
            )
        )
    return tuple(found)


_LOST = 0.5  # share of lost pours from which not to go on; estimate


def _rests_on(unknowns: tuple[Unknown, ...], calibration: Calibration | None) -> Finding:
    named = [
        unknown
        for unknown in unknowns
        if abs(unknown.rank_correlation) >= _WEAK and unknown.kind in _WEAK_KINDS
    ][:_MOST_NAMED]
    if named:
        text: str = said(
            "The chance rests most on what nobody has measured for your mould: {listed}. "
            "Test castings of strips, or what came out of earlier pours, would settle it.",
            listed=joined("; ", [unknown_name(unknown.key) for unknown in named]),
        )
    else:
        text = "No single guessed value moves this chance by much."
    if calibration:
        text += f" What this studio has learnt is put in: {calibration.name}."
    return Finding(
        stage="forecast",
        key="rests-on",
        level="WATCH" if named else "GOOD",
        text=text,
        source="link of each value with the share that fills, over the pours followed",
        kind="computed",
    )


def _left_out() -> Finding:
    return _watch(
        "left-out",
        "Whole means filled: hollows, ash, bubbles, cracks of the block and what breaks afterwards "
        "are told apart; and nothing here has been held against measured castings of this kind, "
        "since none with readable numbers was found.",
    )


def _not_burnt() -> Finding:
    return _watch(
        "not-burnt",
        "The cavity is taken as dry, clean and whole: the sheet does not say how many litres the "
        "kiln holds, so the burnout is not worked out.",
    )


def _watch(key: str, text: str) -> Finding:
    return Finding(
        stage="forecast",
        key=key,
        level="WATCH",
        text=text,
        source="what this release computes",
        kind="computed",
    )
