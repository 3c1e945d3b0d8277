"""A plan that is written out as a sheet reads back the same."""

import dataclasses
import math
from collections.abc import Iterator
from typing import Any

from hypothesis import HealthCheck, given, settings

from pourcast.piece.model import Part
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from tests.strategies import plans


def pairs(**values: Any) -> str:
    """Return lines of TOML; what is None is left out."""
    return "".join(f"{key} = {told(value)}\n" for key, value in values.items() if value is not None)


def told(value: Any) -> str:
    """Return one value as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, tuple):
        return f"[{', '.join(told(item) for item in value)}]"
    return f'"{value}"' if isinstance(value, str) else repr(value)


def scaled(value: Any, factor: float) -> Any:
    """Return a number or a pair in a unit that is so many to the SI unit."""
    if isinstance(value, tuple):
        return tuple(item * factor for item in value)
    return None if value is None else value * factor


def celsius(value: float | None) -> float | None:
    """Return a temperature as a sheet has it."""
    return None if value is None else value - 273.15


def part_of(part: Part) -> str:
    """Return the section of one part."""
    across = {"width_mm": scaled(part.width, 1e3), "thickness_mm": scaled(part.thickness, 1e3)}
    if part.shape == "rod":
        across = {"diameter_mm": scaled(part.width, 1e3)}
    elif part.shape == "lump":
        across = {key: size[0] for key, size in across.items()}
    return "[[part]]\n" + pairs(
        name=part.name,
        on=part.parent,
        at=part.position,
        count=part.count,
        shape=part.shape,
        length_mm=part.length * 1e3,
        **across,
        angle_deg=math.degrees(part.angle),
        turn_deg=math.degrees(part.turn),
        turn_step_deg=math.degrees(part.turn_step),
        bend_deg=math.degrees(part.bend),
        material=part.material,
        coat_mm=part.coat * 1e3,
    )


def sheet_of(plan: Plan) -> str:
    """Return the piece file of a plan."""
    charge, flask, assist, kiln, studio = (
        plan.charge,
        plan.flask,
        plan.assist,
        plan.kiln,
        plan.studio,
    )
    button = plan.piece.button
    by_vacuum = assist.kind == "vacuum"
    sections = [
        pairs(name=plan.piece.name, invented=plan.invented),
        "[metal]\n",
        pairs(
            alloy=charge.alloy,
            pour_temperature_C=celsius(charge.pour_temperature),
            on_hand_g=scaled(charge.on_hand, 1e3),
            returns_g=scaled(charge.returns, 1e3),
            poured_g=scaled(charge.poured, 1e3),
        ),
        "[flask]\n",
        pairs(
            inside_diameter_mm=flask.inside_diameter * 1e3,
            height_mm=flask.height * 1e3,
            wall=flask.wall,
            wall_mm=flask.wall_thickness * 1e3,
            temperature_C=celsius(flask.temperature),
        ),
        "[investment]\n",
        pairs(
            powder=plan.mix.powder,
            water_to_powder=plan.mix.water_to_powder,
            mixed_at_C=celsius(plan.mix.temperature),
        ),
        "[assist]\n",
        pairs(
            kind=assist.kind,
            vacuum_kPa=scaled(assist.vacuum, 1e-3),
            pump_time_s=assist.pump_time if by_vacuum else None,
            lead_time_s=assist.lead_time if by_vacuum else None,
            seal=assist.seal if by_vacuum else None,
        ),
        "[kiln]\n",
        pairs(
            litres=scaled(kiln.volume, 1e3),
            kW=scaled(kiln.power, 1e-3),
            air_changes_per_h=scaled(kiln.air_changes, 3600.0),
            control=kiln.control,
            flasks=kiln.flasks,
            dial_top=kiln.dial_top,
            dial_step=kiln.dial_step,
        ),
        *(
            "[[kiln.step]]\n"
            + pairs(
                to_C=celsius(step.temperature),
                ramp_C_per_h=scaled(step.ramp, 3600.0),
                hold_h=step.hold / 3600.0,
            )
            for step in kiln.steps
        ),
        "[button]\n",
        pairs(
            diameter_mm=button.diameter * 1e3,
            height_mm=button.height * 1e3,
            material=button.material,
            tilt_deg=math.degrees(button.tilt),
            gate_diameter_mm=button.gate_diameter * 1e3,
            top=button.top,
        ),
        "[original]\n",
        pairs(
            state=plan.original.state,
            holds=plan.original.holds,
            days_dried=scaled(plan.original.drying_time, 1 / 86_400.0),
        ),
        *(part_of(part) for part in plan.piece.parts),
        *(
            "[[vent]]\n"
            + pairs(
                on=vent.part,
                diameter_mm=vent.diameter * 1e3,
                length_mm=vent.length * 1e3,
                leads_to=vent.leads_to,
            )
            for vent in plan.piece.vents
        ),
        "[measured]\n",
        pairs(
            displaced_ml=scaled(plan.piece.displaced_volume, 1e6),
            weight_g=scaled(plan.piece.weighed_mass, 1e3),
        ),
        "[studio]\n",
        pairs(
            altitude_m=studio.altitude,
            air_pressure_kPa=scaled(studio.air_pressure, 1e-3),
            metal_thermometer_error_C=studio.metal_thermometer_error,
            flask_thermometer_error_C=studio.flask_thermometer_error,
            gauge_error_kPa=scaled(studio.gauge_error, 1e-3),
        ),
    ]
    return "".join(sections)


def leaves(value: Any) -> Iterator[Any]:
    """Return all that is in a record, one after the other."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield field.name
            yield from leaves(getattr(value, field.name))
    elif isinstance(value, tuple):
        yield len(value)
        for item in value:
            yield from leaves(item)
    else:
        yield value


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_a_plan_written_out_reads_back_the_same(plan: Plan) -> None:
    """Source: the writer of this test, with its own factors.

    Tolerance 1e-9 of each number: two roundings, and 273.15 taken off and put back.
    """
    read = list(leaves(read_plan(sheet_of(plan))))
    meant = list(leaves(plan))

    assert len(read) == len(meant)
    for one, other in zip(read, meant, strict=True):
        if isinstance(other, float):
            assert math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)
        else:
            assert one == other
