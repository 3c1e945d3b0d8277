"""Shelf: flasks as the caster names them: "76 x 127", "3 x 5 in perforated".

The first number is the inside diameter, the second the height.  A unit behind the last
holds for both; without one they are millimetres.
"""

import re
from typing import Literal

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.gating.model import ShelfFlask
from pourcast.sheet.read import FLASK_WALL
from pourcast.sheet.takes import InUnitOfKey
from pourcast.trade_units import read

_MUST = 'inside diameter and height, as in "76 x 127", "3 x 5 in" or "76 x 127 perforated"'
_SIZE = re.compile(r"^\s*(.+?)\s*[x×]\s*(.+?)\s*(solid|perforated)?\s*$", re.IGNORECASE)
_LONGEST = 80
"""Letters of a size; a longer text is not looked at."""
_UNIT = re.compile(r"[^\d\s./]+\s*$")


def read_flask(text: str, *, wall: Literal["solid", "perforated"]) -> ShelfFlask:
    """Return a flask that was named in a few words.

    Parameters
    ----------
    text : str
    wall : {"solid", "perforated"}
        Where the words do not say it.

    Returns
    -------
    ShelfFlask
        Its steel is taken as 2 mm thick.

    Raises
    ------
    InputError
        If the words are no size.

    Examples
    --------
    >>> read_flask("76 x 127", wall="solid").name
    '76 x 127'
    """
    found = _SIZE.match(text) if len(text) <= _LONGEST else None
    if found is None:
        raise InputError("flask", text[:40] or "(empty)", "", _MUST)
    first, second, said = found.groups()
    unit = _UNIT.search(second)
    if unit is not None and _UNIT.search(first) is None:
        first = f"{first} {unit.group().strip()}"
    sizes = []
    for size in (first, second):
        try:
            length = read(size, "length", default_unit="mm")
        except InputError:
            raise InputError("flask", text[:40], "", _MUST) from None
        if not 0.0 < length <= _LARGEST:
            raise InputError("flask", text[:40], "", f"{_MUST}, each up to 3000 mm")
        sizes.append(length)
    kept: Literal["solid", "perforated"] = wall
    if said is not None:
        kept = "solid" if said.lower() == "solid" else "perforated"
    return ShelfFlask(
        name=text.strip(),
        inside_diameter=sizes[0],
        height=sizes[1],
        wall=kept,
        wall_thickness=FLASK_WALL,
    )


_LARGEST = 3.0  # m, as in the piece file


def flask_of_book(
    name: str,
    *,
    inside_diameter_mm: InUnitOfKey,
    height_mm: InUnitOfKey,
    wall: Literal["solid", "perforated"],
    count: int = 1,
) -> ShelfFlask:
    """Return a flask from the line of the book that tells of it.

    Parameters
    ----------
    name : str
    inside_diameter_mm, height_mm : float [unit of the key]
    wall : {"solid", "perforated"}
    count : int

    Returns
    -------
    ShelfFlask
        The book does not say how thick its steel is: 2 mm are taken.
    """
    return ShelfFlask(
        name=name,
        inside_diameter=si.to_si(inside_diameter_mm, "mm"),
        height=si.to_si(height_mm, "mm"),
        wall=wall,
        wall_thickness=FLASK_WALL,
        count=count,
    )
