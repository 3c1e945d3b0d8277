"""Corrections: what the caster has put right by hand, kept apart from the measurement.

A file beside the piece file, `<piece>.corrections.toml`, holds one [[part]] for
each part to be corrected.  It names the part by its middle in the scan, as the
piece file says it, so that a new import finds the part again although parts
have other numbers then:

    [[part]]
    at_mm = [12.3, 4.5, 60.1]
    name = "petal 1"           # any of the keys below
    material = "petal"
    diameter_mm = 1.2          # of a rod or a round lump
    width_mm = [6.0, 2.0]      # of a blade or lump, as is thickness_mm
    length_mm = 25
    drop = true                # not there: scan noise
    join = true                # a piece of the part that it grows on

A part is looked for within `NEAR` of the place, or half its length where that
is more.  Parts that grow on a dropped or joined part go to its parent.

A [[group]] does the same for all parts that are alike; see `pourcast.scan.groups`.
"""

import tomllib
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.errors import Fault, SheetError
from pourcast.scan.correction_faults import faults_of_group, faults_of_part, tables
from pourcast.scan.groups import Group, meant, read_group
from pourcast.scan.model import Correction, Scanned, ScannedPart, all_different
from pourcast.scan.solids import with_volumes

NEAR = 3e-3
"""How far a part may lie from the place that a correction names [m]; estimate."""


Corrections: TypeAlias = tuple[Correction | Group, ...]


def read_corrections(text: str, *, file: str = "corrections file") -> Corrections:
    """Return the corrections that a file holds.

    Parameters
    ----------
    text : str
    file : str
        Its name, for the messages.

    Returns
    -------
    tuple of (Correction or Group)

    Raises
    ------
    SheetError
        With every fault of the file.
    """
    try:
        told = tomllib.loads(text)
    except ValueError as fault:  # also a number of thousands of figures
        raise SheetError(file, (Fault(line=1, key="file", text=str(fault)),)) from None
    except RecursionError:
        deep = Fault(line=1, key="file", text="brackets stand too deep in each other")
        raise SheetError(file, (deep,)) from None
    faults: list[Fault] = []
    for key in told:
        if key not in ("part", "group"):
            faults.append(Fault(line=1, key=key, text="is not known; write [[part]] or [[group]]"))
    made: list[Correction | Group] = []
    for line, table in tables(told, "part", text, faults):
        found = faults_of_part(table, line)
        faults += found
        if not found:
            made.append(_correction(table))
    for line, table in tables(told, "group", text, faults):
        found = faults_of_group(table, line)
        faults += found
        if not found:
            made.append(read_group(table))
    if faults:
        raise SheetError(file, tuple(faults))
    return tuple(made)


def _correction(table: dict[str, Any]) -> Correction:
    def pair(*keys: str) -> tuple[si.Metre, si.Metre] | None:
        for key in keys:
            if key in table:
                value = table[key]
                first, last = value if isinstance(value, list) else (value, value)
                return 1e-3 * first, 1e-3 * last
        return None

    return Correction(
        at=1e-3 * np.array(table["at_mm"], dtype=np.float64),
        name=table.get("name"),
        material=table.get("material"),
        width=pair("width_mm", "diameter_mm"),
        thickness=pair("thickness_mm", "diameter_mm"),
        length=1e-3 * table["length_mm"] if "length_mm" in table else None,
        drop=table.get("drop", False),
        join=table.get("join", False),
    )


def corrected(
    scanned: Scanned, corrections: Corrections
) -> tuple[Scanned, tuple[str | None, ...], Corrections]:
    """Return the scan with the corrections made.

    Parameters
    ----------
    scanned : Scanned
    corrections : tuple of (Correction or Group)

    Returns
    -------
    scanned : Scanned
    materials : tuple of (str or None)
        Of each part.
    lost : tuple of (Correction or Group)
        Those whose part was not found.
    """
    chosen, lost = chosen_of(scanned.parts, corrections)
    # The first part stays: something has to hang on the button.
    gone = {k for k, c in chosen.items() if (c.drop or c.join) and k > 0}
    number: dict[int, int] = {}
    kept: list[ScannedPart] = []
    materials: list[str | None] = []
    for k, part in enumerate(scanned.parts):
        parent = part.parent
        while parent in gone:
            parent = scanned.parts[parent].parent
        if k in gone:
            continue
        number[k] = len(kept)
        kept.append(replace(_put_right(part, chosen.get(k)), parent=number.get(parent, -1)))
        materials.append(chosen[k].material if k in chosen else None)
    touching = tuple(
        (number[a], number[b]) for a, b in scanned.touching if a in number and b in number
    )
    narrow = tuple(
        (number[a], number[b], gap) for a, b, gap in scanned.narrow if a in number and b in number
    )
    names = all_different(part.name for part in kept)
    named = tuple(replace(part, name=name) for part, name in zip(kept, names, strict=True))
    made = replace(scanned, parts=with_volumes(named), touching=touching, narrow=narrow)
    return made, tuple(materials), tuple(lost)


def chosen_of(
    parts: Sequence[ScannedPart], corrections: Corrections
) -> tuple[dict[int, Correction], list[Correction | Group]]:
    """Return what is to be put right on each part, by its number, and what found no part.

    Parameters
    ----------
    parts : sequence of ScannedPart
    corrections : tuple of (Correction or Group)

    Returns
    -------
    dict of int to Correction
    list of (Correction or Group)
    """
    middles = np.array([part.line[len(part.line) // 2] for part in parts])
    reach = np.array([max(NEAR, 0.5 * part.length) for part in parts])
    chosen: dict[int, Correction] = {}
    lost: list[Correction | Group] = []
    for correction in corrections:
        if isinstance(correction, Group):
            continue
        apart = np.linalg.norm(middles - correction.at, axis=1)
        apart[list(chosen)] = np.inf
        nearest = int(apart.argmin())
        if apart[nearest] > reach[nearest]:
            lost.append(correction)
        else:
            chosen[nearest] = correction
    for k, one in _of_groups(parts, corrections, middles, lost).items():
        own = chosen.get(k, one)
        chosen[k] = replace(
            own,
            name=own.name or one.name,
            material=own.material or one.material,
        )
    return chosen, lost


def _of_groups(
    parts: Sequence[ScannedPart],
    corrections: Corrections,
    middles: si.Metres,
    lost: list[Correction | Group],
) -> dict[int, Correction]:
    """Return what the groups say of each part; a group that means none is lost."""
    out: dict[int, Correction] = {}
    for group in corrections:
        if not isinstance(group, Group):
            continue
        found = meant(group, tuple(parts))
        if not found:
            lost.append(group)
        for number, k in enumerate(found, 1):
            before = out.get(k, Correction(at=middles[k]))
            out[k] = replace(
                before,
                name=f"{group.name} {number}" if group.name else before.name,
                material=group.material or before.material,
                drop=group.drop or before.drop,
                join=group.join or before.join,
            )
    return out


def _put_right(part: ScannedPart, correction: Correction | None) -> ScannedPart:
    if correction is None:
        return part
    width, thickness = correction.sizes(part.shape, part.width, part.thickness)
    measured = correction.width is not None or correction.thickness is not None
    return replace(
        part,
        name=correction.name or part.name,
        section_error=None if measured else part.section_error,
        width=width,
        thickness=thickness,
        length=correction.length or part.length,
    )
