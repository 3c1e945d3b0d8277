"""Stops: what stops or warns, by what it is about, so that two plans can be compared."""

from pourcast.findings import Finding


def stops_of(found: tuple[Finding, ...]) -> dict[str, str]:
    """Return the findings that stop one, by what they are about.

    Parameters
    ----------
    found : tuple of Finding
    """
    return {_about(finding): finding.text for finding in found if finding.level == "STOP"}


def watches_of(found: tuple[Finding, ...], stage: str | None = None) -> dict[str, str]:
    """Return the findings of a stage that warn, by what they are about.

    Parameters
    ----------
    found : tuple of Finding
    stage : str, optional
        None: of every stage.
    """
    return {
        _about(finding): finding.text
        for finding in found
        if finding.level == "WATCH" and stage in (None, finding.stage)
    }


def _about(finding: Finding) -> str:
    return f"{finding.stage}/{finding.key}/{finding.part or ''}"


def new_stops(after: dict[str, str], before: dict[str, str]) -> list[str]:
    """Return the texts of what stops one now and did not before.

    Parameters
    ----------
    after, before : dict of str to str
    """
    return [text for key, text in after.items() if key not in before]
