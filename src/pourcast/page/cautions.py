"""What can hurt at each act, with the usual precaution and who says so."""

from dataclasses import dataclass

from pourcast.errors import SourceError
from pourcast.forecast.model import Forecast
from pourcast.materials.load import library

LAST_WORD = "Local codes and the maker’s data sheet come first."
"""Stands under every set of cautions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What to take care of, and who says so."""

    text: str
    source: str


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
    return tuple(Caution(text=kept[key].text, source=kept[key].source) for key in keys)


def at_the_mix() -> tuple[Caution, ...]:
    """Return what to take care of when mixing."""
    return named("silica_dust")


def at_the_pour(forecast: Forecast) -> tuple[Caution, ...]:
    """Return what to take care of at the kiln and the pour."""
    usual = named("burnout_fumes", "moisture", "metal_fume", "ppe")
    if forecast.plan.assist.kind == "gravity":
        return usual
    text = (
        "A hot flask under vacuum can crack, leak or draw metal through. Face shield, dry gloves, "
        "dry floor; stand aside from the flask while the pump draws."
    )
    return (*usual, Caution(text=text, source="common practice, no source"))
