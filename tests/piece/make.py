"""Plain pieces for the tests, with as few measures as a test needs."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import settings

from pourcast import units as si
from pourcast.piece.model import RECTANGLE, Button, Network, Part, Piece, Shape

few = settings(max_examples=40, deadline=None)
"""A drawn piece costs milliseconds, and how long it takes is not what is tested."""


def near(want: Any, rel: float = 1e-9) -> Any:
    """Hold a number against one that is small in SI.

    Left to itself `pytest.approx` lets pass a miss of 1e-12, which is 0.001 mm³
    of volume and 1 % of the wedge at a thin joint.
    """
    return pytest.approx(want, rel=rel, abs=0.0)


def part(
    name: str = "stem",
    parent: str = "button",
    *,
    shape: Shape = "rod",
    count: int = 1,
    length: float = 0.06,
    width: float | tuple[float, float] = 0.003,
    thickness: float | tuple[float, float] | None = None,
    position: float | tuple[float, float] = 1.0,
    angle: float = 0.0,
    turn: float = 0.0,
    turn_step: float | None = None,
    bend: float = 0.0,
    coat: float = 0.0,
    tip_on: str | None = None,
    tip_position: float = 1.0,
) -> Part:
    """Part in metres, with angles in degrees; like members evenly about their parent."""
    wide = width if isinstance(width, tuple) else (width, width)
    if thickness is None:
        thickness = wide
    return Part(
        name=name,
        parent=parent,
        shape=shape,
        count=count,
        length=length,
        width=wide,
        thickness=thickness if isinstance(thickness, tuple) else (thickness, thickness),
        position=position if isinstance(position, tuple) else (position, position),
        angle=math.radians(angle),
        turn=math.radians(turn),
        turn_step=math.radians(360 / count if turn_step is None else turn_step),
        bend=math.radians(bend),
        coat=coat,
        material="plant",
        tip_on=tip_on,
        tip_position=tip_position,
    )


def button(*, tilt: float = 0.0, gate: float = 0.004) -> Button:
    """Button with a tilt in degrees."""
    return Button(
        diameter=0.03,
        height=0.02,
        gate_diameter=gate,
        material="casting",
        tilt=math.radians(tilt),
    )


def piece(*parts: Part, tilt: float = 0.0, gate: float = 0.004) -> Piece:
    """Piece of these parts on a plain button."""
    return Piece(name="test", parts=parts, button=button(tilt=tilt, gate=gate))


def segment_volumes(network: Network) -> si.CubicMetres:
    """Volume of each segment, as a straight taper of width and of thickness."""
    (w0, w1), (t0, t1) = network.width.T, network.thickness.T
    box = network.length * (2 * w0 * t0 + w0 * t1 + w1 * t0 + 2 * w1 * t1) / 6
    volumes: si.CubicMetres = np.where(network.section == RECTANGLE, box, box * math.pi / 4)
    return volumes


def of_part(network: Network, name: str) -> si.Booleans:
    """Which segments belong to the members of a part."""
    chosen: si.Booleans = network.member_part[network.member] == network.part_names.index(name)
    return chosen
