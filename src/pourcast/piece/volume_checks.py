"""Volume checks: do water and weight say what the sheet says, and is a lump hollow?

- sheet against water, 15 %: estimate; 8 % in each thickness comes to 16 % in
  volume, and that is what a caliper on soft matter may miss.
- water read on a scale of 0.1 g is 15 % off at 0.7 ml: arithmetic.
- a weight is true for wax and falls short 1.7 to 10 times on dry plants:
  common practice, from densities of 0.1 to 0.6 g/cm³ (estimate).
- lumps of a dry plant are often hollow, and the sheet cannot know it: common practice, no
  source.  A weight tells that they are not from 0.35 g/cm³ up, the lightest dry wood of the
  records (estimate); under it they may as well be pith.  Told where they are more of the
  volume than the 15 % above.
- a sheet that is further off is told before all that rests on its volume; by a weight
  only where it lies outside all that the densities of its materials allow.
"""

from dataclasses import replace
from typing import TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Level, figures
from pourcast.piece.model import Measures, Piece

_Density: TypeAlias = si.KilogramPerCubicMetre
_Between: TypeAlias = tuple[_Density, _Density] | None

_VOLUME_GAP = 0.15  # of the displaced volume, see above
_SMALL = 0.7e-6  # m³, see above
_WAX_LIKE = 800.0  # kg/m³; waxes lie above, dry plants below (estimate)
_SOLID = 350.0  # kg/m³, see above
_WATER = 1000.0  # kg/m³, rounded; what weight for volume takes for granted


def volume_findings(
    piece: Piece,
    measures: Measures,
    density: si.KilogramPerCubicMetre | None,
    between: _Between,
) -> tuple[Finding, ...]:
    """Return what the displaced water, or else the weight, says of the sheet.

    Parameters
    ----------
    piece : Piece
    measures : Measures
        Of this piece.
    density : float or None [kg/m³]
        Of the matter of the original; None: not known.
    between : pair of float or None [kg/m³]
        Its lowest and its highest; None: not known.
    """
    if piece.displaced_volume is not None:
        return (_displaced(measures.original_volume, piece.displaced_volume),)
    if piece.weighed_mass is not None:
        return (_weighed(measures.original_volume, piece.weighed_mass, density, between),)
    return ()


def hollow_findings(
    piece: Piece, measures: Measures, dry_lumps: tuple[str, ...]
) -> tuple[Finding, ...]:
    """Ask whether lumps of a dry plant are hollow, where nothing measured says so.

    Parameters
    ----------
    piece : Piece
    measures : Measures
        Of this piece.
    dry_lumps : tuple of str
        Names of the lumps that are of a dry plant.
    """
    sheet, mass = measures.original_volume, piece.weighed_mass
    lumps = sum(part.volume for part in measures.parts if part.name in dry_lumps)
    light = mass is None or mass < _SOLID * sheet
    if piece.displaced_volume is not None or lumps < _VOLUME_GAP * sheet or not light:
        return ()
    named = ", ".join(f"“{name}”" for name in dry_lumps)
    weighs = "" if mass is None else f"The original weighs {1e-3 * mass / sheet:.2f} g per ml. "
    text = (
        f"{named} would be metal through and through, {_ml(lumps)} of the {_ml(sheet)} of the "
        f"parts. {weighs}Dry heads and pods are often hollow, and cones have gaps: where slurry "
        "gets in, plaster stands there and the metal is less by times; where it is shut, it is all "
        "metal. Weigh the dry original in air. Dip it in water twice, wrapped tight in thin film "
        "(its outside) and bare (what slurry cannot enter), write the bare one as displaced_ml, "
        "and let it dry again. Or split one of its kind."
    )
    return (
        Finding(
            stage="piece",
            key="hollow-lump",
            level="WATCH",
            text=text,
            value=100.0 * lumps / sheet,
            limit=100.0 * _VOLUME_GAP,
            unit="%",
            source="common practice, no source",
            kind="common practice",
        ),
    )


def _displaced(sheet: si.CubicMetre, water: si.CubicMetre) -> Finding:
    apart = abs(sheet - water) / water
    both = f"The parts of the sheet come to {_ml(sheet)}, the displaced water to {_ml(water)}: "
    if apart <= _VOLUME_GAP:
        text = both + f"{apart:.0%} apart, which is within {_VOLUME_GAP:.0%}."
        return _apart("volume-by-water", "GOOD", text, apart)
    if water < _SMALL:
        likelier = (
            "The water is likelier wrong: so little is hard to read, and 0.1 g on the scale is "
            f"{1e-7 / water:.0%} of it."
        )
    elif sheet > water:
        likelier = (
            "The sheet is likelier wrong: thickness counts squared, and a taper that is left out "
            "makes a part too big. A hollow that water gets into, or an original that soaks it up, "
            "also reads low: then the metal is less where slurry gets in too."
        )
    else:
        likelier = (
            "The sheet is likelier wrong: a part left out or counted too few. Bubbles that cling "
            "to the original make the water read high."
        )
    text = both + f"{apart:.0%} apart, more than {_VOLUME_GAP:.0%}. {likelier}"
    return _apart("volume-by-water", "WATCH", text, apart, first=water >= _SMALL)


def _weighed(
    sheet: si.CubicMetre, mass: si.Kilogram, density: _Density | None, between: _Between
) -> Finding:
    used = _WATER if density is None else density
    by_mass = mass / used
    apart = abs(sheet - by_mass) / by_mass
    how = "at 1 g/cm³, near that of wax"
    if density is not None:
        how = f"at {used / 1e3:.2f} g/cm³, the density of its material"
    text = (
        f"Only the weight of the original is given, {1e3 * mass:.2f} g: {_ml(by_mass)} {how}. "
        f"The parts of the sheet come to {_ml(sheet)}. "
    )
    if density is not None and density >= _WAX_LIKE and apart <= _VOLUME_GAP:
        text += f"They are {apart:.0%} apart, which is within {_VOLUME_GAP:.0%}."
        return _apart("volume-by-weight", "GOOD", text, apart)
    low, high = between or (0.0, np.inf)
    if sheet * high < (1.0 - _VOLUME_GAP) * mass or sheet * low > (1.0 + _VOLUME_GAP) * mass:
        text += (
            "Before anything else measure and count the parts again: that is more than "
            f"{_VOLUME_GAP:.0%} outside all that {low / 1e3:.2g} to {high / 1e3:.2g} g/cm³ allow."
        )
        return _apart("volume-by-weight", "WATCH", text, apart, first=True)
    text += (
        "Weight times a ratio of densities is true for wax; on dry plants it falls short 1.7 to "
        "10 times. Weigh out the metal by the sheet, or measure the displaced water."
    )
    made = _apart("volume-by-weight", "WATCH", text, apart)
    return replace(made, kind="common practice", source="common practice, no source")


def _apart(key: str, level: Level, text: str, apart: si.Ratio, *, first: bool = False) -> Finding:
    return Finding(
        stage="piece",
        key=key,
        level=level,
        text=text,
        value=100 * apart,
        limit=100 * _VOLUME_GAP,
        unit="%",
        source="estimate",
        kind="estimate",
        first=first,
    )


def _ml(volume: si.CubicMetre) -> str:
    return f"{figures(1e6 * volume, 3)} ml"
