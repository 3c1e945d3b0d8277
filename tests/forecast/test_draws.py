"""Draws: each error and factor does what it says, and nothing shifts the draws of another."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.forecast.before_the_pour import mould_told
from pourcast.forecast.draws import section_scale, thinnest_of_members, volume_scale
from pourcast.forecast.unknowns import FARTHEST
from pourcast.forecast.whole import lay_out
from pourcast.materials import library
from pourcast.mould.flask_heat import usual_flask_temperature
from pourcast.piece.model import Part, Piece, Vent
from pourcast.pour.model import PourCase
from pourcast.sheet.model import Plan
from pourcast.units import ZERO_CELSIUS
from tests.forecast.hand import alike, case_of, comb, example
from tests.outside.record import record

MANY = 4000
CLIPPED_SD = 0.9887
"""Standard deviation of a normal number cut off at 2.5, to 4 figures:

the root of 1 less twice the integral of (x² - 2.5²) over the normal density from 2.5 on.
"""


def constant(draws: int = MANY, **values: float) -> dict[str, np.ndarray]:
    """Return draws that do not vary."""
    return {name: np.full(draws, value) for name, value in values.items()}


def with_part(plan: Plan, **changes: object) -> Plan:
    """Return a plan whose last part is changed."""
    parts = plan.piece.parts
    last = replace(parts[-1], **changes)  # type: ignore[arg-type]
    return replace(plan, piece=replace(plan.piece, parts=(*parts[:-1], last)))


def test_an_error_of_measuring_is_one_factor_for_the_part() -> None:
    """By the docstring: members of a part are off together, parts apart from each other.

    Tolerance 4 %: the standard deviation of 4000 numbers is known to 1.1 %, 4 % is over
    three times as much.
    """
    drawn = constant(measure_error=0.05, member_thickness_scatter=0.0)

    scale = np.log(section_scale(comb(), drawn, MANY, 0))

    assert (scale[:, 1:] == scale[:, 1:2]).all()
    assert abs(np.corrcoef(scale[:, 0], scale[:, 1])[0, 1]) < 0.06  # 3.8 times 1/sqrt(4000)
    assert scale.std(axis=0) == pytest.approx(0.05 * CLIPPED_SD, rel=0.04)
    assert np.abs(scale).max() <= 0.05 * FARTHEST * (1 + 1e-12)


def test_an_error_that_a_part_says_takes_the_place_of_the_callipers() -> None:
    """By the docstring of Network: nan is drawn as of a caliper.

    Tolerance 4 %, as above.
    """
    drawn = constant(measure_error=0.05, member_thickness_scatter=0.0)
    said = replace(comb(), measure_error=np.array([np.nan, 0.2]))

    scale = np.log(section_scale(said, drawn, MANY, 0))

    assert scale[:, 0].std() == pytest.approx(0.05 * CLIPPED_SD, rel=0.04)
    assert scale[:, 1].std() == pytest.approx(0.2 * CLIPPED_SD, rel=0.04)
    assert (scale[:, 0] == np.log(section_scale(comb(), drawn, MANY, 0))[:, 0]).all()


def test_scatter_is_a_factor_of_each_member() -> None:
    drawn = constant(measure_error=0.0, member_thickness_scatter=0.05)

    scale = np.log(section_scale(comb(), drawn, MANY, 0))

    apart = np.corrcoef(scale.T) - np.eye(4)
    assert np.abs(apart).max() < 0.06
    assert scale.std(axis=0) == pytest.approx(0.05 * CLIPPED_SD, rel=0.04)
    assert np.abs(scale.mean(axis=0)).max() < 0.05 * 3.8 / np.sqrt(MANY)


def test_a_piece_without_errors_is_as_measured() -> None:
    drawn = constant(10, measure_error=0.0, member_thickness_scatter=0.0)

    assert (section_scale(comb(), drawn, 10, 0) == 1.0).all()


def test_volume_goes_with_the_square_of_the_section() -> None:
    """By hand: a stem of 20 mm x 9 mm² and three teeth of 4 mm x 1 mm²; the stem 10 % wider."""
    scale = np.array([[1.0, 1.0, 1.0, 1.0], [1.1, 1.0, 1.0, 1.0], [1.1, 1.1, 1.1, 1.1]])

    volume = volume_scale(comb(), scale)

    assert volume == pytest.approx([1.0, (180 * 1.21 + 12) / 192, 1.21])


def test_thinnest_way_of_a_member_is_its_least() -> None:
    thin = replace(comb(), thickness=comb().thickness * np.linspace(1.0, 0.3, 8)[:, None])

    assert thinnest_of_members(thin) == pytest.approx(
        [3e-3 * 0.9, 1e-3 * 0.7, 1e-3 * 0.5, 1e-3 * 0.3]
    )


@pytest.mark.parametrize(
    ("thinnest_mm", "power"),
    [(0.6, 0.0), (0.5, 0.0), (0.4375, 0.25), (0.375, 0.5), (0.25, 1.0), (0.1, 1.0)],
)
def test_factor_of_thin_sections_grows_from_half_to_a_quarter_millimetre(
    thinnest_mm: float, power: float
) -> None:
    """By the docstring of `draws`: F to the power 0 at 0.5 mm and 1 at 0.25 mm (an estimate)."""
    plan = with_part(
        example("sea_holly"),
        shape="blade",
        width=(3e-3, 3e-3),
        thickness=(thinnest_mm * 1e-3, thinnest_mm * 1e-3),
        coat=0.0,
    )
    # One hair, so that the factor is drawn at all.
    parts = (*plan.piece.parts[:-1], replace(plan.piece.parts[-1], count=1))
    hair = replace(parts[-1], name="hair", thickness=(1e-4, 1e-4))
    plan = replace(plan, piece=replace(plan.piece, parts=(*parts, hair)))

    ready, case = case_of(plan)
    member = np.flatnonzero(
        ready.network.member_part == ready.network.part_names.index(plan.piece.parts[-2].name)
    )[0]

    factor = ready.drawn["thin_section_factor"]
    assert factor.min() >= 1.0
    assert np.ptp(factor) > 1.0
    assert case.entry_factor[:, member] == pytest.approx(factor**power, rel=1e-9)
    assert case.entry_factor[:, -1] == pytest.approx(factor, rel=1e-12)


def test_a_gravity_pour_has_no_factor_of_thin_sections() -> None:
    plan = with_part(example("larch_twig"), thickness=(1e-4, 1e-4))

    ready, case = case_of(plan)

    assert "thin_section_factor" not in ready.drawn
    assert (case.entry_factor == 1.0).all()


@pytest.mark.parametrize(("altitude", "pressure"), [(0.0, 101.325), (1500.0, 84.556)])
def test_air_of_the_place_goes_in(altitude: float, pressure: float) -> None:
    """Published: 101.325 kPa at the sea, 84.556 kPa at 1 500 m.

    Source: ISO 2533 (1975), standard atmosphere, from memory.  Tolerance 0.3 kPa: the
    mean of 400 days that differ by 1 kPa is known to 0.05 kPa; a whole formula off by
    its exponent would be off by more.  Found: 0.04 kPa.
    """
    plan = example("sea_holly")
    studio = replace(plan.studio, altitude=altitude, air_pressure=None)

    _, case = case_of(replace(plan, studio=studio), 400)

    air = case.block.air_pressure / 1e3
    record(
        "forecast",
        f"air pressure at {altitude:.0f} m, mean of days",
        "ISO 2533 (1975), from memory",
        air.mean(),
        pressure,
        "kPa",
        0.3,
        kind="table",
    )
    assert air.mean() == pytest.approx(pressure, abs=0.3)
    assert air.std() == pytest.approx(1.0, rel=0.12)  # 3.4 standard errors of 400


def test_a_barometer_leaves_no_weather() -> None:
    plan = example("sea_holly")
    read = replace(plan, studio=replace(plan.studio, altitude=3000.0, air_pressure=98e3))

    assert (case_of(read)[1].block.air_pressure == 98e3).all()


def test_seal_is_the_share_of_the_vacuum_that_reaches_the_flask() -> None:
    plan = example("sea_holly")
    exact = replace(plan.studio, gauge_error=0.0)

    def drawn(seal: float) -> np.ndarray:
        assist = replace(plan.assist, seal=seal)
        return case_of(replace(plan, studio=exact, assist=assist))[1].block.vacuum

    assert drawn(1.0) == pytest.approx(70e3)
    assert drawn(0.6) == pytest.approx(42e3)
    assert drawn(0.0) == pytest.approx(0.0)


def test_no_pump_draws_more_than_nearly_all_of_the_air() -> None:
    """At 4 000 m a gauge cannot truly read 95 kPa; the pour is followed at 98 % of the air."""
    plan = example("sea_holly")
    high = replace(plan.studio, altitude=4000.0)

    _, case = case_of(replace(plan, studio=high, assist=replace(plan.assist, vacuum=95e3, seal=1)))

    assert case.block.vacuum == pytest.approx(0.98 * case.block.air_pressure)


def test_a_gravity_pour_has_no_vacuum() -> None:
    plan = example("sea_holly")

    for vacuum in (None, 70e3):
        assist = replace(plan.assist, kind="gravity", vacuum=vacuum)
        assert (case_of(replace(plan, assist=assist))[1].block.vacuum == 0.0).all()


ERRORS: dict[str, Callable[[PourCase], np.ndarray]] = {
    "metal_thermometer_error": lambda case: case.metal.temperature,
    "flask_thermometer_error": lambda case: case.block.temperature,
    "gauge_error": lambda case: case.block.vacuum,
}


@pytest.mark.parametrize("name", list(ERRORS))
def test_an_error_of_an_instrument_widens_what_it_reads(name: str) -> None:
    """The difference to an instrument without error is normal with the error as its width.

    Tolerance 12 %: the standard deviation of 400 numbers is known to 3.5 %.
    """
    plan = example("sea_holly")

    def drawn(error: float) -> np.ndarray:
        studio = replace(plan.studio, **{name: error})
        return ERRORS[name](case_of(replace(plan, studio=studio), 400)[1])

    off = drawn(4.0) - drawn(0.0)

    seal = plan.assist.seal if name == "gauge_error" else 1.0
    assert off.std() == pytest.approx(4.0 * CLIPPED_SD * seal, rel=0.12)
    assert abs(off.mean()) < 4.0 * 3.8 / 20
    assert np.abs(off).max() <= 4.0 * FARTHEST * (1 + 1e-9)


def test_metal_in_the_cup_is_colder_than_the_pot_by_what_the_stream_loses() -> None:
    plan = example("sea_holly")
    exact = replace(plan, studio=replace(plan.studio, metal_thermometer_error=0.0))

    ready, case = case_of(exact)

    lost = plan.charge.pour_temperature - case.metal.temperature
    assert lost == pytest.approx(ready.drawn["stream_loss"])
    assert lost.min() > 0.0


def test_a_flask_whose_heat_is_not_said_is_drawn_from_the_usual_range() -> None:
    """Common practice, no source: the range of the alloy's record for the thinnest section."""
    plan = example("sea_holly")
    silent = replace(
        plan,
        flask=replace(plan.flask, temperature=None),
        kiln=replace(plan.kiln, volume=None),
    )

    ready, case = case_of(silent, 400)

    usual = usual_flask_temperature(ready.alloy, ready.measures.thinnest)
    assert usual.si_low <= case.block.temperature.min()
    assert case.block.temperature.max() <= usual.si_high
    assert np.ptp(case.block.temperature) > 0.8 * (usual.si_high - usual.si_low)
    assert "flask_thermometer_error" not in ready.values
    assert ready.values["flask_temperature"].key == usual.key


@pytest.mark.parametrize("litres", [None, 0.03])
@pytest.mark.parametrize("said", [None, 600.0 + ZERO_CELSIUS])
@pytest.mark.parametrize("steps", [True, False])
def test_the_flask_that_is_told_is_the_one_that_is_poured_into(
    litres: float | None, said: float | None, steps: bool
) -> None:
    """By construction: sheet, end of the curve or usual range, the sentence names what is drawn.

    Tolerance 12 K: a thermometer is up to 30 K off (common practice), a kiln about as much, over
    20 draws; the curve ends 90 K from what is usual.
    """
    plan = example("sea_holly")
    written = plan.kiln.steps
    curve = (*written[:-1], replace(written[-1], temperature=560.0 + ZERO_CELSIUS))
    plan = replace(
        plan,
        flask=replace(plan.flask, temperature=said),
        kiln=replace(plan.kiln, volume=litres, steps=curve if steps else ()),
    )

    layout = lay_out(plan, None, 20, 0)

    (told,) = [
        each
        for each in mould_told(plan, layout.ready)
        if each.text.startswith(("Flask at", "The flask temperature is not said"))
    ]
    poured = np.median(layout.case.block.temperature)
    assert told.value is not None
    assert told.value + ZERO_CELSIUS == pytest.approx(poured, abs=12.0)
    assert f"{told.value:.0f} °C" in told.text


def test_a_thermometer_that_could_read_below_absolute_zero_is_refused() -> None:
    plan = example("sea_holly")
    cold = replace(plan.flask, temperature=20.0 + ZERO_CELSIUS)
    studio = replace(plan.studio, flask_thermometer_error=200.0)

    with pytest.raises(InputError, match=r"flask_thermometer_error is 200 K; it must be so small"):
        case_of(replace(plan, flask=cold, studio=studio), 400)


def test_metal_that_is_poured_is_what_the_caster_says_less_what_is_lost() -> None:
    """Mass balance: 100 g, less the share lost on the way, over the density of the liquid."""
    plan = example("sea_holly")

    ready, case = case_of(replace(plan, charge=replace(plan.charge, poured=0.1)))

    left = 0.1 * (1.0 - ready.drawn["melt_loss"]) / ready.drawn["density_liquid"]
    assert case.stream.metal_volume == pytest.approx(left)


def test_metal_that_is_not_there_is_not_poured() -> None:
    """Mass balance: of 50 g new metal and 20 g returns no more than 70 g can be poured."""
    plan = example("sea_holly")
    poor = replace(plan.charge, on_hand=0.05, returns=0.02, poured=None)

    ready, case = case_of(replace(plan, charge=poor))

    mass = case.stream.metal_volume * ready.drawn["density_liquid"]
    assert mass / (1.0 - ready.drawn["melt_loss"]) == pytest.approx(0.07)
    assert ready.metal.short_by == pytest.approx(ready.metal.metal - 0.07)


def test_an_alloy_without_a_value_for_half_solid_is_given_one_between_its_ends() -> None:
    plan = example("sea_holly")
    without = [key for key, alloy in library().alloys.items() if "fs50" not in alloy]
    if not without:
        pytest.skip("each alloy has its own value")

    metal = case_of(replace(plan, charge=replace(plan.charge, alloy=without[0])))[1].metal

    assert (metal.solidus <= metal.half_solid).all()
    assert (metal.half_solid <= metal.liquidus).all()


# Common random numbers: what is not changed stays the same to the last bit.


def test_a_part_more_leaves_the_draws_of_the_others_as_they_were() -> None:
    plan = example("sea_holly")
    bud = Part(
        name="bud",
        parent="stem",
        shape="rod",
        count=3,
        length=4e-3,
        width=(1e-3, 1e-3),
        thickness=(1e-3, 1e-3),
        position=(0.4, 0.4),
        angle=1.0,
        turn=0.0,
        turn_step=2.0,
        bend=0.0,
        coat=0.0,
        material="leaf",
    )
    piece: Piece = replace(plan.piece, parts=(*plan.piece.parts, bud))

    first, one = case_of(plan)
    second, two = case_of(replace(plan, piece=piece))

    members = first.scale.shape[1]
    assert second.scale.shape[1] == members + 3
    assert alike(first.drawn, second.drawn)
    assert alike(first.scale, second.scale[:, :members].copy())
    assert alike(one.metal, two.metal)
    for name in ("temperature", "vacuum", "permeability", "air_pressure"):
        assert alike(getattr(one.block, name), getattr(two.block, name)), name


def test_a_vent_leaves_all_draws_as_they_were() -> None:
    plan = example("sea_holly")
    vent = Vent(part="spine", diameter=1e-3, length=0.03, leads_to="air")

    first, one = case_of(plan)
    second, two = case_of(replace(plan, piece=replace(plan.piece, vents=(vent,))))

    assert second.network.vent_diameter.any()
    assert alike(first.drawn, second.drawn)
    assert alike(one, two)


def test_more_draws_begin_with_the_same_ones() -> None:
    plan = example("fern_crozier")

    first, one = case_of(plan, 20)
    second, two = case_of(plan, 60)

    assert alike(first.drawn, {name: drawn[:20] for name, drawn in second.drawn.items()})
    assert alike(one.section_scale, two.section_scale[:20].copy())
    assert alike(one.block.temperature, two.block.temperature[:20].copy())
    assert alike(one.block.vacuum, two.block.vacuum[:20].copy())
    assert alike(one.metal.temperature, two.metal.temperature[:20].copy())


def test_another_flask_heat_shifts_nothing_but_the_flask_heat() -> None:
    plan = example("dragonfly")
    temperature = plan.flask.temperature
    assert temperature is not None

    _, one = case_of(plan)
    _, two = case_of(replace(plan, flask=replace(plan.flask, temperature=temperature + 50.0)))

    assert two.block.temperature - one.block.temperature == pytest.approx(50.0)
    assert alike(one.block, replace(two.block, temperature=one.block.temperature))
    assert alike(one.metal, two.metal)
    assert alike(one.section_scale, two.section_scale)


def test_gravity_and_vacuum_share_their_draws() -> None:
    plan = example("fern_crozier")
    gravity = replace(plan, assist=replace(plan.assist, kind="gravity", vacuum=None))

    _, one = case_of(plan)
    _, two = case_of(gravity)

    assert alike(one.metal, two.metal)
    assert alike(one.section_scale, two.section_scale)
    assert alike(one.block, replace(two.block, vacuum=one.block.vacuum))


def test_another_seed_gives_other_draws_of_each_value() -> None:
    plan = example("dragonfly")

    first, one = case_of(plan, seed=1)
    second, two = case_of(plan, seed=2)

    assert not [
        name
        for name, drawn in first.drawn.items()
        if first.values[name].low < first.values[name].high and alike(drawn, second.drawn[name])
    ]
    assert not alike(one.section_scale, two.section_scale)
    assert not alike(one.block.air_pressure, two.block.air_pressure)
