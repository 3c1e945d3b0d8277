"""What to weigh out, as lines and as JSON."""

from collections.abc import Sequence
from typing import Any

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.melt.model import MetalAccount
from pourcast.mould.model import Mould
from pourcast.page import cautions
from pourcast.page.figures import grams as in_grams
from pourcast.speech import CELSIUS, Speech


def lines(
    metal: MetalAccount, mould: Mould, told: Sequence[Finding] = (), speech: Speech = CELSIUS
) -> list[str]:
    """Return the lines that the caster takes to the scales.

    Parameters
    ----------
    metal : MetalAccount
    mould : Mould
    told : sequence of Finding
        Of the mould; what says stop stands first, for no mass mends it.
    speech : Speech
    """
    # As forecast, page and run sheet have them.
    grams = {name: in_grams(getattr(metal, name)) for name in _METAL}
    wax = si.from_si(metal.wax_equivalent, "g")
    said = [f"Stop.    {speech.text(finding.text)}" for finding in told if finding.level == "STOP"]
    said += [
        f"Metal    {grams['metal']}  (5 to 95 in 100: {grams['metal_low']} to "
        f"{grams['metal_high']})",
        f"         as it fills {grams['piece_metal']} in the piece, {grams['button_metal']} "
        f"in the button, {grams['lost_metal']} lost",
        f"         new {grams['new_metal']}, returns {grams['return_metal']}",
    ]
    if metal.short_by > 0.0:
        said.append(f"         SHORT BY {grams['short_by']} of what is on hand")
    said += [
        f"Powder   {si.from_si(mould.powder, 'g'):.0f} g",
        f"Water    {si.from_si(mould.water, 'g'):.0f} g",
        f"         {si.from_si(mould.slurry_volume, 'l'):.2f} l of slurry, "
        f"{100 * mould.waste:.0f} % of it for the bowl",
        f"For those who think in wax: {wax:.1f} g of wax of the same volume, "
        f"times {metal.wax_factor:.1f}.",
        "This holds for wax only: a dried plant weighs 2 to 10 times less than wax of its volume.",
        f"Take care. {' '.join(caution.text for caution in cautions.in_short())}",
        cautions.LAST_WORD,
    ]
    return said


_METAL = (
    "metal",
    "metal_low",
    "metal_high",
    "piece_metal",
    "button_metal",
    "lost_metal",
    "new_metal",
    "return_metal",
    "short_by",
    "wax_equivalent",
)


def tree(metal: MetalAccount, mould: Mould) -> dict[str, Any]:
    """Return the same as plain values, units in the keys."""
    made: dict[str, Any] = {f"{name}_g": si.from_si(getattr(metal, name), "g") for name in _METAL}
    made |= {
        "wax_factor": metal.wax_factor,
        "powder_g": si.from_si(mould.powder, "g"),
        "water_g": si.from_si(mould.water, "g"),
        "slurry_l": si.from_si(mould.slurry_volume, "l"),
    }
    return made
