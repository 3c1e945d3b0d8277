"""A sheet without fault: each value comes out in SI, each default as it is said to be."""

import math
from typing import Any

import pytest

from pourcast.burnout.model import Kiln, KilnStep, Original
from pourcast.errors import SheetError
from pourcast.melt.model import Charge
from pourcast.mould.model import Flask, Mix
from pourcast.piece import limits
from pourcast.piece.model import Part, Vent
from pourcast.sheet import read_plan
from pourcast.sheet.model import Assist, Plan, Studio
from tests.sheet.small import SMALL, changed, said

FULL = """\
name = "Élan # 3"
invented = true
note = '''
Any text,
on many lines.'''

[metal]
alloy = "UNS C87300"
pour_temperature_C = "2048 F"
on_hand_g = "1 lb 4 oz"
returns_g = 250
poured_g = 300

[flask]
inside_diameter = "3 in"
height_mm = 100
wall = "solid"
wall_thickness = "1/8 in"
temperature_C = 600

[investment]
powder = "gypsum_silica"
water_to_powder = "41:100"
mixed_at_C = 22

[assist]
kind = "vacuum"
vacuum_kPa = "20 inHg"
pump_time_s = 2
lead_time_s = "1 min"
seal = "90 %"

[kiln]
litres = 30
kW = 2.5
air_changes_per_h = 6
control = "programmed"
flasks = 3

[[kiln.step]]
to_C = 150
ramp_C_per_h = "1 C/min"
hold_h = "2 h 30 min"

[[kiln.step]]
to_C = 700

[button]
diameter_mm = 30
height_mm = 20
material = "sprue"
tilt_deg = 15
gate_diameter_mm = 5
top = "covered"

[original]
state = "soaked"
holds = ["wire", "Florist's wire", "yew", "wire"]
days_dried = "2 d 12 h"

[[part]]
name = "stem"
on = "button"
shape = "rod"
length_mm = 30
diameter_mm = ["4 mm", 3]
material = "herb_stem"

[[part]]
name = "leaf"
on = "stem"
at = [0.25, "75 %"]
count = 4
shape = "blade"
length = "18 mm"
width_mm = [6, 1]
thickness_mm = 0.5
angle_deg = 60
turn_deg = 30
turn_step_deg = 90
bend_deg = -45
material = "leaf"
coat_mm = 0.1
tip_on = "stem"
tip_at = 1

[[part]]
name = "bud"
on = "stem"
shape = "lump"
length_mm = 6
width_mm = 5
thickness_mm = 4
material = "casting"

[[vent]]
on = "leaf"
diameter_mm = 1
length_mm = 25
leads_to = "air"

[measured]
displaced_ml = 1.5
weight_g = 2

[studio]
altitude_m = "1000 ft"
air_pressure_kPa = 98
metal_thermometer_error_C = 8
flask_thermometer_error_C = "15 K"
gauge_error_kPa = 2
"""


def near(value: float | tuple[float, float]) -> Any:
    """Return what equals one or two numbers to rounding."""
    return pytest.approx(value, rel=1e-12)


def test_every_key_comes_out_in_si() -> None:
    """By arithmetic, with the inch, pound and inch of mercury of NIST SP 811, table B.8."""
    plan = read_plan(FULL)

    assert plan.invented is True
    assert plan.charge == Charge(
        alloy="si_bronze_c87300",
        pour_temperature=near((2048 - 32) / 1.8 + 273.15),
        on_hand=near(1.25 * 0.45359237),
        returns=near(0.25),
        poured=near(0.3),
    )
    assert plan.flask == Flask(
        inside_diameter=near(0.0762),
        height=near(0.1),
        wall="solid",
        wall_thickness=near(0.003175),
        temperature=near(873.15),
    )
    assert plan.mix == Mix(
        powder="gypsum_silica", water_to_powder=near(0.41), temperature=near(295.15)
    )
    assert plan.assist == Assist(
        kind="vacuum",
        vacuum=near(20 * 3386.389),
        pump_time=near(2.0),
        lead_time=near(60.0),
        seal=near(0.9),
    )
    assert plan.kiln == Kiln(
        volume=near(0.03),
        power=near(2500.0),
        air_changes=near(6 / 3600),
        control="programmed",
        steps=(
            KilnStep(temperature=near(423.15), ramp=near(1 / 60), hold=near(9000.0)),
            KilnStep(temperature=near(973.15), ramp=None, hold=0.0),
        ),
        flasks=3,
    )
    assert plan.original == Original(
        state="soaked",
        holds=("wire", "florist_wire", "poisonous_plant"),
        drying_time=near(2.5 * 86_400),
    )
    assert plan.studio == Studio(
        altitude=near(304.8),
        air_pressure=near(98e3),
        metal_thermometer_error=near(8.0),
        flask_thermometer_error=near(15.0),
        gauge_error=near(2e3),
    )


def test_every_key_of_the_piece_comes_out_in_si() -> None:
    """By arithmetic: millimetres, degrees and millilitres."""
    piece = read_plan(FULL).piece

    assert piece.name == "Élan # 3"
    assert piece.button.diameter == near(0.03)
    assert piece.button.height == near(0.02)
    assert piece.button.material == "sprue"
    assert piece.button.tilt == near(math.pi / 12)
    assert piece.button.gate_diameter == near(0.005)
    assert piece.button.top == "covered"
    assert piece.parts[1] == Part(
        name="leaf",
        parent="stem",
        shape="blade",
        count=4,
        length=near(0.018),
        width=near((0.006, 0.001)),
        thickness=near((0.0005, 0.0005)),
        position=near((0.25, 0.75)),
        angle=near(math.pi / 3),
        turn=near(math.pi / 6),
        turn_step=near(math.pi / 2),
        bend=near(-math.pi / 4),
        coat=near(1e-4),
        material="leaf",
        tip_on="stem",
        tip_position=near(1.0),
    )
    assert piece.parts[0].width == piece.parts[0].thickness == near((0.004, 0.003))
    assert piece.parts[2].width == near((0.005, 0.005))
    assert piece.parts[2].thickness == near((0.004, 0.004))
    assert piece.vents == (
        Vent(part="leaf", diameter=near(0.001), length=near(0.025), leads_to="air"),
    )
    assert piece.displaced_volume == near(1.5e-6)
    assert piece.weighed_mass == near(0.002)


def test_what_is_left_out_takes_its_default() -> None:
    """Source: mix 40:100 and 20 °C of common practice; the others are our own choice."""
    plan = read_plan(SMALL)
    stem, leaf = plan.piece.parts

    assert plan.mix == Mix(
        powder="gypsum_silica", water_to_powder=near(0.4), temperature=near(293.15)
    )
    assert plan.flask.wall_thickness == near(0.002)
    assert plan.flask.temperature is None
    assert plan.charge.on_hand is plan.charge.returns is plan.charge.poured is None
    assert plan.assist == Assist(kind="vacuum", vacuum=near(70e3))
    assert plan.kiln == Kiln()
    assert plan.kiln.flasks == 1
    assert plan.original == Original()
    assert plan.piece.button.top == "open"
    assert plan.studio == Studio()
    assert plan.invented is False
    assert plan.piece.button.material == "casting"
    assert plan.piece.button.tilt == 0.0
    assert (stem.parent, stem.count, stem.position) == ("button", 1, (1.0, 1.0))
    assert (leaf.angle, leaf.turn, leaf.bend, leaf.coat) == (0.0, 0.0, 0.0, 0.0)
    assert (leaf.tip_on, leaf.tip_position) == (None, 1.0)


def test_gravity_is_what_drives_the_metal_where_nothing_is_said() -> None:
    """Source: our own choice."""
    plan = read_plan(changed('[assist]\nkind = "vacuum"\nvacuum_kPa = 70\n', ""))

    assert plan.assist == Assist(kind="gravity")


def test_members_of_a_ring_stand_evenly() -> None:
    """By geometry: three members, 360°/3."""
    assert read_plan(SMALL).piece.parts[1].turn_step == near(2 * math.pi / 3)


def test_members_of_a_row_turn_by_the_angle_of_spiral_leaves() -> None:
    """From memory, botany: divergence 137.5°, the golden angle 360° (1 - 1/φ) = 137.508°."""
    row = read_plan(changed("at = 0.5", "at = [0.2, 0.9]")).piece.parts[1]

    assert row.turn_step == pytest.approx(math.pi * (3 - math.sqrt(5)), rel=1e-4)


@pytest.mark.parametrize(
    ("size", "want"),
    [("[4, 3]", 0.004), ("[4, 3]\ncoat_mm = 0.25", 0.0045), ("[35, 3]", 0.030)],
)
def test_the_gate_is_the_base_of_the_first_rod_with_its_coat_and_not_over_the_button(
    size: str, want: float
) -> None:
    """By arithmetic; the button is 30 mm across."""
    assert read_plan(changed("[4, 3]", size)).piece.button.gate_diameter == near(want)


def test_a_gate_that_is_given_stands_for_a_first_part_of_any_shape() -> None:
    """Source: our own rule."""
    text = changed("diameter_mm = [4, 3]", "width_mm = 4\nthickness_mm = 1")
    text = changed(
        "[button]", '[button]\ngate_diameter = "1/8 in"', changed('"rod"', '"blade"', text)
    )

    assert read_plan(text).piece.button.gate_diameter == near(0.003175)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("= 70\n", "= 101.4\n"),
        ("= 70\n", '= "1014 mbar"\n'),
        ("= 1120", "= 1400"),
        ("= 1120", '= "212 F"'),
        ("at = 0.5", 'at = ["0 %", "100 %"]'),
        ("at = 0.5", "at = [0, 1]"),
        ("count = 3", "count = 1999"),
        ("at = 0.5", "at = 0.5\nangle_deg = 180\nbend_deg = 3600"),
        ("at = 0.5", "at = 0.5\nangle_deg = -180\nbend_deg = -3600"),
        ("[button]", "[button]\ntilt_deg = -90"),
        ("[4, 3]", '["1 um", "0.001 mm"]'),
        ("[flask]", "[flask]\ntemperature_C = 0"),
        ("[flask]", "[original]\ndays_dried = 36500\nholds = []\n[flask]"),
        ("[flask]", "[original]\ndays_dried = 0\n[flask]"),
        ("[flask]", "[kiln]\nflasks = 100\n[flask]"),
        ("[flask]", '[flask]\ntemperature_C = "1832 F"'),
        ("at = 0.5", 'at = 0.5\nangle_deg = "3.141592654 rad"'),
        ("[button]", "[investment]\nwater_to_powder = '100 %'\n[button]"),
        ("[button]", "[investment]\nwater_to_powder = '20:100'\n[button]"),
    ],
)
def test_a_value_at_its_limit_is_read_and_the_piece_can_be_worked_with(old: str, new: str) -> None:
    """Source: a stated limit is a kept limit, in whatever unit it is written."""
    limits.check(read_plan(changed(old, new)).piece)


def test_a_part_may_be_joined_to_one_that_stands_later() -> None:
    """Source: our own rule: a joint needs no order."""
    text = changed('material = "herb_stem"', 'material = "herb_stem"\ntip_on = "leaf2"')
    other = SMALL[SMALL.index('[[part]]\nname = "leaf"') :].replace(
        '"leaf"\non = "stem"', '"leaf2"\non = "button"'
    )

    assert read_plan(text + other).piece.parts[0].tip_on == "leaf2"


def test_the_error_names_the_file_it_was_given() -> None:
    """Source: our own rule."""
    with pytest.raises(SheetError) as caught:
        read_plan("", file="none.toml")

    assert {line.split(":")[0] for line in str(caught.value).split("\n")} == {"none.toml"}
    assert caught.value.file == "none.toml"


def test_an_empty_file_lacks_name_metal_flask_button_and_parts() -> None:
    """Source: our own rule."""
    assert [line.split(": ")[1] for line in said("")] == [
        "button",
        "flask",
        "metal",
        "name",
        "part",
    ]


def test_the_same_text_gives_the_same_plan_and_is_not_changed() -> None:
    """Source: reading is pure."""
    before = str(FULL)

    first, second = read_plan(FULL), read_plan(FULL)

    assert isinstance(first, Plan)
    assert first == second
    assert before == FULL
