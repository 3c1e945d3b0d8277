"""Do several pieces go into one flask with enough block between them?"""

from pourcast.findings import Finding, Level
from pourcast.gating.flask_checks import needed_mm, size
from pourcast.gating.share import LEAST_GAP, SharedFlask
from pourcast.mould.checks import LEAST_WALL, USUAL_WALL


def shared_findings(shared: SharedFlask) -> tuple[Finding, ...]:
    """Return what the caster should know of several pieces in one flask.

    Parameters
    ----------
    shared : SharedFlask

    Returns
    -------
    tuple of Finding
    """
    room = min(shared.wall - LEAST_WALL, shared.gap - LEAST_GAP, shared.cover - LEAST_WALL)
    usual = shared.wall >= USUAL_WALL - 1e-6
    level: Level = "GOOD" if room >= -1e-6 and usual else "WATCH"
    if room < -1e-6:
        level = "STOP"
    flask = size(shared.flask.inside_diameter, shared.flask.height)
    between, over = f"{1e3 * shared.gap:.0f} mm", f"{1e3 * shared.cover:.0f} mm over the far end"
    if shared.wall >= 0.0:
        stands = f"{between} between two of them, {1e3 * shared.wall:.0f} mm beside them and {over}"
    else:
        stands = (
            f"{between} between two of them and {over}, and they would stand "
            f"{-1e3 * shared.wall:.0f} mm out of its side"
        )
    if level == "STOP":
        text = (
            f"{len(shared.names)} pieces do not go into one flask of the shelf: in {flask} there "
            f"would be {stands}. They need {needed_mm(shared.needed_diameter)} mm inside."
        )
    else:
        text = f"{len(shared.names)} pieces go into {flask}: {stands}."
    return (
        Finding(
            stage="gating",
            key="shared-flask",
            level=level,
            text=text
            + " Each is counted as the circle round it, so pieces that reach between each other "
            "need less.",
            value=1e3 * min(shared.gap, shared.wall),
            limit=1e3 * LEAST_GAP,
            unit="mm",
            source="walls: common practice, one voice; between two pieces as the least wall",
            kind="estimate",
        ),
    )
