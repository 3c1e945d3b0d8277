"""Two plans side by side: what differs, what moves, and how sure that is."""

from collections.abc import Mapping
from dataclasses import dataclass

from pourcast import units as si
from pourcast.change.model import NOISE, PartMove
from pourcast.pour.model import Cause


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One key in which two plans differ.

    Parameters
    ----------
    key : str
        Place in the piece file: "flask.temperature_C".
    words : str
    one, other : str
        As the caster writes them; "not said" where it is left out.
    unit : str
    """

    key: str
    words: str
    one: str
    other: str
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFigures:
    """What one of two plans comes to.

    Parameters
    ----------
    name : str
    chance : float [-]
        Of the whole piece.
    causes : dict of str to float [-]
        Share of the pours in which a member is short for each cause.
    metal, powder : float [kg]
        To melt; to weigh out.
    stops : tuple of str
        What would stop the caster.
    """

    name: str
    chance: si.Ratio
    causes: Mapping[Cause, si.Ratio]
    metal: si.Kilogram
    powder: si.Kilogram
    stops: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two plans side by side.

    Parameters
    ----------
    one, other : PlanFigures
    differences : tuple of Difference
    gain : float [-]
        Of the other over the one.
    standard_error : float [-]
    parts : tuple of PartMove
        Parts that stand in both under one name.
    alone : tuple of pair of tuple of str
        Parts that stand in the first alone, and in the second alone.
    draws, seed : int
    """

    one: PlanFigures
    other: PlanFigures
    differences: tuple[Difference, ...]
    gain: si.Ratio
    standard_error: si.Ratio
    parts: tuple[PartMove, ...]
    alone: tuple[tuple[str, ...], tuple[str, ...]]
    draws: int
    seed: int

    @property
    def beyond_noise(self) -> bool:
        """Whether the difference is more than twice its standard error."""
        return abs(self.gain) > NOISE * self.standard_error
