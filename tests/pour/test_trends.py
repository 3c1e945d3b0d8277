"""Trends: which way a pour must change when one thing changes, published and physical."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.piece.model import Network
from pourcast.pour.solve import solve
from tests.outside.record import record
from tests.pour.cases import Builder, bar, case, length_filled
from tests.pour.ideal import NO_GAS, NO_SURFACE, wide_cup

SAND_CONDUCTIVITY = 0.6  # W/(m·K), handbook value, from memory
SAND_EFFUSIVITY = 870.0  # W·s^½/(m²·K), middle of 740 to 1000, from memory
ALUMINIUM_SILICON: dict[str, Any] = {
    "density": 2400.0,
    "viscosity": 1.2e-3,
    "liquidus": 850.15,
    "half_solid": 850.05,
    "solidus": 849.95,
    "specific_heat": 1080.0,
    "latent_heat": 389e3,
    "metal_conductivity": 60.0,
}
"""Al-12.5Si, from memory; a eutectic: all of its latent heat at one temperature."""
GREY_IRON: dict[str, Any] = {
    "density": 6900.0,
    "viscosity": 6e-3,
    "liquidus": 1423.15,
    "half_solid": 1423.05,
    "solidus": 1422.95,
    "specific_heat": 850.0,
    "latent_heat": 220e3,
    "metal_conductivity": 30.0,
}
"""Eutectic grey iron, from memory."""
THICKNESSES = np.array([1.0, 1.5, 2.0, 3.0, 4.0]) * 1e-3
SUPERHEATS = np.array([20.0, 60.0, 100.0, 140.0])
STRIP_WIDTH = 20e-3
OF_THE_TABLE, PERFECT = 1200.0, 1e6
"""Contact of metal and mould, W/(m²·K): the value in use, and as good as none in the way."""


def _strip(
    metal: dict[str, Any], contact: float, *, thickness: float = 2e-3, superheat: float = 100.0
) -> float:
    """Return how far a metal runs in a strip in cold sand [m]."""
    network = bar(3.0, thickness, 300, width=STRIP_WIDTH)
    physics = {**NO_GAS, **NO_SURFACE, **wide_cup(0.1), **metal}
    result = solve(
        network,
        case(
            network,
            **physics,
            conductivity=SAND_CONDUCTIVITY,
            diffusivity=(SAND_CONDUCTIVITY / SAND_EFFUSIVITY) ** 2,
            interface_heat_transfer=contact,
            temperature=293.15,
            metal_temperature=metal["liquidus"] + superheat,
        ),
    )
    return float(length_filled(network, result)[0])


def _straightness(abscissa: np.ndarray, length: np.ndarray) -> float:
    """Return r² of a straight line."""
    return float(np.corrcoef(abscissa, length)[0, 1] ** 2)


METALS = [
    pytest.param(ALUMINIUM_SILICON, id="aluminium-silicon"),
    pytest.param(GREY_IRON, id="iron"),
]


@pytest.mark.parametrize("metal", METALS)
@pytest.mark.parametrize("contact", [OF_THE_TABLE, PERFECT])
def test_run_length_grows_in_proportion_to_superheat(metal: dict[str, Any], contact: float) -> None:
    """Published: run length in thin strips is linear in superheat.

    Source: Zadeh and Campbell (2004), Int. J. Cast Met. Res. 17, 162, abstract:
    eutectic iron and Al-12.5Si in sand; no lengths to be read.  Limit r² 0.97, as
    measured points on a line scatter.  Met: r² 0.996 to 0.999 with either contact.
    """
    lengths = np.array([_strip(metal, contact, superheat=float(over)) for over in SUPERHEATS])

    straight = _straightness(SUPERHEATS, lengths)

    record(
        "pour",
        "r² of run length against superheat, strips in sand",
        "Zadeh and Campbell (2004), abstract: linear",
        straight,
        1.0,
        "",
        0.03,
        kind="measured",
    )
    assert np.all(np.diff(lengths) > 0.0)
    assert straight > 0.97


@pytest.mark.parametrize("metal", METALS)
@pytest.mark.parametrize(
    "contact",
    [
        pytest.param(
            OF_THE_TABLE,
            marks=pytest.mark.xfail(strict=True, reason="contact decides: linear in the modulus"),
            id="contact of the table",
        ),
        pytest.param(PERFECT, id="perfect contact"),
    ],
)
def test_run_length_goes_with_the_square_of_the_modulus(
    metal: dict[str, Any], contact: float
) -> None:
    """Published: run length in thin strips is linear in modulus squared.

    Source: Zadeh and Campbell (2004), abstract.  Wanted: r² over 0.97 and over
    that against the modulus itself.  Met where the contact lets all heat through
    and the sand alone resists: 0.995 against 0.993.  Missed at 1200 W/(m²·K), the
    value in use: 0.97 to 0.98 against 0.999, for then the face resists most and
    the length goes with the modulus.  So 1200 is low for sand or the strips ran
    another way; not tuned.
    """
    lengths = np.array([_strip(metal, contact, thickness=float(size)) for size in THICKNESSES])
    modulus = THICKNESSES * STRIP_WIDTH / (2.0 * (THICKNESSES + STRIP_WIDTH))

    square, plain = _straightness(modulus**2, lengths), _straightness(modulus, lengths)

    record(
        "pour",
        f"r² of run length over modulus squared less that over modulus, {contact:g} W/(m²·K)",
        "Zadeh and Campbell (2004), abstract: more than 0",
        min(square - plain, 0.0),
        0.0,
        "",
        0.0,
        kind="measured",
    )
    assert square > 0.97
    assert square > plain


@pytest.mark.xfail(strict=True, reason="found 1.0 to 1.2 whatever the contact")
@pytest.mark.parametrize("contact", [OF_THE_TABLE, PERFECT])
def test_aluminium_silicon_runs_nearly_twice_as_far_as_iron(contact: float) -> None:
    """Published: Al-12.5Si runs nearly twice as far as eutectic iron at equal superheat.

    Source: Zadeh and Campbell (2004), abstract; 1.5 to 2.5 asked.  Missed: 1.0
    to 1.2.  Both strips are given the same contact and the same solid fraction at
    which the front stops; silicon crystals that give their heat late, or the
    iron's skin, may part the two, and the model knows neither.  Not tuned.
    """
    ratios = np.array(
        [
            _strip(ALUMINIUM_SILICON, contact, superheat=float(over))
            / _strip(GREY_IRON, contact, superheat=float(over))
            for over in SUPERHEATS
        ]
    )

    record(
        "pour",
        f"run length of Al-12.5Si over that of iron, {contact:g} W/(m²·K)",
        "Zadeh and Campbell (2004), abstract: nearly twice",
        float(ratios.min()),
        2.0,
        "",
        0.5,
        kind="measured",
    )
    assert np.all((ratios > 1.5) & (ratios < 2.5))


def _coil(bore: float) -> Network:
    """Return a feed and a level rod of 0.1 m, for the coils of the dental test."""
    builder = Builder()
    node = builder.add(0, 10e-3, 3e-3)
    for _ in range(50):
        node = builder.add(node, 2e-3, bore, rise=0.0)
    return builder.network()


def _coil_lengths(bore: float, vacuum: float) -> list[float]:
    network = _coil(bore)
    return [
        float(
            length_filled(
                network,
                solve(
                    network,
                    case(network, permeability=passes, vacuum=vacuum, temperature=973.15),
                ),
            )[0]
        )
        - 0.01
        for passes in (1e-15, 1e-14, 1e-13)
    ]


@pytest.mark.parametrize(("bore", "vacuum"), [(1.6e-3, 0.0), (0.4e-3, 60e3)])
def test_coils_run_longer_in_more_permeable_blocks(bore: float, vacuum: float) -> None:
    """Published: castability of coils rises with permeability, by gravity and by vacuum.

    Source: J. Jpn. Soc. Dent. Mater. Devices, vol. 3, four investments, abstract;
    no lengths to be read, so the sign alone is held.  Met: 5, 31 and 92 mm by
    gravity at 1e-15, 1e-14 and 1e-13 m² when this was written.
    """
    lengths = _coil_lengths(bore, vacuum)

    assert lengths[0] < lengths[1] < lengths[2]


def test_a_pump_never_makes_a_pour_worse() -> None:
    """Physical: pores that are drawn on press no harder than the air outside.

    A rod of 1.8 mm in a solid flask, where little of the vacuum is felt.  While the
    pores there were worked out from the pump's pressure and not from their own, they
    came out over the air, and the rod stayed empty under the pump.
    """
    network = bar(0.05, 1.8e-3, 20, rise=-0.2)

    lengths = [
        float(length_filled(network, solve(network, case(network, vacuum=vacuum, wall="solid")))[0])
        for vacuum in (0.0, 20e3, 60e3)
    ]

    assert lengths[0] <= lengths[1] <= lengths[2]


BARS = {
    "thickness": st.floats(0.8e-3, 3e-3),
    "length": st.floats(0.02, 0.2),
    "permeability": st.floats(-14.0, -12.5).map(lambda power: 10.0**power),
    "head": st.floats(0.02, 0.1),
    "block": st.floats(573.15, 973.15),
}


def _filled(length: float, thickness: float, **changes: Any) -> float:
    network = bar(length, thickness, 8)
    return float(length_filled(network, solve(network, case(network, **changes)))[0])


@settings(max_examples=40, derandomize=True)
@given(data=st.data())
@pytest.mark.parametrize("change", ["head", "block", "metal", "thickness", "permeability"])
def test_more_never_fills_less(change: str, data: st.DataObject) -> None:
    """Physical: more head, hotter block or metal, a thicker rod, a more open block.

    A level rod without forks, without surface: nothing competes for the metal
    and no mouth is warmed.  2 % and half a millimetre are left for the rush: a
    front may swing past its place by inertia, and with more push it is held
    earlier in its swing.  Thickness is tried in an open block only: a thick rod
    holds more air for each millimetre of wall that lets it out, and in a tight block
    it fills less of its length (found: 53 mm of 2.4 mm bore, 57 mm of 2.0 mm at
    1e-14 m²).  In a piece more can also fill less where a thick part that fills first
    takes metal and head from a thin one.
    """
    drawn = {name: data.draw(values, label=name) for name, values in BARS.items()}
    less = {
        "length": drawn["length"],
        "thickness": drawn["thickness"],
        "permeability": drawn["permeability"],
        "temperature": drawn["block"],
        "metal_temperature": 1300.0,
        **wide_cup(drawn["head"]),
        **NO_SURFACE,
    }
    more = dict(less)
    if change == "head":
        more.update(wide_cup(1.3 * drawn["head"]))
    elif change == "block":
        more["temperature"] = drawn["block"] + 50.0
    elif change == "metal":
        more["metal_temperature"] = 1340.0
    elif change == "thickness":
        more["thickness"] = 1.25 * drawn["thickness"]
        less["permeability"] = more["permeability"] = NO_GAS["permeability"]
    else:
        more["permeability"] = 2.0 * drawn["permeability"]

    assert _filled(**more) >= 0.98 * _filled(**less) - 0.5e-3
