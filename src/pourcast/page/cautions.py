"""What can hurt at each act, with the usual precaution and who says so."""

from dataclasses import dataclass

from pourcast.errors import SourceError
from pourcast.forecast.model import Forecast
from pourcast.materials import caution_key
from pourcast.materials.load import library

LAST_WORD = "Local codes and the maker’s data sheet come first."
"""Stands under every set of cautions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What to take care of, and who says so; ``finding`` is the key of a finding that says it."""

    text: str
    source: str
    finding: str = ""


def named(*keys: str) -> tuple[Caution, ...]:
    """Return cautions of the materials library.

    Raises
    ------
    SourceError
        If one is not there: a caution never goes missing without a word.
    """
    kept = library().facts
    missing = [key for key in keys if key not in kept]
    if missing:
        raise SourceError(f"the caution {', '.join(missing)} is not in the materials library")
    return tuple(
        Caution(text=kept[key].text, source=kept[key].source, finding=caution_key(kept[key]))
        for key in keys
    )


def at_the_mix() -> tuple[Caution, ...]:
    """Return what to take care of when mixing."""
    return named("silica_dust", "wetting_spirit")


def at_the_kiln() -> tuple[Caution, ...]:
    """Return what to take care of at the burnout."""
    return named("burnout_fumes", "hot_kiln", "compressed_air")


def at_the_pour(forecast: Forecast) -> tuple[Caution, ...]:
    """Return what to take care of at the pour."""
    # Without a burnout there is no other row to say it in.
    kiln = () if forecast.burnout else ("burnout_fumes",)
    pump = () if forecast.plan.assist.kind == "gravity" else ("hot_flask_vacuum",)
    return named(*kiln, "moisture", "metal_fume", "so2", "ppe", *pump)


def at_the_quench() -> tuple[Caution, ...]:
    """Return what to take care of when the flask goes into water."""
    return named("quench_steam", "ppe")


def at_the_break_out() -> tuple[Caution, ...]:
    """Return what to take care of when the casting is freed, cut and cleaned."""
    return named(
        "divest_wet",
        "silica_dust",
        "turning_tool",
        "blast_cabinet",
        "compressed_air",
        "sulphide_patina",
    )


def in_short() -> tuple[Caution, ...]:
    """Return one line for the mix and one for the pour, where there is no room for more."""
    return named("in_short_mix", "in_short_pour")


def told_at_acts(forecast: Forecast) -> frozenset[str]:
    """Return the keys of the findings that the cautions of all acts say."""
    acts = (at_the_mix(), at_the_kiln(), at_the_pour(forecast), at_the_quench(), at_the_break_out())
    return frozenset(kept.finding for cautions in acts for kept in cautions)
