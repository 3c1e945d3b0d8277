"""Groups: parts that are alike are named, and told what they are made of, all at once.

A [[group]] in the corrections file says which parts it means, by any of these,
and all that it says must hold:

    [[group]]
    shape = "rod"              # rod, blade or lump
    order = 2                  # forks from the button: 0 for the stem, 1 for what grows on it
    length_mm = [10, 30]       # size class: from and up to, as the scan was measured
    width_mm = [0.4, 1.2]      # mean of base and tip; of a rod its diameter
    colour = "#c04020"         # as the comment above the part says it, or near to it
    name = "ray"               # "ray 1", "ray 2" and so on, in the order of the piece file
    material = "dry_stem"
    drop = true                # or join = true

A later group goes before an earlier one, and a [[part]] before every group.
"""

import re
from dataclasses import dataclass
from typing import Any, get_args

from pourcast import units as si
from pourcast.piece.model import Shape
from pourcast.scan.model import ScannedPart

CONDITIONS = ("shape", "order", "length_mm", "width_mm", "colour")
KEYS = (*CONDITIONS, "name", "material", "drop", "join")

NEAR_COLOUR = 48
"""Of 255, how far red, green and blue may each be off (estimate)."""

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}", re.ASCII)
_MOST_ORDER = 100  # a fork this far from the button is a slip of the pen


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Which parts are meant, and what they become; None: not said.

    Parameters
    ----------
    shape : {"rod", "blade", "lump"} or None
    order : int or None
        Forks between the part and the button.
    length, width : pair of float or None [m]
        From and up to; the width is the mean of base and tip.
    colour : tuple of int or None
        Red, green and blue, 0 to 255.
    name, material : str or None
    drop, join : bool
    """

    shape: Shape | None = None
    order: int | None = None
    length: tuple[si.Metre, si.Metre] | None = None
    width: tuple[si.Metre, si.Metre] | None = None
    colour: tuple[int, int, int] | None = None
    name: str | None = None
    material: str | None = None
    drop: bool = False
    join: bool = False


def group_faults(table: dict[str, Any]) -> list[tuple[str, str]]:
    """Return what is wrong with a [[group]], as key and what it must be.

    Parameters
    ----------
    table : dict

    Returns
    -------
    list of (str, str)
    """
    out = []
    if not any(key in table for key in CONDITIONS):
        out.append(("group", f"given one or more of {', '.join(CONDITIONS)}"))
    if table.get("shape", "rod") not in get_args(Shape):
        out.append(("shape", f"one of {', '.join(get_args(Shape))}"))
    order = table.get("order", 0)
    if not (type(order) is int and 0 <= order <= _MOST_ORDER):
        out.append(("order", f"a whole number from 0 to {_MOST_ORDER}"))
    colour = table.get("colour", "#000000")
    if not (isinstance(colour, str) and _COLOUR.fullmatch(colour)):
        out.append(("colour", "written #rrggbb, such as #c04020"))
    for key in ("length_mm", "width_mm"):
        if not _is_class(table.get(key, [0, 1])):
            out.append((key, "two numbers of mm, from and up to, within 0 to 3000"))
    return out


def _is_class(value: Any) -> bool:
    if not (isinstance(value, list) and len(value) == 2):
        return False
    # A truth value is a number to Python, and nan is not within anything.
    if not all(isinstance(one, int | float) and not isinstance(one, bool) for one in value):
        return False
    return bool(0 <= value[0] < value[1] <= 3000)


def read_group(table: dict[str, Any]) -> Group:
    """Return the group of a [[group]] that has no fault.

    Parameters
    ----------
    table : dict

    Returns
    -------
    Group
    """

    def pair(key: str) -> tuple[si.Metre, si.Metre] | None:
        return (1e-3 * table[key][0], 1e-3 * table[key][1]) if key in table else None

    colour = table.get("colour")
    return Group(
        colour=None if colour is None else _channels(colour),
        shape=table.get("shape"),
        order=table.get("order"),
        length=pair("length_mm"),
        width=pair("width_mm"),
        name=table.get("name"),
        material=table.get("material"),
        drop=table.get("drop", False),
        join=table.get("join", False),
    )


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def orders(parts: tuple[ScannedPart, ...]) -> tuple[int, ...]:
    """Return how many forks lie between each part and the button.

    Parameters
    ----------
    parts : tuple of ScannedPart
        Each after its parent.

    Returns
    -------
    tuple of int
    """
    out: list[int] = []
    for part in parts:
        out.append(out[part.parent] + 1 if part.parent >= 0 else 0)
    return tuple(out)


def meant(group: Group, parts: tuple[ScannedPart, ...]) -> tuple[int, ...]:
    """Return the parts that a group means.

    Parameters
    ----------
    group : Group
    parts : tuple of ScannedPart

    Returns
    -------
    tuple of int
    """
    return tuple(
        k
        for k, (part, order) in enumerate(zip(parts, orders(parts), strict=True))
        if group.shape in (None, part.shape)
        and group.order in (None, order)
        and _within(part.length, group.length)
        and _within(0.5 * sum(part.width), group.width)
        and _like(part.colour, group.colour)
    )


def _like(colour: tuple[int, int, int] | None, meant_: tuple[int, int, int] | None) -> bool:
    if meant_ is None:
        return True
    if colour is None:
        return False
    return all(abs(a - b) <= NEAR_COLOUR for a, b in zip(colour, meant_, strict=True))


def _within(size: si.Metre, limits: tuple[si.Metre, si.Metre] | None) -> bool:
    return limits is None or limits[0] <= size < limits[1]
