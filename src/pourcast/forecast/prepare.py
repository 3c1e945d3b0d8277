"""Prepare: shape, mould, values and metal of a plan, before any pour is followed."""

import operator
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BurnoutResult
from pourcast.errors import (
    InputError,
    require_between,
    require_not_negative,
    require_positive,
)
from pourcast.forecast.draws import pour_case, section_scale, volume_scale
from pourcast.forecast.model import Calibration
from pourcast.forecast.own_kiln import with_own_kiln
from pourcast.forecast.unknowns import unknowns
from pourcast.materials import Library, Material, Value, draw, library
from pourcast.materials.draws import ArrayInSI
from pourcast.melt.model import MetalAccount
from pourcast.melt.solve import solve as solve_melt
from pourcast.mould.model import Mould
from pourcast.mould.solve import powder_of
from pourcast.mould.solve import solve as solve_mould
from pourcast.mould.vents import with_open_vents
from pourcast.piece.measure import measure
from pourcast.piece.model import Measures, Network
from pourcast.piece.network import build
from pourcast.pour.model import PourCase
from pourcast.sheet.model import Plan

MOST_DRAWS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """What the pours of a forecast are made from.

    Parameters
    ----------
    book : Library
    alloy : Material
    network : Network
    poured : Network
        The same with those vents alone that gas can leave through: what a pour is followed in.
    measures : Measures
    mould : Mould
    values : dict of str to Value
        The unknowns, under short names.
    drawn : dict of str to array [SI], shape (draws,)
        Their draws.
    scale : array [-], shape (draws, members)
        On the section of each member.
    metal : MetalAccount
    seed : int
    """

    book: Library
    alloy: Material
    network: Network
    poured: Network
    measures: Measures
    mould: Mould
    values: dict[str, Value]
    drawn: dict[str, ArrayInSI]
    scale: si.Ratios
    metal: MetalAccount
    seed: int


def by_the_curve(plan: Plan) -> bool:
    """Say whether the flask is poured as hot as the curve of the sheet ends.

    It is where the sheet does not say its heat, and the burnout is followed.

    Parameters
    ----------
    plan : Plan
    """
    return plan.flask.temperature is None and bool(plan.kiln.steps) and plan.kiln.volume is not None


def prepare(
    plan: Plan, calibration: Calibration | None, draws: int, rng: np.random.Generator | int
) -> Prepared:
    """Return all that stands before the first pour.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration or None
    draws : int
        1 to 100 000.
    rng : numpy.random.Generator or int
        A generator gives its seed once; a number is the seed.

    Returns
    -------
    Prepared

    Raises
    ------
    InputError
        If a value is outside its limits.
    SourceError
        If a material is not known.
    """
    if not 1 <= draws <= MOST_DRAWS:
        raise InputError("draws", draws, "", f"1 to {MOST_DRAWS}")
    seed = seed_of(rng)
    _require_limits(plan)
    book, learnt = with_own_kiln(library(), calibration)
    alloy = book.alloy(plan.charge.alloy)
    network = build(plan.piece)
    measures = measure(plan.piece, network)
    mould = solve_mould(
        measures,
        plan.piece.button,
        plan.flask,
        plan.mix,
        powder_of(book.investment, plan.mix.powder),
    )
    values = unknowns(plan, alloy, book, measures.thinnest, learnt)
    drawn = draw(values, draws, seed)
    scale = section_scale(network, drawn, draws, seed)
    metal = solve_melt(
        measures,
        plan.charge,
        liquid_density=drawn["density_liquid"],
        loss=drawn["melt_loss"],
        volume_scale=volume_scale(network, scale),
        solid_density=alloy["density_20"].si,
        wax_density=book.waxes["casting"]["density"].si,
    )
    return Prepared(
        book=book,
        alloy=alloy,
        network=network,
        poured=with_open_vents(network, plan.flask, plan.piece.button.height),
        measures=measures,
        mould=mould,
        values=values,
        drawn=drawn,
        scale=scale,
        metal=metal,
        seed=seed,
    )


def seed_of(rng: np.random.Generator | int) -> int:
    """Return a seed, 0 or more; a generator gives one.

    Parameters
    ----------
    rng : numpy.random.Generator or int

    Raises
    ------
    InputError
        If it is less than 0.
    """
    seed = int(rng.integers(2**31)) if isinstance(rng, np.random.Generator) else operator.index(rng)
    if seed < 0:
        raise InputError("seed", seed, "", "0 or more")
    return seed


def case_of(plan: Plan, ready: Prepared, burnt: BurnoutResult | None) -> PourCase:
    """Return what each pour starts from, once all is prepared.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    burnt : BurnoutResult or None
        As `pourcast.forecast.draws.pour_case` takes it.

    Returns
    -------
    PourCase
    """
    return pour_case(
        plan,
        ready.network,
        ready.measures,
        ready.mould,
        ready.metal,
        ready.drawn,
        ready.scale,
        ready.seed,
        burnt,
    )


def _require_limits(plan: Plan) -> None:
    """Refuse values that no stage looks at; the reader of the piece file says so with its line."""
    require_positive("pour_temperature", plan.charge.pour_temperature, "K")
    assist, studio = plan.assist, plan.studio
    if assist.vacuum is not None:
        require_not_negative("vacuum", assist.vacuum, "Pa")
    require_positive("pump_time", assist.pump_time, "s")
    require_not_negative("lead_time", assist.lead_time, "s")
    require_between("seal", assist.seal, "", 0.0, 1.0)
    if studio.air_pressure is not None:
        require_positive("air_pressure", studio.air_pressure, "Pa")
    for what, error, unit in (
        ("metal_thermometer_error", studio.metal_thermometer_error, "K"),
        ("flask_thermometer_error", studio.flask_thermometer_error, "K"),
        ("gauge_error", studio.gauge_error, "Pa"),
    ):
        if error is not None:
            require_not_negative(what, error, unit)
