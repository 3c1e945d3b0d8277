"""Water: what does the original drink from the slurry, and what has it lost before?

A part that goes in dry drinks slurry water and grows across by the strain of its
organ.  The set block bears next to none of that: with its tensile strength over
its modulus, some 0.5 MPa over 3 GPa, it cracks or its face is rubbed off at a
strain of 0.02 %, unless the part is so soft that it is crushed instead.

    growth = strain · thickness                                              (1)

A fresh part loses water from the hour that it is picked, at a rate k of its mass,

    lost = 1 - exp(-k t),   wilts after  ln(1/(1 - lost at wilting))/k        (2)

and limp tissue is 5 to 16 times softer than turgid.

Left out: how fast water gets into wood, some tenths of a millimetre in the
minutes before the block sets (estimate), so thick wood swells at its face only;
cones and mosses, which also move; that sap thins the slurry beside a cut.

Sources: the plant records; softening: Niklas 1988, Am J Bot 75, 1286, from memory.
"""

import math
from collections.abc import Mapping

from pourcast import units as si
from pourcast.errors import require_between, require_not_negative, require_positive
from pourcast.materials import Material
from pourcast.mould.model import PartWater, State
from pourcast.piece.model import Piece


def original_water(
    piece: Piece,
    plants: Mapping[str, Material],
    state: State | None,
    age: si.Second | None,
) -> tuple[PartWater, ...]:
    """Return what water does to each part that once grew.

    Parameters
    ----------
    piece : Piece
    plants : mapping of str to Material
        `Library.plants`; parts of other matter are left out.
    state : {"dry", "fresh", "soaked"} or None
        None counts as dry.
    age : float or None [s]
        Since it was picked; 0 or more.

    Returns
    -------
    tuple of PartWater

    Raises
    ------
    InputError
        If the age is below 0.
    SourceError
        If a record lacks a value.
    """
    limp = plants["general"]["wilts_at"].si
    found = []
    for part in piece.parts:
        if part.material not in plants:
            continue
        organ = plants[part.material]
        swelling = organ["swelling"].si if state in ("dry", None) else None
        rate = organ["water_loss"].si
        fresh = state == "fresh"
        found.append(
            PartWater(
                name=part.name,
                organ=part.material,
                swelling=swelling,
                grows=None if swelling is None else swelling * max(part.thickness),
                lost=lost_share(rate, age) if fresh and age is not None else None,
                wilts_in=wilting_time(rate, limp) if fresh else None,
            )
        )
    return tuple(found)


def lost_share(rate: si.PerSecond, age: si.Second) -> si.Ratio:
    """Return the share of its mass that a cut part has lost, equation (2).

    Parameters
    ----------
    rate : float [1/s]
        > 0.
    age : float [s]
        0 or more.

    Returns
    -------
    float [-]
    """
    require_positive("rate", rate, "1/s")
    require_not_negative("age", age, "s")
    return 1.0 - math.exp(-rate * age)


def wilting_time(rate: si.PerSecond, wilts_at: si.Ratio) -> si.Second:
    """Return how long after the picking a part hangs, equation (2).

    Parameters
    ----------
    rate : float [1/s]
        > 0.
    wilts_at : float [-]
        Share of the fresh mass; 0 to 0.99.

    Returns
    -------
    float [s]
    """
    require_positive("rate", rate, "1/s")
    require_between("wilts_at", wilts_at, "", 0.0, 0.99)
    return -math.log(1.0 - wilts_at) / rate
