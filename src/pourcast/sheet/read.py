"""Read: what the caster means to cast.

From the text of a piece file to a `Plan` in SI.  All faults of a file come
together, each with its line, key, value and cure.  The file itself is never
written to.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from pourcast import materials
from pourcast import units as si
from pourcast.burnout.model import Kiln, KilnStep, Original
from pourcast.errors import SheetError
from pourcast.melt.model import Charge
from pourcast.mould.model import Flask, Mix
from pourcast.piece.model import MOST_MEMBERS, Button, Piece, Vent
from pourcast.sheet.faults import Faults
from pourcast.sheet.fit import check_fit, gate_of
from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, SEEN, TOP, VENT
from pourcast.sheet.lines import Path
from pourcast.sheet.model import Assist, Plan, Studio
from pourcast.sheet.parts import part_of, read_parts
from pourcast.sheet.spoken import speech_of
from pourcast.sheet.text import parse
from pourcast.sheet.values import Table, Values, read_table
from pourcast.speech import Speech

WATER_TO_POWDER = 0.40  # kg/kg, common practice, no source
MIXED_AT = 20.0 + si.ZERO_CELSIUS  # K, common practice, no source
FLASK_WALL = 0.002  # m, estimate: steel tube as it is sold for flasks
BUTTON_WAX = "casting"

_SECTIONS = (*SECTIONS, *LISTS)


def read_plan(text: str, *, file: str = "piece file") -> Plan:
    """Return the plan that a piece file describes.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Its name, for the messages.

    Returns
    -------
    Plan

    Raises
    ------
    SheetError
        If the file has any fault; it lists all of them.
    """
    document = parse(text, file=file)
    faults = Faults(document, text)
    top = read_table(_top(document, faults), TOP, (), faults)
    sections = {name: _section(document, name, faults) for name in SECTIONS}
    steps = _steps(document.get("kiln"), faults)
    parts = read_parts(_tables(document, ("part",), faults), faults)
    if "part" not in document and not any(name in document for name in SEEN):
        faults.add(
            ("part",), "there is none; a piece must have at least one", "begin with [[part]]"
        )
    vents = [
        read_table(table, VENT, ("vent", place), faults)
        for place, table in enumerate(_tables(document, ("vent",), faults))
    ]
    check_fit(sections, parts, vents, faults)
    if faults.found():
        raise SheetError(file, faults.found())
    return _plan(top, sections, steps, parts, vents, speech_of(document))


def _top(document: Table, faults: Faults) -> Table:
    """Return the keys over the first section; a section that is not known is a fault."""
    top: Values = {}
    for key, value in document.items():
        if key in SEEN:
            text = "names a file that is not at hand here; here the parts must stand as [[part]]"
            faults.add((key,), text, "pourcast take reads it and writes them")
        elif key in TOP or not _is_section(value):
            if key not in SECTIONS and key not in LISTS:
                top[key] = value
        elif key not in SECTIONS and key not in LISTS:
            hint = faults.guess(key, _SECTIONS) or f"known: {', '.join(_SECTIONS)}"
            faults.add((key,), "is not a section of a piece file", hint)
    return top


def _is_section(value: Any) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and any(isinstance(item, dict) for item in value)
    )


def _section(document: Table, name: str, faults: Faults) -> Values:
    keys = SECTIONS[name]
    needed = [key for key, takes in keys.items() if takes.needed]
    if name not in document:
        if needed:
            text = f"the section [{name}] is missing; it must give {', '.join(needed)}"
            faults.add((name,), text, "copy the section from an example or from a new sheet")
        return {}
    table = document[name]
    if not isinstance(table, dict):
        faults.add((name,), "must be one section", f"write [{name}] with single brackets, once")
        return {}
    others = ("step",) if name == "kiln" else ()
    return read_table(table, keys, (name,), faults, others=others)


def _tables(holder: Table, path: Path, faults: Faults) -> Sequence[Table]:
    """Return the tables of a section with double brackets; none is no fault."""
    tables = holder.get(str(path[-1]), [])
    if isinstance(tables, list) and all(isinstance(table, dict) for table in tables):
        if len(tables) <= MOST_MEMBERS:
            return tables
        text = f"there are {len(tables)} of these; there must be at most {MOST_MEMBERS}"
        faults.add(path, text, "give like ones once, with a count")
        return []
    name = ".".join(str(step) for step in path)
    faults.add(path, "must be sections of their own", f"write [[{name}]] with double brackets")
    return []


def _steps(kiln: Any, faults: Faults) -> list[Values]:
    tables = _tables(kiln, ("kiln", "step"), faults) if isinstance(kiln, dict) else []
    return [
        read_table(table, KILN_STEP, ("kiln", "step", place), faults)
        for place, table in enumerate(tables)
    ]


def _plan(
    top: Values,
    sections: Mapping[str, Values],
    steps: Sequence[Values],
    parts: Sequence[Values],
    vents: Sequence[Values],
    speech: Speech,
) -> Plan:
    """Return the plan of values that are without fault."""
    measured = sections["measured"]
    return Plan(
        piece=Piece(
            name=top["name"],
            parts=tuple(part_of(values) for values in parts),
            button=_button(sections["button"], parts[0]),
            vents=tuple(
                Vent(
                    part=vent["on"],
                    diameter=vent["diameter"],
                    length=vent["length"],
                    leads_to=vent["leads_to"],
                )
                for vent in vents
            ),
            displaced_volume=measured.get("displaced"),
            weighed_mass=measured.get("weight"),
        ),
        charge=Charge(**sections["metal"]),
        flask=_flask(sections["flask"]),
        mix=_mix(sections["investment"]),
        assist=Assist(**{"kind": "gravity", **sections["assist"]}),
        kiln=_kiln(sections["kiln"], steps),
        original=_original(sections["original"]),
        studio=Studio(**sections["studio"]),
        invented=top.get("invented", False),
        speech=speech,
    )


def _button(values: Values, first: Values) -> Button:
    gate = values.get("gate_diameter") or gate_of(first)
    assert gate is not None  # check_fit asks for it where the first part is no rod
    return Button(
        diameter=values["diameter"],
        height=values["height"],
        gate_diameter=min(gate, values["diameter"]),
        material=values.get("material", BUTTON_WAX),
        tilt=values.get("tilt", 0.0),
        top=values.get("top", "open"),
    )


def _flask(values: Values) -> Flask:
    return Flask(
        inside_diameter=values["inside_diameter"],
        height=values["height"],
        wall=values["wall"],
        wall_thickness=values.get("wall_thickness", FLASK_WALL),
        temperature=values.get("temperature"),
    )


def _mix(values: Values) -> Mix:
    return Mix(
        powder=values.get("powder", materials.library().powders[0]),
        water_to_powder=values.get("water_to_powder", WATER_TO_POWDER),
        temperature=values.get("mixed_at", MIXED_AT),
    )


def _original(values: Values) -> Original:
    return Original(
        state=values.get("state"),
        holds=values.get("holds", ()),
        drying_time=values.get("days_dried"),
    )


def _kiln(values: Values, steps: Sequence[Values]) -> Kiln:
    return Kiln(
        **values,
        steps=tuple(
            KilnStep(temperature=step["to"], ramp=step.get("ramp"), hold=step.get("hold", 0.0))
            for step in steps
        ),
    )
