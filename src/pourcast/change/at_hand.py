"""What the caster has at hand; levers that need more are not offered."""

from dataclasses import dataclass

from pourcast import units as si
from pourcast.mould.model import Flask
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Specimen:
    """Another original that could be cast.

    Parameters
    ----------
    name : str
        As its file or the caster calls it.
    plan : Plan
    """

    name: str
    plan: Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """What the caster has; levers that need more are not offered.

    Parameters
    ----------
    alloys : tuple of str
        Keys of alloys in the store, that of the plan left out.
    flasks : tuple of Flask
        On the shelf.
    vacuum : float or None [Pa]
        That a pump of the studio draws, below the air outside; None: there is none, or
        not said.
    specimens : tuple of Specimen
        Other originals, each with a plan of its own.
    twin : bool
        There is a second original like this one.
    """

    alloys: tuple[str, ...] = ()
    flasks: tuple[Flask, ...] = ()
    vacuum: si.Pascal | None = None
    specimens: tuple[Specimen, ...] = ()
    twin: bool = False
