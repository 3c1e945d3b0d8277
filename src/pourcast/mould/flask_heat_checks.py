"""Flask heat checks: is the flask as hot at the pour as is usual for so thin a piece?

What is usual is common practice without a source; the stop is that of char on the sulphate.
"""

from pourcast import units as si
from pourcast.findings import Finding, Level
from pourcast.materials import Value
from pourcast.mould.model import Flask


def flask_heat_finding(
    flask: Flask,
    ends_at: si.Kelvin | None,
    followed: bool,
    *,
    usual: Value,
    any_section: tuple[si.Kelvin, si.Kelvin],
    hard_stop: Value,
) -> Finding:
    """Return what is told of the heat of the flask at the pour.

    Parameters
    ----------
    flask : Flask
    ends_at : float [K], optional
        End of the curve of the sheet; None: it has none.
    followed : bool
        Whether a flask whose heat is not said is poured as hot as that end.
    usual : Value
        For the thinnest section of the piece; see `pourcast.mould.flask_heat`.
    any_section : pair of float [K]
        Least and most that is usual for a section of any size.
    hard_stop : Value
        Heat over which char breaks down the sulphate of the block.

    Returns
    -------
    Finding
    """
    low, high = (si.from_si(end, "degC") for end in (usual.si_low, usual.si_high))
    asked = f"{low:.0f} to {high:.0f} °C is usual for the thinnest section of this piece"
    least, most = (si.from_si(end, "degC") for end in any_section)
    level: Level = "WATCH"
    rests_on = usual
    limit: float | None = None
    said = flask.temperature
    if said is None and followed:
        said = ends_at
    if said is None:
        value = si.from_si(usual.si, "degC")
        text = f"The flask temperature is not said; {value:.0f} °C is taken"
        if ends_at is not None:
            end = si.from_si(ends_at, "degC")
            text += (
                f", for the curve, which ends at {end:.0f} °C, is followed only where the sheet "
                "has the litres of the kiln"
            )
        text = f"{text}. {asked}."
    else:
        value = si.from_si(said, "degC")
        text = f"Flask at {value:.0f} °C at the pour"
        if flask.temperature is None:
            text += ", where the curve ends"
        text += f"; {asked}"
        if said > hard_stop.si:
            level, limit, rests_on = "STOP", hard_stop.value, hard_stop
            text += (
                f". Above {limit:.0f} °C char breaks down the sulphate of the block: the gas pits "
                "the skin and stops thin parts."
            )
        elif said < usual.si_low:
            limit = low
            text += f", and under {least:.0f} °C for none." if value < least else "."
        elif said > usual.si_high:
            limit = high
            text += f", and over {most:.0f} °C for none." if value > most else "."
            text += " A hotter block is weaker and gives more gas."
        else:
            level, text = "GOOD", f"{text}."
    return Finding(
        stage="mould",
        level=level,
        text=text,
        value=value,
        limit=limit,
        unit="°C",
        source=rests_on.source,
        kind=rests_on.kind,
    )
