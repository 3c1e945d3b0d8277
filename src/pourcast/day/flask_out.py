"""Flask out: how many minutes until a flask out of the kiln is too cold to pour?

The block is followed by `pourcast.day.out_of_kiln` from one even temperature, at the
mean distance of the piece from the axis, until it is colder than the low end of what
is usual for so thin a section.  A plan that is colder than that from the start may
cool by `COLDER` more.

Left out: parts that lie nearer to the wall than the mean, which cool sooner.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase
from pourcast.day.out_of_kiln import HotBlock, air_drawn, cooling, minutes_until
from pourcast.forecast.burn import casting_temperature
from pourcast.forecast.prepare import Prepared
from pourcast.mould.flask_heat import usual_flask_temperature
from pourcast.sheet.model import Plan

FOLLOWED = 3600.0
"""s, that a flask out of the kiln is followed; our own choice."""

COLDER = 30.0
"""K, by which a flask may cool whose plan is colder than usual; estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlaskOut:
    """A flask out of the kiln.

    Parameters
    ----------
    start, least : float [K]
        As it comes out, and the coldest that is usual for so thin a piece.
    on_bench, on_plate : float or None [s]
        Until it is colder at the piece; None: not within `FOLLOWED`.
    face_after : float [K]
        Its face, when the pour is due.
    inside_after : float [K]
        At the piece then.
    drawn : float [kg/s]
        Air that the vacuum draws through it.
    source : str
        Of ``least``.
    """

    start: si.Kelvin
    least: si.Kelvin
    on_bench: si.Second | None
    on_plate: si.Second | None
    face_after: si.Kelvin
    inside_after: si.Kelvin
    drawn: si.KilogramPerSecond
    source: str


def flask_out(plan: Plan, ready: Prepared, block: BlockCase, carrying: si.Second) -> FlaskOut:
    """Return how long a flask may be out of the kiln before its pour.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    block : BlockCase
    carrying : float [s]
        From the kiln to the pour.

    Returns
    -------
    FlaskOut
    """
    usual = usual_flask_temperature(ready.alloy, ready.measures.thinnest)
    start = casting_temperature(plan, ready)
    least, source = usual.si_low, usual.source
    if start <= least:
        least, source = start - COLDER, "the plan is colder than is usual; set by hand"
    thermal = ready.book.investment["thermal"]
    air = float(np.median(block.air_pressure))
    drawn = 0.0
    if plan.assist.vacuum is not None:
        drawn = air_drawn(
            permeability=float(np.median(block.permeability)),
            radius=block.radius,
            length=block.height,
            air=air,
            below=plan.assist.vacuum * plan.assist.seal,
            temperature=start,
        )
    room = float(np.median(block.start_temperature))

    def out(convection: float, air_through: float) -> tuple[si.Seconds, si.Kelvins, si.Kelvins]:
        hot = HotBlock(
            radius=block.radius,
            height=block.height,
            conductivity=thermal["k_burnt_600"].si,
            capacity=ready.mould.burnt_density * thermal["cp_burnt_mean_20_600"].si,
            convection=convection,
            emissivity=thermal["emissivity_surface"].si,
            room=room,
            drawn=air_through,
        )
        return cooling(hot, start, block.piece_radius, FOLLOWED)

    still = ready.book.kiln["h_convection_still"].si
    time, inside, face = out(still, 0.0)
    # In a chamber no air stirs outside; a solid flask stands on its plate in the air.
    on_plate = out(0.0 if plan.flask.wall == "perforated" else still, drawn)
    return FlaskOut(
        start=start,
        least=least,
        on_bench=minutes_until(time, inside, least),
        on_plate=minutes_until(on_plate[0], on_plate[1], least),
        face_after=float(np.interp(carrying, time, face)),
        inside_after=float(np.interp(carrying, time, inside)),
        drawn=drawn,
        source=source,
    )
