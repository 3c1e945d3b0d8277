"""Flask heat checks: is the flask as hot at the pour as is usual for so thin a piece?

What is usual is common practice without a source; the stop is that of char on the sulphate.
"""

from pourcast import units as si
from pourcast.findings import Finding, Level
from pourcast.materials import Value
from pourcast.mould.model import Flask
from pourcast.speech import Heat, Heats, said


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
    asked = said(
        "{usual} is usual for the thinnest section of this piece",
        usual=Heats(usual.si_low, usual.si_high),
    )
    least, most = any_section
    level: Level = "WATCH"
    rests_on = usual
    limit: si.Kelvin | None = None
    heat = flask.temperature
    if heat is None and followed:
        heat = ends_at
    if heat is None:
        heat = usual.si
        text = said("The flask temperature is not said; {heat} is taken", heat=Heat(heat))
        if ends_at is not None:
            text += said(
                ", for the curve, which ends at {end}, is followed only where the sheet "
                "has the litres of the kiln",
                end=Heat(ends_at),
            )
        text += ". " + asked + "."
    else:
        text = said("Flask at {heat} at the pour", heat=Heat(heat))
        if flask.temperature is None:
            text += ", where the curve ends"
        text += "; " + asked
        if heat > hard_stop.si:
            level, limit, rests_on = "STOP", hard_stop.si, hard_stop
            text += said(
                ". Above {limit} char breaks down the sulphate of the block: the gas pits "
                "the skin and stops thin parts.",
                limit=Heat(limit),
            )
        elif heat < usual.si_low:
            limit = usual.si_low
            if heat < least:
                text += said(", and under {least} for none", least=Heat(least))
            text += "."
        elif heat > usual.si_high:
            limit = usual.si_high
            if heat > most:
                text += said(", and over {most} for none", most=Heat(most))
            text += ". A hotter block is weaker and gives more gas."
        else:
            level = "GOOD"
            text += "."
    return Finding(
        stage="mould",
        key="flask-heat",
        level=level,
        text=text,
        value=si.from_si(heat, "degC"),
        limit=None if limit is None else si.from_si(limit, "degC"),
        unit="°C",
        source=rests_on.source,
        kind=rests_on.kind,
    )
