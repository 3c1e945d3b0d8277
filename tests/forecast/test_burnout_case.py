"""Burnout case: masses, water and air of a plan, against sums by hand and formula weights."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast.burnout.model import Original
from pourcast.errors import InputError
from pourcast.forecast.burn import burn, planned_curve, usual_curve
from pourcast.forecast.burnout_case import bare_volume, burnout_case
from pourcast.forecast.model import Calibration, Override
from pourcast.forecast.prepare import Prepared, prepare
from pourcast.forecast.solve import forecast
from pourcast.sheet.model import Plan
from tests.forecast.hand import EXAMPLES, example
from tests.outside.record import record

DRAWS = 30


def ready_of(plan: Plan) -> Prepared:
    return prepare(plan, None, DRAWS, 0)


@pytest.mark.parametrize("name", EXAMPLES)
def test_members_without_their_coats_hold_the_volume_of_the_original(name: str) -> None:
    """Geometry: coats taken off, all members together are what displaces water."""
    plan = example(name)
    ready = ready_of(plan)

    volume = bare_volume(plan, ready)

    assert volume.sum() == pytest.approx(ready.measures.original_volume, rel=1e-12)
    assert (volume > 0.0).all()


def test_a_bare_round_stem_has_the_volume_of_a_truncated_cone() -> None:
    """Published: volume of a frustum, π h (D² + D d + d²) / 12, any handbook."""
    plan = example("sea_holly")
    ready = ready_of(plan)
    stem = plan.piece.parts[0]
    wide, thin = stem.width
    frustum = math.pi * stem.length * (wide**2 + wide * thin + thin**2) / 12.0

    # The wedges where parts meet are shared out over all members: some per cent.
    assert bare_volume(plan, ready)[0] == pytest.approx(frustum, rel=0.1)


def test_block_holds_the_water_that_setting_leaves() -> None:
    """Published: 18.6 parts of water set 100 of hemihydrate, formula weights.

    Tolerance 0.1 %: the record of the water of setting has five figures.  Found: under 0.001 %.
    """
    plan = example("sea_holly")
    ready = ready_of(plan)
    block = burnout_case(plan, ready, planned_curve(plan, ready)).block
    powder = ready.mould.powder_per_volume
    bound = 0.3 * 1.5 * 18.015 / 145.15 * powder  # g/mol of H₂O and of CaSO₄·½H₂O
    free = 0.40 * powder - bound

    whole = block.free_water / ready.drawn["kiln.free_water_kept"]

    record(
        "burnout",
        "free water of a 40:100 block that has lost none",
        "formula weights of gypsum and hemihydrate",
        float(whole[0]),
        free,
        "kg/m³",
        1e-3 * free,
        kind="table",
    )
    assert whole == pytest.approx(free, rel=1e-3)
    assert block.free_water.max() <= free + 1.0
    assert block.free_water.min() >= 0.69 * free


def test_a_weighed_original_is_as_heavy_as_weighed() -> None:
    plan = example("larch_twig")
    weighed = replace(plan, piece=replace(plan.piece, weighed_mass=9.3e-3))
    ready = ready_of(weighed)

    matter = burnout_case(weighed, ready, planned_curve(weighed, ready)).matter

    assert (matter.dry_mass + matter.water).sum(axis=1) == pytest.approx(9.3e-3)


def test_a_fresh_original_brings_more_water_than_a_dry_one() -> None:
    """Common practice, no source: fresh plants are mostly water."""
    plan = example("fern_crozier")
    wet, dry = (
        burnout_case(p, ready_of(p), planned_curve(p, ready_of(p))).matter.water.sum(axis=1)
        for p in (
            replace(plan, original=Original(state="fresh")),
            replace(plan, original=Original(state="dry")),
        )
    )

    assert np.median(wet) > 3.0 * np.median(dry)


def test_a_plan_without_the_size_of_its_kiln_is_refused_by_name() -> None:
    plan = example("sea_holly")
    ready = ready_of(plan)
    without = replace(plan, kiln=replace(plan.kiln, volume=None))

    with pytest.raises(InputError, match="litres of the kiln is not given"):
        burnout_case(without, ready, planned_curve(plan, ready))


def test_a_forecast_without_the_size_of_the_kiln_has_no_burnout() -> None:
    plan = example("sea_holly")

    without = replace(plan, kiln=replace(plan.kiln, volume=None), original=Original())

    told = forecast(without, draws=5)

    assert told.burnout is None
    assert not [f for f in told.findings if f.stage == "burnout"]


def test_without_a_flask_heat_the_pour_takes_what_the_curve_ends_in() -> None:
    plan = example("sea_holly")
    cold = replace(plan, flask=replace(plan.flask, temperature=None))
    steps = cold.kiln.steps
    last = replace(steps[-1], temperature=673.15)
    cooler = replace(cold, kiln=replace(cold.kiln, steps=(*steps[:-1], last)))

    hot, cool = (forecast(p, draws=10).burnout for p in (cold, cooler))

    assert hot is not None
    assert cool is not None
    assert hot.flask_temperature.p50 == pytest.approx(873.15, abs=15.0)
    assert cool.flask_temperature.p50 == pytest.approx(673.15, abs=20.0)


def test_results_do_not_depend_on_threads() -> None:
    plan = example("dragonfly")
    ready = ready_of(plan)
    one, two = (burn(plan, ready, usual_curve(plan, ready), threads=n)[1] for n in (1, 2))

    assert np.array_equal(one.heat.core, two.heat.core)
    assert np.array_equal(one.fate.char, two.fate.char)


def test_what_a_studio_has_learnt_of_its_block_reaches_the_burnout() -> None:
    """The permeability is drawn once, for burnout and pour."""
    key = "investment.flow.permeability_burnt"
    learnt = Calibration(
        name="this studio",
        overrides=(Override(key=key, value=3e-14, low=2.9e-14, high=3.1e-14, source="a test"),),
    )
    plan = example("sea_holly")
    ready = prepare(plan, learnt, DRAWS, 0)

    block = burnout_case(plan, ready, planned_curve(plan, ready)).block

    assert block.permeability.max() <= 3.1e-14
