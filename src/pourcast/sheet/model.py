"""A plan: all that a piece file says, in SI."""

from dataclasses import dataclass, field
from typing import Literal

from pourcast import units as si
from pourcast.burnout.model import Kiln, Original
from pourcast.melt.model import Charge
from pourcast.mould.model import Flask, Mix
from pourcast.piece.model import Piece
from pourcast.sheet.lines import Path
from pourcast.speech import CELSIUS, Speech


@dataclass(frozen=True, slots=True, kw_only=True)
class Assist:
    """What drives the metal in besides its weight.

    Parameters
    ----------
    kind : {"gravity", "vacuum"}
    vacuum : float or None [Pa]
        Below the air outside, as the gauge reads with the flask on; None: gravity.
    pump_time : float [s]
        In which the vacuum comes within 1/e of its end.
    lead_time : float [s]
        From pump on to pour.
    seal : float [-]
        Share of the vacuum that reaches the flask.
    """

    kind: Literal["gravity", "vacuum"]
    vacuum: si.Pascal | None = None
    pump_time: si.Second = 1.0
    lead_time: si.Second = 5.0
    seal: si.Ratio = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Studio:
    """The place and its instruments; None: the usual error is drawn.

    Parameters
    ----------
    altitude : float [m]
        Above the sea.
    air_pressure : float or None [Pa]
        Read on the day, not reduced to sea level.
    metal_thermometer_error, flask_thermometer_error : float or None [K]
        One standard deviation.
    gauge_error : float or None [Pa]
        One standard deviation.
    """

    altitude: si.Metre = 0.0
    air_pressure: si.Pascal | None = None
    metal_thermometer_error: si.Kelvin | None = None
    flask_thermometer_error: si.Kelvin | None = None
    gauge_error: si.Pascal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One piece as the caster means to cast it.

    Parameters
    ----------
    piece : Piece
    charge : Charge
    flask : Flask
    mix : Mix
    assist : Assist
    kiln : Kiln
    original : Original
    studio : Studio
    invented : bool
        True for a demo piece; its measures are not of a real thing.
    speech : Speech
        How the caster is spoken to. It is no part of what is cast: nothing that is worked out
        hangs on it, nor the hash of what went in.
    """

    piece: Piece
    charge: Charge
    flask: Flask
    mix: Mix
    assist: Assist
    kiln: Kiln = field(default_factory=Kiln)
    original: Original = field(default_factory=Original)
    studio: Studio = field(default_factory=Studio)
    invented: bool = False
    speech: Speech = field(default=CELSIUS, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One change of a piece file.

    Parameters
    ----------
    path : tuple of str and int
        Where; a table of several is named by its place from 0, a part by its name too.
    value : str, number, bool, list, dict or None
        What shall stand there, as it is written in the file; None: nothing. A
        dict at the path of a section with double brackets is one more of them, at
        the end; at a place of it, before what stands there.
    """

    path: Path
    value: object
