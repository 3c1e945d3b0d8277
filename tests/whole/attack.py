"""What an attack on the forecast looks like: hard plans, and what may come out of them."""

import math
import time
import warnings
from dataclasses import replace

from hypothesis import strategies as st

from pourcast.errors import PourcastError
from pourcast.forecast.document import document
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.materials import library
from pourcast.piece.model import Part, Piece, Vent
from pourcast.sheet.model import Plan
from pourcast.units import ZERO_CELSIUS
from tests.strategies import plans

SLOW = 1.0  # s; a plan that takes longer is printed, not refused

ALLOYS = tuple(library().alloys)
"""Keys of all alloys, and so also those that nobody pours into such a mould."""


def forecast_or_refusal(plan: Plan, draws: int = 4) -> Forecast | PourcastError:
    """Return the forecast, or the error by which the plan is refused.

    Anything else passes on: an error without a name, a warning, a number that is not finite.
    """
    begun = time.perf_counter()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            made = forecast(plan, draws=draws)
        except PourcastError as refused:
            return refused
        document(made, version="0")  # refuses what is not finite
    took = time.perf_counter() - begun
    if took > SLOW:
        print(f"slow: {took:.1f} s, {made.network.length.size} segments: {plan!r}")
    return made


def sums_hold(made: Forecast) -> bool:
    """Say whether shares lie in 0 to 1 and endings add up to 1."""
    how = made.outcomes
    shares = [
        made.chance_low,
        made.chance_all,
        made.chance_high,
        *(part.chance_full for part in made.parts),
        *(part.chance_weakest for part in made.parts),
        *(part.share.p10 for part in made.parts),
        *(part.share.p90 for part in made.parts),
        *made.segment_chance.tolist(),
    ]
    total = how.whole + how.short_tips + how.short_parts + how.lost
    return all(0.0 <= share <= 1.0 for share in shares) and abs(total - 1.0) < 1e-12


@st.composite
def _hard_parts(draw: st.DrawFn, piece: Piece) -> Piece:
    """Change a few parts: hairs, wide sheets, spirals, chains of one segment, joints."""
    changed: list[Part] = []
    for part in piece.parts:
        how = draw(st.sampled_from(("as it is", "hair", "sheet", "spiral", "short", "joint")))
        if how == "hair":
            thin = draw(st.sampled_from((1e-6, 5e-5, 1e-4)))
            width = (thin, thin) if part.shape != "blade" else part.width
            part = replace(part, width=width, thickness=(thin, thin), coat=0.0)
        elif how == "sheet":
            part = replace(part, shape="blade", width=(0.1, 0.1), thickness=(3e-4, 3e-4))
        elif how == "spiral":
            turns = draw(st.sampled_from((-3, 1, 3, 10)))
            part = replace(part, bend=2.0 * math.pi * turns)
        elif how == "short":
            part = replace(part, length=draw(st.sampled_from((1e-6, 1e-4, 1e-3))))
        elif how == "joint" and changed:
            other = draw(st.sampled_from([other.name for other in changed]))
            part = replace(part, tip_on=other, tip_position=draw(st.sampled_from((0.0, 0.5, 1.0))))
        changed.append(part)
    vents = piece.vents
    if draw(st.booleans()):
        vents = tuple(
            Vent(part=part.name, diameter=1e-3, length=0.02, leads_to="air") for part in changed
        )
    return replace(piece, parts=tuple(changed), vents=vents)


@st.composite
def hard_plans(draw: st.DrawFn) -> Plan:
    """Plans with a few of their values at or beyond what a caster would write."""
    plan = draw(plans())

    def one_of(usual: float | None, *hard: float | None) -> float | None:
        return draw(st.sampled_from((usual, usual, *hard)))

    zero = ZERO_CELSIUS
    button = plan.piece.button
    high = one_of(button.height, 1e-4, 0.3)
    gate = one_of(button.gate_diameter, 1e-5, button.diameter)
    metal = one_of(plan.charge.pour_temperature, 100.0 + zero, 900.0 + zero, 1400.0 + zero)
    wide = one_of(plan.flask.inside_diameter, 0.012, 1.0)
    altitude = one_of(plan.studio.altitude, 5000.0, 6000.0)
    assert high is not None
    assert gate is not None
    assert metal is not None
    assert wide is not None
    assert altitude is not None
    assist = plan.assist
    if assist.kind == "vacuum":
        vacuum = one_of(assist.vacuum, 1.0, 100e3, 101.4e3)
        pump, lead = one_of(assist.pump_time, 1e-3, 600.0), one_of(assist.lead_time, 0.0, 600.0)
        seal = one_of(assist.seal, 0.0, 1.0)
        assert pump is not None
        assert lead is not None
        assert seal is not None
        assist = replace(assist, vacuum=vacuum, pump_time=pump, lead_time=lead, seal=seal)
    return replace(
        plan,
        piece=replace(
            draw(_hard_parts(plan.piece)),
            button=replace(button, height=high, gate_diameter=gate),
        ),
        charge=replace(
            plan.charge,
            alloy=draw(st.sampled_from(ALLOYS)),
            pour_temperature=metal,
            poured=one_of(plan.charge.poured, 1e-6, 1e3),
            on_hand=one_of(plan.charge.on_hand, 0.0, 1e3),
        ),
        flask=replace(
            plan.flask,
            inside_diameter=wide,
            temperature=one_of(plan.flask.temperature, zero, 20.0 + zero, 1000.0 + zero),
        ),
        assist=assist,
        studio=replace(
            plan.studio,
            altitude=altitude,
            air_pressure=one_of(plan.studio.air_pressure, 40e3, 110e3),
            metal_thermometer_error=one_of(plan.studio.metal_thermometer_error, 0.0, 200.0),
            flask_thermometer_error=one_of(plan.studio.flask_thermometer_error, 0.0, 200.0),
            gauge_error=one_of(plan.studio.gauge_error, 0.0, 50e3),
        ),
    )
