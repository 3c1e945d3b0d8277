"""Keys: where each key of a piece file stands in a plan, and what the caster calls it.

One table serves both ways: an `Edit` of a piece file is made in the records of a
plan, and two plans are compared key by key in the caster's words.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of a piece file.

    Parameters
    ----------
    record : str
        Field of `Plan` that holds it; of a part, vent or step its own record.
    field : str
    unit : str or None
        Of the written number, as in `pourcast.units`; None: a word, or a count.
    words : str
        What it is.
    """

    record: str
    field: str
    unit: str | None
    words: str


def _keys(record: str, **rows: tuple[str, str | None, str]) -> Mapping[str, Key]:
    return {
        key: Key(record=record, field=field, unit=unit, words=words)
        for key, (field, unit, words) in rows.items()
    }


SECTIONS: Mapping[str, Mapping[str, Key]] = {
    "metal": _keys(
        "charge",
        alloy=("alloy", None, "alloy"),
        pour_temperature_C=("pour_temperature", "degC", "metal in the pot"),
        on_hand_g=("on_hand", "g", "new metal on hand"),
        returns_g=("returns", "g", "old metal on hand"),
        poured_g=("poured", "g", "metal weighed out"),
    ),
    "flask": _keys(
        "flask",
        inside_diameter_mm=("inside_diameter", "mm", "flask, inside"),
        height_mm=("height", "mm", "height of the flask"),
        wall=("wall", None, "wall of the flask"),
        wall_mm=("wall_thickness", "mm", "steel of the flask"),
        temperature_C=("temperature", "degC", "flask at the pour"),
    ),
    "investment": _keys(
        "mix",
        powder=("powder", None, "powder"),
        water_to_powder=("water_to_powder", "-", "water to powder"),
        mixed_at_C=("temperature", "degC", "powder and water"),
    ),
    "assist": _keys(
        "assist",
        kind=("kind", None, "what drives the metal in"),
        vacuum_kPa=("vacuum", "kPa", "vacuum"),
        pump_time_s=("pump_time", "s", "time of the pump"),
        lead_time_s=("lead_time", "s", "pump on before the pour"),
        seal=("seal", "-", "seal"),
    ),
    "kiln": _keys(
        "kiln",
        litres=("volume", "l", "kiln"),
        kW=("power", "kW", "power of the kiln"),
        air_changes_per_h=("air_changes", "1/h", "air changes of the kiln"),
        control=("control", None, "how the kiln is turned"),
        flasks=("flasks", None, "flasks in the kiln"),
        dial_top=("dial_top", None, "highest place of the dial"),
        dial_step=("dial_step", "-", "step of the dial"),
    ),
    "button": _keys(
        "button",
        diameter_mm=("diameter", "mm", "button"),
        height_mm=("height", "mm", "height of the button"),
        material=("material", None, "wax of the button"),
        tilt_deg=("tilt", "deg", "tilt of the piece"),
        gate_diameter_mm=("gate_diameter", "mm", "gate"),
        top=("top", None, "top of the button after the pour"),
    ),
    "original": _keys(
        "original",
        state=("state", None, "state of the original"),
        holds=("holds", None, "what else is in the original"),
        days_dried=("drying_time", "d", "drying of the original"),
    ),
    "measured": _keys(
        "piece",
        displaced_ml=("displaced_volume", "ml", "water that it displaces"),
        weight_g=("weighed_mass", "g", "weight of the original"),
    ),
    "studio": _keys(
        "studio",
        altitude_m=("altitude", "m", "height over the sea"),
        air_pressure_kPa=("air_pressure", "kPa", "air pressure"),
        metal_thermometer_error_C=("metal_thermometer_error", "K", "error of the pot's reading"),
        flask_thermometer_error_C=("flask_thermometer_error", "K", "error of the flask's reading"),
        gauge_error_kPa=("gauge_error", "kPa", "error of the vacuum gauge"),
    ),
}
"""Sections with single brackets; "button" and "measured" stand in the piece."""

STEP = _keys(
    "step",
    to_C=("temperature", "degC", "heat"),
    ramp_C_per_h=("ramp", "K/h", "ramp"),
    hold_h=("hold", "h", "hold"),
)

PART = _keys(
    "part",
    on=("parent", None, "grows on"),
    at=("position", "-", "place"),
    count=("count", None, "how many"),
    shape=("shape", None, "shape"),
    length_mm=("length", "mm", "length"),
    width_mm=("width", "mm", "width"),
    thickness_mm=("thickness", "mm", "thickness"),
    angle_deg=("angle", "deg", "angle"),
    turn_deg=("turn", "deg", "turn"),
    turn_step_deg=("turn_step", "deg", "turn from one to the next"),
    bend_deg=("bend", "deg", "bend"),
    material=("material", None, "material"),
    coat_mm=("coat", "mm", "coat"),
    tip_on=("tip_on", None, "tip joined to"),
    tip_at=("tip_position", "-", "place of the joint"),
    measure_error_percent=("measure_error", "%", "error of its measures"),
)

VENT = _keys(
    "vent",
    on=("part", None, "vent on"),
    diameter_mm=("diameter", "mm", "vent"),
    length_mm=("length", "mm", "length of the vent"),
    leads_to=("leads_to", None, "vent leads to"),
)
