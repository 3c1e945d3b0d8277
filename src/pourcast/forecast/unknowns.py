"""Unknowns: which values nobody knows exactly, and what a studio has learnt of them.

The list for one plan is taken from the materials; a calibration puts the
studio's own value and range in the place of the book's.  Reading errors,
differences between like members and the weather are drawn as normal numbers,
each from a stream of its own name, so that one more of them shifts no other.
"""

import zlib
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_finite, require_positive
from pourcast.forecast.burnout_unknowns import burnout_unknowns
from pourcast.forecast.model import Calibration, Override
from pourcast.materials import Library, Material, Value
from pourcast.mould.flask_heat import usual_flask_temperature
from pourcast.pour.checks import UNPROVED_UNDER
from pourcast.sheet.model import Plan

FARTHEST = 2.5
"""Standard deviations at which a reading error is cut off: more would be noticed."""

_ALLOY = (
    "density_liquid",
    "liquidus",
    "fs50",
    "solidus",
    "cp_liquid",
    "latent",
    "k_liquid",
    "viscosity_liquidus",
    "surface_tension",
    "contact_angle",
)
_POUR = (
    "film_factor",
    "interface_heat_transfer",
    "tip_stop_solid_fraction",
    "choke_solid_fraction",
    "wall_roughness",
    "fork_loss",
    "entry_loss",
    "stream_loss",
    "pour_rate",
    "start_head",
    "member_thickness_scatter",
    "measure_error",
    "metal_thermometer_error",
    "flask_thermometer_error",
    "gauge_error",
    "melt_loss",
    "thin_section_factor",
)


def unknowns(
    plan: Plan,
    alloy: Material,
    library: Library,
    thinnest: si.Metre,
    calibration: Calibration | None,
) -> dict[str, Value]:
    """Return the unknowns of a plan under short names, the studio's own put in.

    Parameters
    ----------
    plan : Plan
    alloy : Material
    library : Library
    thinnest : float [m]
        Thinnest section of the piece; decides the usual flask heat where neither
        plan nor burnout says it.
    calibration : Calibration or None

    Returns
    -------
    dict of str to Value

    Raises
    ------
    InputError
        If a calibration names a value that this plan does not draw, or gives it
        a range that does not hold it.
    SourceError
        If a record is missing.
    """
    found = {name: alloy[name] for name in _ALLOY if name in alloy}
    found |= {name: library.pour[name] for name in _POUR}
    found["permeability_burnt"] = library.investment["flow"]["permeability_burnt"]
    found["k_burnt_600"] = library.investment["thermal"]["k_burnt_600"]
    found["cp_burnt_mean_20_600"] = library.investment["thermal"]["cp_burnt_mean_20_600"]
    if plan.assist.kind == "gravity":
        del found["gauge_error"]
    if plan.assist.kind == "gravity" or thinnest >= UNPROVED_UNDER:
        del found["thin_section_factor"]
    if plan.kiln.volume is not None:
        found |= burnout_unknowns(plan, library)
    if plan.flask.temperature is None and plan.kiln.volume is None:
        found["flask_temperature"] = usual_flask_temperature(alloy, thinnest)
    if plan.flask.temperature is None:
        del found["flask_thermometer_error"]
    by_key = {value.key: name for name, value in found.items()}
    for override in calibration.overrides if calibration else ():
        name = by_key.get(override.key)
        if name is None:
            raise InputError(
                "calibration", override.key, "", "a value that this plan draws", _known(by_key)
            )
        _require_range(override, found[name])
        found[name] = replace(
            found[name],
            value=override.value,
            low=override.low,
            high=override.high,
            kind=override.kind,
            source=override.source,
        )
    return found


def _require_range(override: Override, book: Value) -> None:
    for end in (override.low, override.value, override.high):
        require_finite(override.key, end, book.unit)
        if book.low > 0.0:
            require_positive(override.key, end, book.unit)
    require_between(override.key, override.value, book.unit, override.low, override.high)


def _known(by_key: dict[str, str]) -> str:
    return "It draws " + ", ".join(sorted(by_key)) + "."


def normal(name: str, shape: tuple[int, ...], seed: int) -> si.Ratios:
    """Return normal numbers of mean 0 and standard deviation 1, cut off at `FARTHEST` [-].

    Parameters
    ----------
    name : str
        Of the stream; the same name and seed give the same numbers.
    shape : tuple of int
        Draws first: the first draws are the same however many there are.
    seed : int

    Returns
    -------
    array [-], shape ``shape``
    """
    stream = np.random.SeedSequence([seed, zlib.crc32(name.encode()), 1])
    numbers = np.random.Generator(np.random.PCG64(stream)).standard_normal(shape)
    return np.clip(numbers, -FARTHEST, FARTHEST)
