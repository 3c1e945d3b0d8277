"""Cases that the tests of the mould and the melt share."""

from pourcast.mould.model import Flask, Mix, Powder
from pourcast.piece.model import Button, Measures

HYDRATION_WATER = 1.5 * 18.015 / 145.15
"""Of hemihydrate; formula weights of H₂O and CaSO₄·½H₂O, arithmetic."""

POWDER = Powder(true_density=2547.9, hemihydrate_fraction=0.3, hydration_water=HYDRATION_WATER)
PLASTER = Powder(true_density=2640.0, hemihydrate_fraction=1.0, hydration_water=HYDRATION_WATER)


def measures(
    *,
    volume: float = 8e-6,
    button_volume: float = 6e-6,
    lowest: float = -0.06,
    reach: float = 0.025,
) -> Measures:
    """Return measures of an invented piece; only these four matter here."""
    return Measures(
        parts=(),
        volume=volume,
        area=4e-3,
        thinnest=0.6e-3,
        button_volume=button_volume,
        joint_overlap=0.0,
        original_volume=volume,
        coat_volume=0.0,
        lowest=lowest,
        reach=reach,
    )


def flask(
    *, diameter: float = 0.076, height: float = 0.1, temperature: float | None = 900.0
) -> Flask:
    """Return a perforated flask."""
    return Flask(
        inside_diameter=diameter,
        height=height,
        wall="perforated",
        wall_thickness=2e-3,
        temperature=temperature,
    )


def button(height: float = 0.015) -> Button:
    """Return a button of 30 mm with a gate of 6 mm."""
    return Button(diameter=0.03, height=height, gate_diameter=6e-3, material="casting")


def mix(water_to_powder: float = 0.40, temperature: float = 295.15) -> Mix:
    """Return powder and water at 22 °C."""
    return Mix(powder="gypsum_silica", water_to_powder=water_to_powder, temperature=temperature)
