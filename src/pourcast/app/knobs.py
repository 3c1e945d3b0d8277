"""Knobs: which keys of a piece file are turned on its page, and by how much.

A knob is one key of the piece file.  Its usual range is a record of the
materials library where there is one (`pourcast.page.usual`); the width of a step and
the ends of other rulers are our own choice.
"""

from dataclasses import replace

from pourcast import units as si
from pourcast.app.knob import Knob, as_told
from pourcast.app.look import Look
from pourcast.app.words import say
from pourcast.forecast.model import Forecast
from pourcast.page import usual
from pourcast.page.figures import clean
from pourcast.page.usual import Chosen
from pourcast.piece.model import Part

_THIN = 1.5e-3  # m; a part thinner than this is offered a coat at once


def knobs(forecast: Forecast, look: Look) -> list[Knob]:
    """Return the knobs of a forecast, row by row."""
    made = [*_bench(forecast), *_mix(forecast), *_burn(forecast), *_pour(forecast)]
    if forecast.freeze is not None:
        made += _freeze(forecast)
    return [as_told(knob, look, forecast.plan.speech) for knob in made]


def _from(
    chosen: Chosen, knob_id: str, row: str, step: float, low: float, high: float, **more: object
) -> Knob:
    """Return a knob with label, value and usual range of a value of the page."""
    band = chosen.usual
    if band is not None:
        room = 0.35 * (band[1] - band[0])
        low, high = max(band[0] - room, 0.0), band[1] + room
    made = Knob(
        id=knob_id,
        row=row,
        label=chosen.label,
        value=chosen.value,
        unit=chosen.unit,
        step=step,
        low=low,
        high=high,
        band=band,
        note=chosen.note,
    )
    return replace(made, **more)  # type: ignore[arg-type]


def _bench(forecast: Forecast) -> list[Knob]:
    plan = forecast.plan
    tilt = usual.bench_values(forecast)[0]
    made = [
        _from(tilt, "button.tilt_deg", "bench", 5.0, 0.0, 60.0),
        _size("flask.inside_diameter_mm", "flask_inside", plan.flask.inside_diameter, 5.0, 40, 150),
        _size("flask.height_mm", "flask_height", plan.flask.height, 5.0, 50, 220),
    ]
    for place, part in enumerate(plan.piece.parts):
        name = clean(part.name)
        thin = min(*part.width, *part.thickness) < _THIN
        made.append(
            Knob(
                id=f"part.{place}.coat_mm",
                row="bench",
                label=say("piece.knob.coat", part=name),
                value=si.from_si(part.coat, "mm"),
                unit="mm",
                step=0.05,
                high=0.6,
                folded=not (part.coat or thin),
            )
        )
        made.append(_thickness(place, part, name))
    return made


def _thickness(place: int, part: Part, name: str) -> Knob:
    """Return the knob of the size at the base of a part, its coat not counted."""
    flat = part.shape == "blade"
    key = "thickness_mm" if flat else "diameter_mm"
    ends = part.thickness if flat else part.width
    base, tip = (round(si.from_si(end, "mm"), 6) for end in ends)
    step = 0.05 if base < 2.0 else 0.2
    return Knob(
        id=f"part.{place}.{key}",
        row="bench",
        label=say("piece.knob.thick" if flat else "piece.knob.wide", part=name),
        value=base,
        unit="mm",
        step=step,
        low=0.0,
        high=max(2.0 * base, step * 10),
        tail=(tip,) if tip != base else (),
        folded=True,
    )


def _size(knob_id: str, word: str, length: si.Metre, step: float, low: float, high: float) -> Knob:
    value = si.from_si(length, "mm")
    return Knob(
        id=knob_id,
        row="bench",
        label=say(f"piece.knob.{word}"),
        value=value,
        unit="mm",
        step=step,
        low=min(low, value),
        high=max(high, value),
        folded=True,
    )


def _mix(forecast: Forecast) -> list[Knob]:
    # The page says it to 100 of powder; the file as a ratio.
    water, heat = usual.mix_values(forecast)
    ratio = forecast.plan.mix.water_to_powder
    return [
        _from(
            replace(water, label=say("piece.knob.water"), value=ratio, unit="-"),
            "investment.water_to_powder",
            "mix",
            0.01,
            0.34,
            0.46,
        ),
        _from(heat, "investment.mixed_at_C", "mix", 1.0, 10.0, 32.0),
    ]


def _burn(forecast: Forecast) -> list[Knob]:
    burnout, steps = forecast.burnout, forecast.plan.kiln.steps
    if burnout is None:
        return []
    hottest, held, air = usual.burn_values(forecast)
    made = []
    if steps:
        top = max(range(len(steps)), key=lambda place: steps[place].temperature)
        step = steps[top]
        made = [
            _from(
                replace(hottest, value=si.from_si(step.temperature, "degC")),
                f"kiln.step.{top}.to_C",
                "burn",
                10.0,
                600.0,
                800.0,
            ),
            _from(
                replace(held, value=si.from_si(step.hold, "h")),
                f"kiln.step.{top}.hold_h",
                "burn",
                0.5,
                0.0,
                12.0,
            ),
        ]
    return [*made, _from(air, "kiln.air_changes_per_h", "burn", 1.0, 0.0, 20.0)]


def _pour(forecast: Forecast) -> list[Knob]:
    flask, metal, *pump = usual.pour_values(forecast)
    made = [
        _from(flask, "flask.temperature_C", "pour", 10.0, 400.0, 750.0),
        _from(metal, "metal.pour_temperature_C", "pour", 10.0, 1000.0, 1250.0),
    ]
    if pump:
        made += [
            _from(pump[0], "assist.vacuum_kPa", "pour", 2.0, 0.0, 95.0),
            _from(pump[1], "assist.lead_time_s", "pour", 1.0, 0.0, 30.0),
        ]
    return made


def _freeze(forecast: Forecast) -> list[Knob]:
    button = forecast.plan.piece.button
    sizes = (
        ("button.gate_diameter_mm", "gate", button.gate_diameter, 0.5),
        ("button.height_mm", "button_height", button.height, 2.0),
        ("button.diameter_mm", "button", button.diameter, 2.0),
    )
    made = [
        replace(_size(knob_id, word, length, step, 0.0, 60.0), row="freeze", folded=False)
        for knob_id, word, length, step in sizes
    ]
    top = Knob(
        id="button.top",
        row="freeze",
        label=say("piece.knob.top"),
        choices=("open", "covered"),
        word=button.top,
    )
    return [*made, top]
