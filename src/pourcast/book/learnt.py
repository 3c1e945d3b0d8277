"""Learnt: what was learnt, read back from the row in which it was kept."""

from dataclasses import replace

from pourcast.book.calibrations import Act, calibration_of
from pourcast.learn.checks import findings
from pourcast.learn.model import Against, Learnt, LearntValue, Range

_COUNTS = ("outcomes", "tests", "draws", "effective", "first_effective", "rounds", "odd")


def learnt_of(act: Act) -> Learnt:
    """Return what was learnt, as it was kept.

    Parameters
    ----------
    act : Act
        One in which something was learnt.
    """
    kept = act.document
    values = tuple(
        LearntValue(**{**each, "before": Range(**each["before"]), "after": Range(**each["after"])})
        for each in kept["values"]
    )
    found = Learnt(
        calibration=calibration_of(act) if kept["overrides"] else None,
        values=values,
        findings=(),
        # What was kept by an earlier release has none.
        against=tuple(Against(**each) for each in kept.get("against", ())),
        **{key: kept[key] for key in _COUNTS},
    )
    return replace(found, findings=findings(found))
