"""Networks and cases that the tests of the pour stage are made from."""

import math
from dataclasses import replace
from typing import Any

import numpy as np

from pourcast.materials import library
from pourcast.piece.model import RECTANGLE, ROUND, Network
from pourcast.pour.model import Block, Metal, PourCase, PourResult, Steps, Stream

FINE = Steps(share=0.05, longest=1e-3, growth=1.1)


class Builder:
    """Adds segments one after another; node 0 is the gate."""

    def __init__(self) -> None:
        self.rows: list[tuple[int, int, int, float, float, float, float, float, int]] = []
        self.place: dict[int, tuple[float, float]] = {0: (0.0, 0.0)}
        self.vents: dict[int, tuple[float, float, bool]] = {}

    def add(
        self,
        start: int,
        length: float,
        thickness: float,
        *,
        width: float | None = None,
        tip: float | None = None,
        rise: float = -1.0,
        member: int = 0,
        end: int | None = None,
    ) -> int:
        """Add a segment; ``rise`` is the cosine with straight up.  Returns its end node."""
        node = len(self.place) if end is None else end
        tip = thickness if tip is None else tip
        section = ROUND if width is None else RECTANGLE
        x, z = self.place[start]
        if end is None:
            self.place[node] = (x + length * math.sqrt(1.0 - rise * rise), z + rise * length)
        wide = thickness if width is None else width
        wide_tip = tip if width is None else width
        self.rows.append((start, node, section, length, wide, wide_tip, thickness, tip, member))
        return node

    def network(self) -> Network:
        """Return the network."""
        rows = self.rows
        start = np.array([row[0] for row in rows])
        end = np.array([row[1] for row in rows])
        nodes = len(self.place)
        spots = np.array([(x, 0.0, z) for x, z in (self.place[node] for node in range(nodes))])
        member = np.array([row[8] for row in rows])
        vent = np.zeros((3, nodes))
        for node, (diameter, length, pump) in self.vents.items():
            vent[:, node] = diameter, length, pump
        return Network(
            start=start,
            end=end,
            start_position=spots[start],
            end_position=spots[end],
            section=np.array([row[2] for row in rows]),
            length=np.array([row[3] for row in rows]),
            width=np.array([(row[4], row[5]) for row in rows]),
            thickness=np.array([(row[6], row[7]) for row in rows]),
            member=member,
            member_part=np.arange(member.max() + 1),
            part_names=tuple(f"part {number}" for number in range(member.max() + 1)),
            vent_diameter=vent[0],
            vent_length=vent[1],
            vent_to_vacuum=vent[2] > 0.5,
            is_joint=np.zeros(len(rows), dtype=bool),
        )


def bar(
    length: float, thickness: float, pieces: int, *, width: float | None = None, rise: float = 0.0
) -> Network:
    """Return a straight passage from the gate, level unless told."""
    builder = Builder()
    node = 0
    for _ in range(pieces):
        node = builder.add(node, length / pieces, thickness, width=width, rise=rise)
    return builder.network()


def case(network: Network, draws: int = 1, **changes: object) -> PourCase:
    """Return silicon bronze at 1090 °C into a block at 600 °C, with changes by name."""
    values: dict[str, object] = {
        "density": 7550.0,
        "viscosity": 5e-3,
        "surface_tension": 1.22,
        "contact_angle": math.radians(140),
        "film_factor": 1.0,
        "liquidus": 1244.15,
        "half_solid": 1208.15,
        "solidus": 1094.15,
        "specific_heat": 517.0,
        "latent_heat": 108e3,
        "metal_conductivity": 55.0,
        "tip_stop": 0.25,
        "choke_stop": 0.6,
        "metal_temperature": 1363.15,
        "temperature": 873.15,
        "interface_heat_transfer": 1200.0,
        "conductivity": 0.42,
        "diffusivity": 3.2e-7,
        "permeability": 1e-13,
        "porosity": 0.52,
        "air_pressure": 101325.0,
        "vacuum": 0.0,
        "pump_time": 1.0,
        "lead_time": 5.0,
        "metal_volume": 3e-5,
        "pour_rate": 4e-5,
        "start_head": 0.01,
        "entry_loss": 0.5,
        "fork_loss": 0.2,
        "roughness": 1e-5,
        "wall": "perforated",
        "radius": 0.045,
        "depth": 0.1,
        "cover": 0.02,
        "piece_radius": 0.025,
        "piece_height": 0.06,
        "cup_diameter": 0.03,
        "cup_height": 0.03,
        "gate_diameter": 0.0299,
        "section_scale": 1.0,
        "entry_factor": 1.0,
        "char_left": 0.0,
    }
    unknown = set(changes) - set(values)
    assert not unknown, unknown
    values.update(changes)

    def each(*names: str) -> dict[str, Any]:
        return {
            name: np.broadcast_to(np.asarray(values[name], float), draws).copy() for name in names
        }

    members = int(network.member.max()) + 1
    return PourCase(
        metal=Metal(
            temperature=each("metal_temperature")["metal_temperature"],
            conductivity=each("metal_conductivity")["metal_conductivity"],
            **each(
                "density",
                "viscosity",
                "surface_tension",
                "contact_angle",
                "film_factor",
                "liquidus",
                "half_solid",
                "solidus",
                "specific_heat",
                "latent_heat",
                "tip_stop",
                "choke_stop",
            ),
        ),
        block=Block(
            **each(
                "temperature",
                "interface_heat_transfer",
                "conductivity",
                "diffusivity",
                "permeability",
                "porosity",
                "air_pressure",
                "vacuum",
                "pump_time",
                "lead_time",
            ),
            wall=values["wall"],  # type: ignore[arg-type]
            **{
                name: float(values[name])  # type: ignore[arg-type]
                for name in ("radius", "depth", "cover", "piece_radius", "piece_height")
            },
        ),
        stream=Stream(
            **each(
                "metal_volume", "pour_rate", "start_head", "entry_loss", "fork_loss", "roughness"
            ),
            **{
                name: float(values[name])  # type: ignore[arg-type]
                for name in ("cup_diameter", "cup_height", "gate_diameter")
            },
        ),
        section_scale=np.broadcast_to(
            np.asarray(values["section_scale"], float), (draws, members)
        ).copy(),
        entry_factor=np.broadcast_to(
            np.asarray(values["entry_factor"], float), (draws, members)
        ).copy(),
        **char(np.broadcast_to(np.asarray(values["char_left"], float), (draws, members)).copy()),
    )


def char(left: np.ndarray) -> dict[str, Any]:
    """Return what a case says of char: carbon of each member [kg], and how it reacts."""
    investment = library().investment["chemistry"]
    draws = left.shape[0]
    return {
        "char_left": left,
        "char_activation": np.full(draws, investment["sulphate_carbon_E"].si),
        "char_log10_rate": np.full(draws, investment["sulphate_carbon_log10_A"].si),
    }


def length_filled(network: Network, result: PourResult) -> np.ndarray:
    """Return the length that metal reached, for each draw [m]."""
    return np.asarray((result.filled * network.length).sum(axis=1))


def spray(segments: int = 490, seed: int = 3) -> Network:
    """Return a made-up spray: a stem, side twigs, leaves and buds, about 55 members."""
    chance = np.random.default_rng(seed)
    builder = Builder()
    node = builder.add(0, 12e-3, 4e-3)
    stem = []
    for number in range(24):
        thickness = (3.0 - 1.6 * number / 24) * 1e-3
        node = builder.add(node, 2e-3, thickness, rise=-0.95)
        stem.append((node, thickness))
    member = 1
    while len(builder.rows) < segments - 12:
        node, thickness = stem[chance.integers(3, 24)]
        twig = min(thickness * 0.75, chance.uniform(0.8, 1.6) * 1e-3)
        for _ in range(chance.integers(3, 7)):
            node = builder.add(
                node,
                chance.uniform(1.0, 2.5) * 1e-3,
                twig,
                rise=chance.uniform(-0.9, 0.3),
                member=member,
            )
            twig *= 0.95
        if chance.integers(0, 3) < 2:
            width = chance.uniform(3, 8) * 1e-3
            leaf = chance.uniform(0.35, 0.9) * 1e-3
            pieces = int(chance.integers(4, 9))
            for piece in range(pieces):
                node = builder.add(
                    node,
                    chance.uniform(1.5, 2.5) * 1e-3,
                    leaf,
                    width=width * math.sin(math.pi * (piece + 1) / (pieces + 1)) + 1e-3,
                    rise=chance.uniform(-0.7, 0.2),
                    member=member,
                )
        else:
            builder.add(node, 3e-3, 3.2e-3, rise=-0.5, member=member)
        member += 1
    return builder.network()


def uncertain(network: Network, draws: int, seed: int = 1, **changes: object) -> PourCase:
    """Return a case whose weakest-known values are drawn, the same draws for the same seed."""
    chance = np.random.default_rng(seed)
    base = case(network, draws, **changes)

    def around(middle: np.ndarray, width: float) -> np.ndarray:
        return np.asarray(middle * np.exp(width * chance.standard_normal(draws)))

    metal = replace(
        base.metal,
        contact_angle=np.radians(chance.uniform(120, 160, draws)),
        film_factor=chance.uniform(1.0, 2.0, draws),
        tip_stop=chance.uniform(0.15, 0.35, draws),
        latent_heat=chance.uniform(95e3, 150e3, draws),
        temperature=base.metal.temperature - chance.uniform(10, 45, draws),
    )
    block = replace(
        base.block,
        permeability=around(base.block.permeability, 0.7),
        interface_heat_transfer=around(base.block.interface_heat_transfer, 0.6),
        temperature=base.block.temperature + 15.0 * chance.standard_normal(draws),
    )
    members = int(network.member.max()) + 1
    scale = np.exp(0.05 * chance.standard_normal((draws, 1)))
    return replace(base, metal=metal, block=block, section_scale=np.repeat(scale, members, axis=1))
