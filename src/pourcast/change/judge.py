"""Judge: would a change make something that must stop the caster?

A whole forecast of a few draws, with burnout, slurry, freezing and finishing, of the plan
with and without the change.  A STOP that only the changed plan has refuses the change.

Freezing and finishing are silent where the piece does not fill.  What they say once it
does is no fault of the change; it is told beside it.
"""

from dataclasses import replace

from pourcast.change.ground import Ground
from pourcast.change.model import Refused
from pourcast.change.pours import Poured
from pourcast.change.stops import stops_of, watches_of
from pourcast.errors import InputError, SheetError
from pourcast.forecast.solve import forecast
from pourcast.sheet.model import Plan

AFTER_FILLING = ("freeze", "finish")
"""Stages that have something to say of a piece only once it has filled."""

SEEN = 0.5
"""Chance of the whole piece from which on these have been heard of the plan as it stands."""

CHECKED = 60
"""Draws of a whole forecast, with freezing and slurry, that looks for what would stop one."""

OF_THE_BURNOUT = ("burnout", "hold", "ramp", "top", "curve", "air")
"""Kinds of levers that may take away what stops a burnout, whatever they do for the filling."""

ONLY_TO_MEND = ("ramp", "curve", "cover")
"""Kinds that are offered for nothing but the STOP or the warning that they take away."""


def judged(ground: Ground, made: Poured) -> Poured | Refused:
    """Return levers with what they mend and reveal, or the STOP that they make.

    Parameters
    ----------
    ground : Ground
        With every stop of the plan as it stands.
    made : Poured

    Returns
    -------
    Poured or Refused
    """
    try:
        after, warned = stops_and_watches(ground, made.plan)
        beside = stops_and_watches(ground, made.beside.plan)[0] if made.beside else {}
    except (InputError, SheetError) as fault:
        return Refused(lever=made.levers[0], reason=str(fault))
    new = [key for key in (*after, *beside) if key not in ground.stops]
    seen = float(ground.ends.whole.mean()) >= SEEN
    later = [key for key in new if key.partition("/")[0] in AFTER_FILLING and not seen]
    texts = beside | after
    if len(later) < len(new):
        first = next(key for key in new if key not in later)
        return Refused(lever=made.levers[0], reason=texts[first])
    return replace(
        made,
        judged=True,
        mends=tuple(text for key, text in ground.stops.items() if key not in after),
        reveals=tuple(dict.fromkeys(texts[key] for key in later)),
        eases=tuple(
            text
            for key, text in ground.watches.items()
            if key not in warned and key not in after and made.levers[0].kind in OF_THE_BURNOUT
        ),
    )


def looked_into(ground: Ground) -> Ground:
    """Return the plan as it stands with all that stops it, and what warns of its burnout.

    Whether a change takes something away is judged on the few draws of `stops_and_watches`;
    the plan as it stands is told over all draws, as its forecast tells it.

    Parameters
    ----------
    ground : Ground
    """
    stops, watches = stops_and_watches(ground, ground.layout.plan)
    if (stops or watches) and ground.layout.draws > CHECKED:
        every = stops_and_watches(ground, ground.layout.plan, draws=ground.layout.draws)
        stops, watches = (
            {key: all_draws.get(key, text) for key, text in few.items()}
            for few, all_draws in zip((stops, watches), every, strict=True)
        )
    return replace(ground, stops=stops, watches=watches)


def stops_and_watches(
    ground: Ground, plan: Plan, *, draws: int = CHECKED
) -> tuple[dict[str, str], dict[str, str]]:
    """Return what would stop the caster and what warns of the burnout, by a whole forecast.

    Parameters
    ----------
    ground : Ground
    plan : Plan
    draws : int
        Of those of the ground, at most.

    Returns
    -------
    pair of dict of str to str
        Key of a finding, and its text.
    """
    draws = min(draws, ground.layout.draws)
    seed = ground.layout.ready.seed
    said = forecast(plan, ground.calibration, draws=draws, rng=seed, threads=ground.threads)
    return stops_of(said.findings), watches_of(said.findings, "burnout")


def look_for_mending(ground: Ground, made: list[Poured], refused: list[Refused]) -> None:
    """Look into the levers that may mend what no pour shows; change the lists in place.

    A hold may keep the block whole, a flask back at its usual heat may take a STOP away, a
    covered button may feed what froze alone, and none of them do anything for the filling.

    Parameters
    ----------
    ground : Ground
        With every stop of the plan as it stands.
    made : list of Poured
    refused : list of Refused
    """
    stopped = any(key.startswith("burnout/") for key in ground.stops)
    unfed = any(key.startswith("freeze/") for key in ground.stops)
    for number, tried in reversed(list(enumerate(made))):
        kind = tried.levers[0].kind
        told: Poured | Refused = tried
        may = (
            tried.rights
            or tried.frees
            or (kind in OF_THE_BURNOUT and stopped)
            or (kind == "cover" and unfed)
            or (kind == "ramp" and ground.watches)
        )
        if may and not tried.judged:
            told = judged(ground, tried)
        if isinstance(told, Refused):
            refused.append(told)
            del made[number]
        elif kind in ONLY_TO_MEND and not told.mends and not told.eases:
            # Nothing to take away; it is of no other use.
            del made[number]
        else:
            made[number] = told
