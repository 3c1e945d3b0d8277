"""Finding: what this stage says of a casting, with the source of most of it."""

from pourcast.findings import Finding, Kind, Level
from pourcast.materials.model import Written

MODEL = "freezing of the network; solid fraction of the stop, contact and mould are estimates"


def finding(
    key: str,
    level: Level,
    text: str,
    value: Written | None,
    limit: Written | None,
    unit: str,
    *,
    part: str | None = None,
    source: str = MODEL,
    kind: Kind = "estimate",
) -> Finding:
    """Return a finding of the freezing.

    Parameters
    ----------
    key : str
        What it is of, as docs/findings.md lists it.
    level : {"GOOD", "WATCH", "STOP"}
    text : str
    value, limit : float or None [as written]
        In ``unit``.
    unit : str
    part : str or None
    source, kind : str

    Returns
    -------
    Finding
    """
    return Finding(
        stage="freeze",
        key=key,
        level=level,
        text=text,
        part=part,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        kind=kind,
    )
