"""A pour in which many parts may stay short, so that a wrong measure shows in the chances."""

import numpy as np

import pourcast
from pourcast import units as si
from pourcast.forecast.model import Forecast
from pourcast.sheet.model import Plan

DRAWS = 200


def poor(sheet: str) -> str:
    """Return a sheet whose pour is so cold and weak that many parts may stay short."""
    pairs = (("vacuum_kPa = 80", "vacuum_kPa = 10"), ("temperature_C = 600", "temperature_C = 300"))
    for usual, weak in pairs:
        assert usual in sheet
        sheet = sheet.replace(usual, weak)
    return sheet


def chance_of_members(plan: Plan) -> si.Ratios:
    """Return the chance of each member, that of its worst segment."""
    told: Forecast = pourcast.forecast(plan, draws=DRAWS, rng=0, threads=2)
    worst = np.ones(told.network.member_part.size)
    np.minimum.at(worst, told.network.member, told.segment_chance)
    return worst
