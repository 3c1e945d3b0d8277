"""Is the block so cold that it has drawn water from the air, which the pour does not know?

The pour takes the block as dry, as it comes out of the kiln.  One that has come down
below the boiling point takes up water from the air while it stands, and metal drives
it out as steam within the first second.  How much it has drawn nobody has measured
here, so nothing is taken off the chances; told is what one part in a thousand does.

Model: a face at the liquidus boils the water to the depth where a half space of the
block, from its own temperature, has come to the boiling point after one second,

    erfc(x / 2√(α t)) = (T_boil - T_block) / (T_liquidus - T_block)            (1)

and the steam, at the boiling point and the pressure of the air, is an ideal gas.
Left out: the heat that boiling takes (the depth is 1 or 2 % less), and that the
steam is heated further, to three times the volume.

Source: (1) Carslaw and Jaeger (1959), Conduction of Heat in Solids, 2.4; that a
burnt mould that is left to sit draws water and fails: common practice, no source.
"""

import math
from statistics import NormalDist

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.pour.model import PourCase
from pourcast.speech import Heat, said
from pourcast.units import GAS_CONSTANT

_BOILING = 373.15  # K, at the usual air; water in a salt boils higher
_WATER = 1e-3  # of the mass of the block, one part in a thousand, to tell its weight by
_SOLID = 2700.0  # kg/m³, quartz 2650 and anhydrite 2960 (handbooks, from memory)
_MOLE = 0.018015  # kg/mol, water
_SECOND = 1.0  # s; the ways of a gravity pour fill within about that


def damp_block_findings(case: PourCase) -> tuple[Finding, ...]:
    """Return what the caster should know of a block that is cold at the pour.

    Parameters
    ----------
    case : PourCase

    Returns
    -------
    tuple of Finding
        At most one.
    """
    block = case.block
    flask = float(np.median(block.temperature))
    if flask >= _BOILING:
        return ()
    steam = steam_over_leaf(
        flask,
        float(np.median(case.metal.liquidus)),
        float(np.median(block.diffusivity)),
        float(np.median(block.porosity)),
        float(np.median(block.air_pressure)),
    )
    text = said(
        "The block is at {flask} at the pour. Under {boiling} a burnt "
        "block draws water from the air while it stands, and this forecast takes it as dry. One "
        "part of water in a thousand makes {steam} times as much steam as a leaf of 1 mm "
        "holds, in the first second: parts stay empty or are blown full of holes that are told "
        "as whole here, and steam can throw metal. Pour it as it comes out of the kiln, or heat "
        "it through again first.",
        flask=Heat(flask),
        boiling=Heat(_BOILING),
        steam=f"{steam:.0f}",
    )
    return (
        Finding(
            stage="pour",
            key="damp-block",
            level="WATCH",
            text=text,
            value=si.from_si(flask, "degC"),
            limit=si.from_si(_BOILING, "degC"),
            unit="°C",
            source="boiling point of water; that it draws water: common practice, no source",
            kind="common practice",
        ),
    )


def steam_over_leaf(
    block: si.Kelvin,
    face: si.Kelvin,
    diffusivity: si.SquareMetrePerSecond,
    porosity: si.Ratio,
    pressure: si.Pascal,
) -> si.Ratio:
    """Return steam of 0.1 % of water in one second, over the volume of a leaf of 1 mm [-].

    Parameters
    ----------
    block, face : float [K]
        Of the block far off, under 373 K, and of its face, over it.
    diffusivity : float [m²/s]
    porosity : float [-]
    pressure : float [Pa]
        Of the air.

    Returns
    -------
    float [-]
    """
    share = (_BOILING - block) / (face - block)
    depth = math.sqrt(2.0 * diffusivity * _SECOND) * NormalDist().inv_cdf(1.0 - 0.5 * share)
    water = _WATER * _SOLID * (1.0 - porosity) * depth
    return water / _MOLE * GAS_CONSTANT * _BOILING / pressure / 0.5e-3
