"""Records of a thermometer of its own: where it is listened to, and what it said."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from pourcast import units as si
from pourcast.day.model import Place

Kind = Literal["broker", "line"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One thermometer, or several on one line.

    Parameters
    ----------
    kind : {"broker", "line"}
        Readings published to a broker (MQTT), or a serial line.
    address : str
        Host of the broker, or path of the port.
    port : int
        Of the broker.
    secure : bool
        Whether the broker is spoken to under TLS.
    topic : str
        Of the broker; "" for a line.
    user : str
        Of the broker; "" for none.
    baud : int
        Signs a second of the line.
    place : {"kiln", "wall", "core", "metal"}
        Of a reading that names none.
    names : tuple of pair of str
        What this thermometer calls a place, and the place.
    unit : str
        Of a number that names none.
    path : tuple of str
        Keys down to the number in a message of JSON; empty: "temperature" or "value".
    time_path : tuple of str
        Keys down to its moment; empty: "time" or "at" where it is there.
    """

    kind: Kind
    address: str
    port: int = 1883
    secure: bool = False
    topic: str = ""
    user: str = ""
    baud: int = 9600
    place: Place = "kiln"
    names: tuple[tuple[str, Place], ...] = ()
    unit: str = "degC"
    path: tuple[str, ...] = ()
    time_path: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """How it is called on the screen."""
        if self.kind == "line":
            return self.address
        return f"{self.address}:{self.port} {self.topic}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A reading as it was sent.

    Parameters
    ----------
    place : {"kiln", "wall", "core", "metal"}
    temperature : float [K]
    at : datetime or None
        Of its own clock; None: it gives none.
    """

    place: Place
    temperature: si.Kelvin
    at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """A line that came, or a word about the way that it came.

    Parameters
    ----------
    source : Source
    text : str
        The line; "" where only ``told`` is said.
    arrived : datetime
        By our clock.
    told : str
        What the caster should know of the way: gone, back, torn.
    done : callable or None
        To be called once the line is kept or told: the broker then forgets it.
    """

    source: Source
    text: str
    arrived: datetime
    told: str = ""
    done: Callable[[], None] | None = None
