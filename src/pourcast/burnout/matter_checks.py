"""Matter checks: what in or on the original does not burn, or must not be burnt?

The caster names it in the piece file; the reasons stand in the materials library.
"""

from collections.abc import Mapping

from pourcast.burnout.model import Original
from pourcast.findings import Finding, Level
from pourcast.materials import Burns, Matter
from pourcast.speech import joined

LEVELS: dict[Burns, Level] = {
    "burns": "GOOD",
    "stays": "WATCH",
    "look up first": "WATCH",
    "must not be burnt": "STOP",
}
"""How grave it is to have such matter in the original; our own choice."""


def matter_findings(original: Original, matter: Mapping[str, Matter]) -> tuple[Finding, ...]:
    """Return a finding for each thing that the original holds, the gravest first.

    Parameters
    ----------
    original : Original
    matter : mapping of str to Matter
        `Library.matter`.

    Returns
    -------
    tuple of Finding

    Raises
    ------
    KeyError
        If the original holds something that the library does not know; the reader
        of the piece file refuses it with its line.
    """
    order = ("STOP", "WATCH", "GOOD")
    found = [_finding(matter[key]) for key in original.holds]
    return tuple(sorted(found, key=lambda finding: order.index(finding.level)))


def _finding(kept: Matter) -> Finding:
    what = f"{kept.name[0].upper()}{kept.name[1:]} in the original ({kept.burns})."
    text = joined(" ", [told for told in (what, kept.reason, kept.hazard, kept.act) if told])
    # Told at the bench: once it is invested, nothing can be pulled out of it.
    return Finding(
        stage="piece",
        key=f"held-{kept.key.replace('_', '-')}",
        level=LEVELS[kept.burns],
        text=text,
        source=kept.source,
        kind=kept.kind,
    )
