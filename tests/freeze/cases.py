"""Cases that the tests of the freeze stage are made from."""

from dataclasses import replace
from typing import Any

import numpy as np

from pourcast.freeze.model import FreezeCase
from pourcast.freeze.solid import usual_knots
from pourcast.piece.model import Network
from pourcast.pour.model import FULL, PourCase, PourResult

COVER = {"top": "covered", "top_heat_transfer": 4.0, "top_emissivity": 0.0}


def freeze_case(pour: PourCase, **changes: object) -> FreezeCase:
    """Return what freezing needs beside a pour, silicon bronze, open top; changes by name."""
    values: dict[str, object] = {
        "solid_specific_heat": 446.0,
        "solid_conductivity": 77.0,
        "shrinkage": 0.048,
        "liquid_contraction": 1e-4,
        "feed_stop": 0.7,
        "gap_heat_transfer": 400.0,
        "room_temperature": 293.15,
        "top": "open",
        "top_heat_transfer": 10.0,
        "top_emissivity": 0.6,
        "flask_heat_transfer": 10.0,
        "flask_emissivity": 0.8,
        "burst_temperature": 573.15,
    }
    seventy, ninety = usual_knots(pour.metal.half_solid, pour.metal.solidus)
    values |= {"seventy_solid": seventy, "ninety_solid": ninety}
    unknown = set(changes) - set(values) - {"vacuum_hold"}
    assert not unknown, unknown
    values |= changes
    draws = pour.metal.density.size
    made: dict[str, Any] = {
        name: value
        if isinstance(value, str) or value is None
        else np.broadcast_to(np.asarray(value, float), draws).copy()
        for name, value in values.items()
    }
    return FreezeCase(pour=pour, **made)


def poured(
    network: Network, pour: PourCase, *, left: float = 1e-5, **changes: object
) -> PourResult:
    """Return a pour that filled all at once, as hot as the metal stood in the cup."""
    draws = pour.metal.density.size
    shape = (draws, network.length.size)
    made = PourResult(
        filled=np.ones(shape),
        cause=np.full(shape, FULL),
        fill_time=np.zeros(shape),
        temperature=np.repeat(pour.metal.temperature[:, np.newaxis], shape[1], axis=1),
        solid_fraction=np.zeros(shape),
        cold_shut=np.zeros(shape, dtype=bool),
        metal_left=np.full(draws, left),
        end_time=np.zeros(draws),
        steps=np.zeros(draws, dtype=np.int64),
    )
    return replace(made, **changes)  # type: ignore[arg-type]
