"""Fit: whether the sections of a piece file agree with each other.

Only what cannot be meant is a fault: a part wider than the flask, a vacuum
without its depth.  A wall of block that is too thin is for `mould` to say.
"""

from collections.abc import Mapping, Sequence

from pourcast import units as si
from pourcast.sheet.faults import Faults, shown
from pourcast.sheet.values import Values


def check_fit(
    sections: Mapping[str, Values],
    parts: Sequence[Values],
    vents: Sequence[Values],
    faults: Faults,
) -> None:
    """Note what does not go together; a value that is missing is not held against anything.

    Parameters
    ----------
    sections : mapping of str to dict
        Values by section, as `pourcast.sheet.values.read_table` gives them.
    parts, vents : sequence of dict
        Values of each part and vent, in the order of the file.
    faults : Faults
        Takes the faults found.
    """
    _check_flask(sections, parts, faults)
    _check_gate(sections.get("button", {}), parts, faults)
    _check_vacuum(sections, faults)
    _check_vents(_kind(sections, faults), parts, vents, faults)


def widest(part: Values) -> si.Metre:
    """Return the largest way across a part with its coat [m]; 0 where none is given."""
    ways = [part[key] for key in ("diameter", "width", "thickness") if key in part]
    numbers = [max(way) if isinstance(way, tuple) else way for way in ways]
    return max(numbers, default=0.0) + (2.0 * part.get("coat", 0.0) if numbers else 0.0)


def gate_of(first: Values) -> si.Metre | None:
    """Return the diameter at the base of a rod with its coat [m]; None for another shape."""
    if first.get("shape") != "rod" or "diameter" not in first:
        return None
    base = first["diameter"][0] if isinstance(first["diameter"], tuple) else first["diameter"]
    return float(base + 2.0 * first.get("coat", 0.0))


def _mm(length: si.Metre) -> str:
    return f"{si.from_si(length, 'mm'):.4g} mm"


def _check_flask(sections: Mapping[str, Values], parts: Sequence[Values], faults: Faults) -> None:
    flask, button = sections.get("flask", {}), sections.get("button", {})
    inside = flask.get("inside_diameter")
    if inside is not None:
        for place, part in enumerate(parts):
            across = widest(part)
            if across >= inside:
                key = "diameter_mm" if "diameter" in part else "width_mm"
                faults.add(
                    ("part", place, key),
                    f"comes to {_mm(across)} across; it must be less than the flask, {_mm(inside)}",
                    "take a wider flask, or look for a wrong unit",
                )
        if button.get("diameter", 0.0) >= inside:
            faults.add(
                ("button", "diameter_mm"),
                f"is {_mm(button['diameter'])}; it must be less than the flask, {_mm(inside)}",
                "take a wider flask or a smaller button",
            )
    if "height" in flask and button.get("height", 0.0) >= flask["height"]:
        faults.add(
            ("flask", "height_mm"),
            f"is {_mm(flask['height'])}; it must be more than the button, {_mm(button['height'])}",
            "take a taller flask or a lower button",
        )


def _check_gate(button: Values, parts: Sequence[Values], faults: Faults) -> None:
    gate, rim = button.get("gate_diameter"), button.get("diameter")
    if gate is not None and rim is not None and gate > rim:
        faults.add(
            ("button", "gate_diameter_mm"),
            f"is {_mm(gate)}; it must be at most the diameter of the button, {_mm(rim)}",
            "the button is widest at its rim",
        )
    written = any(
        faults.is_written(("button", key)) for key in ("gate_diameter_mm", "gate_diameter")
    )
    if not written and parts and parts[0].get("shape") in ("blade", "lump"):
        faults.add(
            ("button", "gate_diameter_mm"),
            f"is missing; it must be given where the first part is a {parts[0]['shape']}",
            "measure the wax where the piece begins",
        )


def _kind(sections: Mapping[str, Values], faults: Faults) -> str | None:
    """Return what drives the metal; None where it is written with a fault."""
    default = None if faults.is_written(("assist", "kind")) else "gravity"
    return sections.get("assist", {}).get("kind", default)


def _check_vacuum(sections: Mapping[str, Values], faults: Faults) -> None:
    vacuum = sections.get("assist", {}).get("vacuum")
    kind = _kind(sections, faults)
    written = any(faults.is_written(("assist", key)) for key in ("vacuum_kPa", "vacuum"))
    if kind == "vacuum" and not written:
        faults.add(
            ("assist", "vacuum_kPa"),
            'is missing; it must be given where kind = "vacuum"',
            "read the gauge with the flask on, in kPa below the air",
        )
    if kind == "gravity" and vacuum is not None:
        faults.add(
            ("assist", "vacuum_kPa"),
            f"is {si.from_si(vacuum, 'kPa'):.4g} kPa, but the metal goes in by gravity",
            'write kind = "vacuum", or leave the vacuum out',
        )
    air = sections.get("studio", {}).get("air_pressure")
    if vacuum is not None and air is not None and vacuum > air:
        faults.add(
            ("assist", "vacuum_kPa"),
            f"is {si.from_si(vacuum, 'kPa'):.4g} kPa; it must be at most the air of that day, "
            f"{si.from_si(air, 'kPa'):.4g} kPa",
            "read the gauge from the air down",
        )


def _check_vents(
    kind: str | None, parts: Sequence[Values], vents: Sequence[Values], faults: Faults
) -> None:
    names = {part["name"]: None for part in parts if "name" in part}
    seen: set[str | None] = set()
    for place, vent in enumerate(vents):
        if "on" in vent and vent["on"] not in names:
            faults.add(
                ("vent", place, "on"),
                f"is {shown(vent['on'])}; it must be the name of a part",
                faults.guess(vent["on"], names) or "a vent leaves from the tip of a part",
            )
        elif "on" in vent and vent["on"] in seen:
            faults.add(
                ("vent", place, "on"),
                f"is {shown(vent['on'])}, as that of another vent is; a part must have at most one",
                "every member of the part has a vent already",
            )
        seen.add(vent.get("on"))
        if vent.get("leads_to") == "vacuum" and kind == "gravity":
            faults.add(
                ("vent", place, "leads_to"),
                'is "vacuum", but there is none; it must be "air"',
                'for a vacuum write kind = "vacuum" in [assist]',
            )
