"""Kept window: when to quench, by the forecast that was kept with a plan."""

import json

from pourcast import units as si


def quench_of(document: str) -> tuple[si.Second, si.Second] | None:
    """Return the quench window of a kept forecast [s]; None where it has none.

    Parameters
    ----------
    document : str
        The forecast as JSON.

    Returns
    -------
    pair of float or None [s]
        From the pour: open in 9 of 10 draws, and not yet shut in 9 of 10.
    """
    quench = json.loads(document).get("freeze", {}).get("quench", {})
    opens = (quench.get("from_min") or {}).get("p90")
    shuts = (quench.get("to_min") or {}).get("p10")
    if opens is None or shuts is None or not opens < shuts:
        return None
    return si.to_si(opens, "min"), si.to_si(shuts, "min")
