"""Checks: what the measures of a piece tell the caster.

Limits that a table of values holds come in as an argument with their source.
The others stand here:

- what water and weight tell of the volume: `pourcast.piece.volume_checks`.
- a joint that bridges more than 1.5 times the length of its part: estimate.
- a lump on the very tip of a lump has no foot that was measured, and counts as
  joined by the flat of that tip (`pourcast.piece.lumps`); told where that is less
  than half of both (estimate).
- nothing uphill unless there is vacuum: common practice, no source.  A rise of
  less than 1 mm is not told: angles are not read that well (estimate).
"""

from dataclasses import replace
from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Kind, Level
from pourcast.materials import Value
from pourcast.piece.model import Measures, Network, Piece
from pourcast.piece.volume_checks import hollow_findings, volume_findings

_STRETCH = 1.5  # see above
_RISE = 1e-3  # m, see above
_NECK = 0.5  # of the thinner of two parts, see above


def findings(
    piece: Piece,
    network: Network,
    measures: Measures,
    *,
    least_section: Value,
    assist: Literal["gravity", "vacuum"],
    original_density: si.KilogramPerCubicMetre | None = None,
    density_range: tuple[si.KilogramPerCubicMetre, si.KilogramPerCubicMetre] | None = None,
    dry_lumps: tuple[str, ...] = (),
) -> tuple[Finding, ...]:
    """Tell the caster what to know of the shape before anything else.

    Parameters
    ----------
    piece : Piece
    network : Network
        Of this piece.
    measures : Measures
        Of this piece.
    least_section : Value
        Thinnest section that is usual with this assist.
    assist : {"gravity", "vacuum"}
    original_density : float or None [kg/m³]
        Of the matter of the original; None: not known.
    density_range : pair of float or None [kg/m³]
        Its lowest and its highest; None: not known.
    dry_lumps : tuple of str
        Names of the lumps that are of a dry plant.

    Returns
    -------
    tuple of Finding
    """
    return (
        *volume_findings(piece, measures, original_density, density_range),
        *hollow_findings(piece, measures, dry_lumps),
        *_thin(measures, least_section),
        *(_uphill(network) if assist == "gravity" else ()),
        *_stretched(piece, network),
        *_necked(piece, network),
    )


def _thin(measures: Measures, least: Value) -> tuple[Finding, ...]:
    limit = least.si
    return tuple(
        _finding(
            "thin-for-trade",
            "WATCH",
            f"“{part.name}” is {1e3 * part.thinnest:.2f} mm across at its thinnest, coat included; "
            f"{1e3 * limit:.2g} mm ({1e3 * least.si_low:.2g} to {1e3 * least.si_high:.2g} mm) is "
            "the least that is usual. Thicken it with wax, or count on losing some.",
            1e3 * part.thinnest,
            1e3 * limit,
            "mm",
            least.kind,
            source=least.source,
            part=part.name,
        )
        for part in measures.parts
        if part.thinnest < limit * (1 - 1e-9)  # a sum of coats may round to just below
    )


def _uphill(network: Network) -> tuple[Finding, ...]:
    """Find parts with a member that rises above its own start at the pour."""
    base = np.zeros(len(network.member_part))
    first = np.r_[True, network.member[1:] != network.member[:-1]]
    base[network.member[first]] = network.start_position[first, 2]
    rise = np.zeros(len(base))
    np.maximum.at(rise, network.member, network.end_position[:, 2] - base[network.member])
    found = []
    for i, name in enumerate(network.part_names):
        of_part = rise[network.member_part == i]
        up = int((of_part > _RISE).sum())
        if up:
            found.append(
                _finding(
                    "runs-uphill",
                    "WATCH",
                    f"{name}: {up} of {len(of_part)} must run uphill at the pour, by up to "
                    f"{1e3 * of_part.max():.1f} mm. Only the head of metal lifts it there; tilt "
                    "the piece, or gate it elsewhere.",
                    1e3 * float(of_part.max()),
                    1e3 * _RISE,
                    "mm",
                    "common practice",
                    source="common practice, no source",
                    part=name,
                )
            )
    return tuple(found)


def _stretched(piece: Piece, network: Network) -> tuple[Finding, ...]:
    """Find parts whose joined tip is farther off than they are long."""
    first = np.r_[True, network.member[1:] != network.member[:-1]]
    base = np.zeros((len(network.member_part), 3))
    base[network.member[first]] = network.start_position[first]
    found = []
    for i, part in enumerate(piece.parts):
        if part.tip_on is None:
            continue
        joint = network.is_joint & (network.member_part[network.member] == i)
        ways = np.linalg.norm(network.end_position[joint] - base[network.member[joint]], axis=1)
        ratio = float(ways.max()) / part.length
        if ratio > _STRETCH:
            found.append(
                _finding(
                    "joint-stretched",
                    "WATCH",
                    f"{part.name} is {1e3 * part.length:.1f} mm long and is joined to "
                    f"{part.tip_on}, {1e3 * ways.max():.1f} mm away in a straight line. "
                    "Read its length, its angle and the place of the joint again.",
                    ratio,
                    _STRETCH,
                    "",
                    "estimate",
                    part=part.name,
                )
            )
    return tuple(found)


def _necked(piece: Piece, network: Network) -> tuple[Finding, ...]:
    """Find lumps that hang on the tip of a lump, by a neck that is thinner than both."""
    first = np.r_[True, network.member[1:] != network.member[:-1]]
    parts = {part.name: part for part in piece.parts}
    segment_part = network.member_part[network.member]
    found = []
    for i, part in enumerate(piece.parts):
        parent = parts.get(part.parent)
        if parent is None or parent.shape != "lump":
            continue
        on_it = segment_part == network.part_names.index(parent.name)
        last = on_it & ~np.isin(network.end, network.start[on_it])
        tips = dict(
            zip(network.end[last].tolist(), network.thickness[last, 1].tolist(), strict=True)
        )
        roots = network.start[first & (segment_part == i)].tolist()
        neck = min((tips[root] for root in roots if root in tips), default=np.inf)
        limit = _NECK * min(part.thickness[0] + 2.0 * part.coat, parent.thickness[0])
        if neck < limit:
            found.append(
                _finding(
                    "lump-neck",
                    "WATCH",
                    f"“{part.name}” stands on the tip of “{parent.name}”: they count as joined by "
                    f"a neck of {1e3 * neck:.1f} mm. If yours is broader, it fills, feeds and "
                    "bears more than is told here: write the neck as a short rod between them.",
                    1e3 * neck,
                    1e3 * limit,
                    "mm",
                    "estimate",
                    part=part.name,
                )
            )
    finest = min((each.value or 0.0 for each in found), default=None)
    return tuple(replace(each, first=each.value == finest) for each in found)


def _finding(
    key: str,
    level: Level,
    text: str,
    value: si.Ratio,
    limit: si.Ratio,
    unit: str,
    kind: Kind,
    *,
    source: str = "estimate",
    part: str | None = None,
) -> Finding:
    return Finding(
        stage="piece",
        key=key,
        level=level,
        text=text,
        part=part,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        kind=kind,
    )
