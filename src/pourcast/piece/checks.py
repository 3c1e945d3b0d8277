"""Checks: what the measures of a piece tell the caster.

Limits that a table of values holds come in as an argument with their source.
The others stand here:

- sheet against water, 15 %: estimate; 8 % in each thickness comes to 16 % in
  volume, and that is what a caliper on soft matter may miss.
- water read on a scale of 0.1 g is 15 % off at 0.7 ml: arithmetic.
- a weight is true for wax and falls short 1.7 to 10 times on dry plants:
  common practice, from densities of 0.1 to 0.6 g/cm³ (estimate).
- a sheet that is further off is told before all that rests on its volume; by a weight
  only where it lies outside all that the densities of its materials allow.
- a joint that bridges more than 1.5 times the length of its part: estimate.
- a lump on the very tip of a lump has no foot that was measured, and counts as
  joined by the flat of that tip (`pourcast.piece.lumps`); told where that is less
  than half of both (estimate).
- nothing uphill unless there is vacuum: common practice, no source.  A rise of
  less than 1 mm is not told: angles are not read that well (estimate).
"""

from dataclasses import replace
from typing import Literal, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Kind, Level
from pourcast.materials import Value
from pourcast.piece.model import Measures, Network, Piece

_Density: TypeAlias = si.KilogramPerCubicMetre
_Between: TypeAlias = tuple[_Density, _Density] | None

_VOLUME_GAP = 0.15  # of the displaced volume, see above
_SMALL = 0.7e-6  # m³, see above
_WAX_LIKE = 800.0  # kg/m³; waxes lie above, dry plants below (estimate)
_WATER = 1000.0  # kg/m³, rounded; what weight for volume takes for granted
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

    Returns
    -------
    tuple of Finding
    """
    return (
        *_volume(piece, measures, original_density, density_range),
        *_thin(measures, least_section),
        *(_uphill(network) if assist == "gravity" else ()),
        *_stretched(piece, network),
        *_necked(piece, network),
    )


def _volume(
    piece: Piece, measures: Measures, density: _Density | None, between: _Between
) -> tuple[Finding, ...]:
    if piece.displaced_volume is not None:
        return (_displaced(measures.original_volume, piece.displaced_volume),)
    if piece.weighed_mass is not None:
        return (_weighed(measures.original_volume, piece.weighed_mass, density, between),)
    return ()


def _displaced(sheet: si.CubicMetre, water: si.CubicMetre) -> Finding:
    apart = abs(sheet - water) / water
    both = f"The parts of the sheet come to {_ml(sheet)}, the displaced water to {_ml(water)}: "
    if apart <= _VOLUME_GAP:
        text = both + f"{apart:.0%} apart, which is within {_VOLUME_GAP:.0%}."
        return _finding("GOOD", text, 100 * apart, 100 * _VOLUME_GAP, "%", "estimate")
    if water < _SMALL:
        likelier = (
            "The water is likelier wrong: so little is hard to read, and 0.1 g on the scale is "
            f"{1e-7 / water:.0%} of it."
        )
    elif sheet > water:
        likelier = (
            "The sheet is likelier wrong: thickness counts squared, and a taper that is left out "
            "makes a part too big. An original that soaks up water also reads low."
        )
    else:
        likelier = (
            "The sheet is likelier wrong: a part left out or counted too few. Bubbles that cling "
            "to the original make the water read high."
        )
    text = both + f"{apart:.0%} apart, more than {_VOLUME_GAP:.0%}. {likelier}"
    gap, first = 100 * _VOLUME_GAP, water >= _SMALL
    return _finding("WATCH", text, 100 * apart, gap, "%", "estimate", first=first)


def _weighed(
    sheet: si.CubicMetre, mass: si.Kilogram, density: _Density | None, between: _Between
) -> Finding:
    used = _WATER if density is None else density
    by_mass = mass / used
    apart = abs(sheet - by_mass) / by_mass
    how = (
        f"at {used / 1e3:.2f} g/cm³, the density of its material"
        if density is not None
        else "at 1 g/cm³, near that of wax"
    )
    text = (
        f"Only the weight of the original is given, {1e3 * mass:.2f} g: {_ml(by_mass)} {how}. "
        f"The parts of the sheet come to {_ml(sheet)}. "
    )
    if density is not None and density >= _WAX_LIKE and apart <= _VOLUME_GAP:
        text += f"They are {apart:.0%} apart, which is within {_VOLUME_GAP:.0%}."
        return _finding("GOOD", text, 100 * apart, 100 * _VOLUME_GAP, "%", "estimate")
    low, high = between or (0.0, np.inf)
    if sheet * high < (1.0 - _VOLUME_GAP) * mass or sheet * low > (1.0 + _VOLUME_GAP) * mass:
        text += (
            "Before anything else measure and count the parts again: that is more than "
            f"{_VOLUME_GAP:.0%} outside all that {low / 1e3:.2g} to {high / 1e3:.2g} g/cm³ allow."
        )
        return _finding("WATCH", text, 100 * apart, 100 * _VOLUME_GAP, "%", "estimate", first=True)
    text += (
        "Weight times a ratio of densities is true for wax; on dry plants it falls short 1.7 to "
        "10 times. Weigh out the metal by the sheet, or measure the displaced water."
    )
    return _finding(
        "WATCH",
        text,
        100 * apart,
        100 * _VOLUME_GAP,
        "%",
        "common practice",
        source="common practice, no source",
    )


def _thin(measures: Measures, least: Value) -> tuple[Finding, ...]:
    limit = least.si
    return tuple(
        _finding(
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


def _ml(volume: si.CubicMetre) -> str:
    return f"{1e6 * volume:.3g} ml"


def _finding(
    level: Level,
    text: str,
    value: si.Ratio,
    limit: si.Ratio,
    unit: str,
    kind: Kind,
    *,
    source: str = "estimate",
    part: str | None = None,
    first: bool = False,
) -> Finding:
    return Finding(
        stage="piece",
        level=level,
        text=text,
        part=part,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        kind=kind,
        first=first,
    )
