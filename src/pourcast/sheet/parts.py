"""Parts: whether the parts of a piece file hang together.

Reads each [[part]], then asks what no part can answer alone: does its parent
stand before it, are the names different, how many members does that make, do
the sizes go with the shape?
"""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from pourcast import units as si
from pourcast.piece.model import MOST_MEMBERS, Part
from pourcast.sheet.faults import Faults, shown
from pourcast.sheet.keys import PART, bare
from pourcast.sheet.lines import Path
from pourcast.sheet.values import Table, Values, read_table

BUTTON = "button"
"""What the first part grows on; no part may have this name."""

DIVERGENCE = math.radians(137.5)
"""From one member of a row to the next [rad]: spiral leaf growth; botany, from memory."""

_SIZES = ("diameter_mm", "width_mm", "thickness_mm")


def read_parts(tables: Sequence[Table], faults: Faults) -> list[Values]:
    """Return the values of each part, in the order of the file.

    Parameters
    ----------
    tables : sequence of mapping
        The [[part]] tables of the file.
    faults : Faults
        Takes the faults found.

    Returns
    -------
    list of dict
        By key without unit, in SI; what is faulty is left out.
    """
    read = [read_table(table, PART, ("part", place), faults) for place, table in enumerate(tables)]
    _check_names(read, faults)
    _check_parents(read, tables, faults)
    _check_members(read, faults)
    _check_tips(read, tables, faults)
    for place, (values, table) in enumerate(zip(read, tables, strict=True)):
        _check_shape(values, table, ("part", place), faults)
    return read


def _check_names(read: Sequence[Values], faults: Faults) -> None:
    seen: dict[str, int] = {}
    for place, values in enumerate(read):
        name = values.get("name")
        path = ("part", place, "name")
        if name == BUTTON:
            text = f"is {shown(name)}; it must be another name"
            faults.add(path, text, "the wax button has a section of its own, [button]")
        elif name in seen:
            text = f"is {shown(name)}, as part {seen[name] + 1} is; each name must stand once"
            faults.add(path, text, f"call it {name} {place + 1}")
        elif name is not None:
            seen[name] = place


def _check_parents(read: Sequence[Values], tables: Sequence[Table], faults: Faults) -> None:
    """Fill in the parent of the first part, and hold each against the parts before it."""
    places = _places(read)
    for place, (values, table) in enumerate(zip(read, tables, strict=True)):
        path = ("part", place, "on")
        if "on" not in table and place == 0:
            values["on"] = BUTTON
        elif "on" not in table:
            text = "is missing; it must be the name of the part that this one grows on"
            faults.add(path, text, f'for the wax write on = "{BUTTON}"')
        parent = values.get("on")
        if parent is None or parent == BUTTON:
            continue
        if parent not in places:
            known = (BUTTON, *(name for name in places if name != values.get("name")))
            hint = faults.guess(parent, known) or f'the first part grows on "{BUTTON}"'
            faults.add(path, f"is {shown(parent)}; it must be the name of a part", hint)
        elif places[parent] >= place:
            _refuse_later(place, parent, places, read, faults)


def _places(read: Sequence[Values]) -> dict[str, int]:
    """Return where each name stands first."""
    places: dict[str, int] = {}
    for place, values in enumerate(read):
        if "name" in values:
            places.setdefault(values["name"], place)
    return places


def _refuse_later(
    place: int, parent: str, places: Mapping[str, int], read: Sequence[Values], faults: Faults
) -> None:
    path = ("part", place, "on")
    own = read[place].get("name")
    if parent == own:
        faults.add(path, f"is {shown(parent)}, the part itself", "name the part that it grows on")
        return
    way = _way_down(parent, places, read)
    if own is not None and own in way:
        steps = [own, *way[: way.index(own) + 1]]
        ring = " on ".join(steps if len(steps) <= 6 else [*steps[:3], "…", *steps[-2:]])
        faults.add(
            path,
            f"is {shown(parent)}, which grows on this part in turn: {ring}",
            "one of them must grow on another part or on the button",
        )
        return
    text = f"is {shown(parent)}, which stands later; a part must stand after its parent"
    faults.add(path, text, f"move this [[part]] below part {places[parent] + 1}")


def _way_down(name: str, places: Mapping[str, int], read: Sequence[Values]) -> list[str]:
    """Return the names from a part down to the button, or round a ring once."""
    way: list[str] = []
    seen: set[str] = set()
    while name in places and name not in seen:
        way.append(name)
        seen.add(name)
        name = read[places[name]].get("on", BUTTON)
    return [*way, name] if name in seen else way


def _check_members(read: Sequence[Values], faults: Faults) -> None:
    """Count the members of all parts together; name the part that makes them too many."""
    members = {BUTTON: 1}
    total = 0
    for place, values in enumerate(read):
        count = values.get("count", 1)
        each = members.get(values.get("on", ""), 1)
        own = count * each
        if "name" in values:
            members.setdefault(values["name"], own)
        total += own
        if total > MOST_MEMBERS:
            on = f" on each of {each} members of {values['on']}" if each > 1 else ""
            faults.add(
                ("part", place, "count"),
                f"is {count}{on}, which brings the piece to {total} members; "
                f"there must be at most {MOST_MEMBERS}",
                "leave out what is too small to matter, or count fewer, larger ones",
            )
            return


def _check_tips(read: Sequence[Values], tables: Sequence[Table], faults: Faults) -> None:
    places = _places(read)
    for place, (values, table) in enumerate(zip(read, tables, strict=True)):
        joined = values.get("tip_on")
        path = ("part", place, "tip_on")
        if "tip_at" in table and "tip_on" not in table:
            faults.add(
                ("part", place, "tip_at"),
                "stands without tip_on; there must be both or neither",
                "name in tip_on the part that the tip is joined to",
            )
        if joined is None:
            continue
        own = values.get("name")
        if joined not in places:
            known = tuple(name for name in places if name != own)
            hint = faults.guess(joined, known) or "only a part can be joined, not the button"
            faults.add(path, f"is {shown(joined)}; it must be the name of a part", hint)
        elif joined == own:
            faults.add(path, f"is {shown(joined)}, the part itself", "name another part")
        elif own is not None and own in _way_down(joined, places, read):
            faults.add(
                path,
                f"is {shown(joined)}, which grows on this part; it must be another",
                "the way out and back must be two different ways",
            )


def _check_shape(values: Values, table: Table, path: Path, faults: Faults) -> None:
    """Hold the sizes that are written against the shape."""
    shape = values.get("shape")
    has = {key: key in table or bare(key) in table for key in _SIZES}
    flat = [key for key in _SIZES[1:] if has[key]]
    if shape == "rod":
        for key in flat:
            faults.add(
                (*path, _as_written(key, table)),
                "does not go with a rod, which is round",
                'give diameter_mm, or write shape = "blade"',
            )
        if not has["diameter_mm"] and not flat:
            faults.add(
                (*path, "diameter_mm"),
                "is missing; a rod must have it",
                "measure across with a caliper; [start, end] for a taper",
            )
    elif shape == "blade":
        if has["diameter_mm"]:
            faults.add(
                (*path, _as_written("diameter_mm", table)),
                "does not go with a blade, which is flat",
                'give width_mm and thickness_mm, or write shape = "rod"',
            )
        else:
            _require_both(flat, path, faults, "a blade must have width_mm and thickness_mm")
    elif shape == "lump":
        if has["diameter_mm"] and flat:
            key = _as_written("diameter_mm", table)
            faults.add(
                (*path, key),
                f"stands beside {' and '.join(flat)}; only one may",
                "keep diameter_mm if the lump is round",
            )
        elif not has["diameter_mm"]:
            _require_both(
                flat, path, faults, "a lump must have diameter_mm, or width_mm and thickness_mm"
            )
        for key in _SIZES:
            name = _as_written(key, table)
            if isinstance(table.get(name), list):
                faults.add(
                    (*path, name),
                    f"is {shown(table[name])}; a lump must have one number",
                    "give its largest size; it is round at both ends",
                )


def _as_written(key: str, table: Table) -> str:
    return key if key in table else bare(key)


def _require_both(flat: Sequence[str], path: Path, faults: Faults, must: str) -> None:
    for key in _SIZES[1:]:
        if key not in flat:
            faults.add((*path, key), f"is missing; {must}", "measure the widest and the thinnest")


def part_of(values: Values) -> Part:
    """Return the record of a part whose values are without fault."""
    if "diameter" in values:
        width = thickness = _pair(values["diameter"])
    else:
        width, thickness = _pair(values["width"]), _pair(values["thickness"])
    count = values.get("count", 1)
    position = _pair(values.get("at", 1.0))
    whorl = position[0] == position[1]
    return Part(
        name=values["name"],
        parent=values["on"],
        shape=values["shape"],
        count=count,
        length=values["length"],
        width=width,
        thickness=thickness,
        position=position,
        angle=values.get("angle", 0.0),
        turn=values.get("turn", 0.0),
        turn_step=values.get("turn_step", 2.0 * math.pi / count if whorl else DIVERGENCE),
        bend=values.get("bend", 0.0),
        coat=values.get("coat", 0.0),
        material=values["material"],
        tip_on=values.get("tip_on"),
        tip_position=values.get("tip_at", 1.0),
        measure_error=values.get("measure_error"),
    )


def _pair(value: Any) -> tuple[si.Metre, si.Metre]:
    return value if isinstance(value, tuple) else (value, value)
