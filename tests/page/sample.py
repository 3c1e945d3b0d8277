"""A forecast made by hand, so that the page can be tested without any calculation.

Its measures, chances and times are invented.  They hang together, but nothing
worked them out.
"""

import math
from dataclasses import replace
from typing import Any

import numpy as np

from pourcast.findings import Finding
from pourcast.forecast.model import Forecast, Outcomes, PartForecast, Spread, Unknown
from pourcast.melt.model import Charge, MetalAccount
from pourcast.mould.model import Flask, Mix, Mould
from pourcast.piece.model import (
    RECTANGLE,
    ROUND,
    Button,
    Measures,
    Network,
    Part,
    PartMeasures,
    Piece,
)
from pourcast.sheet.model import Assist, Plan

PART_NAMES = ("Stem", "Head", "Bracts", "Side spines", "Bristles")


class Builder:
    """Collects segments, member by member, as they grow."""

    def __init__(self) -> None:
        self.rows: list[tuple[Any, ...]] = []
        self.member_part: list[int] = []
        self.chance: list[float] = []
        self.nodes = 1

    def member(
        self,
        part: int,
        node: int,
        line: list[Any],
        wide: list[float],
        thick: list[float],
        section: int,
        chance: tuple[float, float],
    ) -> list[int]:
        """Add a member along a line of points and return its nodes."""
        self.member_part.append(part)
        nodes = [node]
        steps = len(line) - 1
        for k in range(steps):
            self.rows.append(
                (
                    nodes[-1],
                    self.nodes,
                    np.array(line[k], dtype=float),
                    np.array(line[k + 1], dtype=float),
                    section,
                    (wide[k], wide[k + 1]),
                    (thick[k], thick[k + 1]),
                    len(self.member_part) - 1,
                )
            )
            self.chance.append(chance[0] + (chance[1] - chance[0]) * (k + 1) / steps)
            nodes.append(self.nodes)
            self.nodes += 1
        return nodes

    def network(self) -> Network:
        starts = np.array([row[2] for row in self.rows])
        ends = np.array([row[3] for row in self.rows])
        return Network(
            start=np.array([row[0] for row in self.rows]),
            end=np.array([row[1] for row in self.rows]),
            start_position=starts,
            end_position=ends,
            section=np.array([row[4] for row in self.rows]),
            length=np.linalg.norm(ends - starts, axis=1),
            width=np.array([row[5] for row in self.rows]),
            thickness=np.array([row[6] for row in self.rows]),
            member=np.array([row[7] for row in self.rows]),
            member_part=np.array(self.member_part),
            part_names=PART_NAMES,
            vent_diameter=np.zeros(self.nodes),
            vent_length=np.zeros(self.nodes),
            vent_to_vacuum=np.zeros(self.nodes, dtype=bool),
            is_joint=np.zeros(len(self.rows), dtype=bool),
        )


def network(*, bracts: int = 9, spines: int = 2, bristles: int = 12) -> tuple[Network, np.ndarray]:
    """Return a spiny head on a stem, in metres, and a chance for each segment."""
    made = Builder()
    stem = made.member(
        0,
        0,
        [(0.0, 0.0, -0.007 * k) for k in range(7)],
        [0.0042] * 7,
        [0.0042] * 7,
        ROUND,
        (1.0, 0.995),
    )
    places = [0.0, 0.06, 0.25, 0.5, 0.75, 0.94, 1.0]
    wide = [0.016 * math.sqrt(max(1 - (2 * t - 1) ** 2, 0.02)) for t in places]
    line = [(0.0, 0.0, -0.042 - 0.022 * t) for t in places]
    head = made.member(1, stem[-1], line, wide, wide, ROUND, (0.99, 0.98))
    for k in range(bracts):
        turn = 2 * math.pi * k / bracts + 0.2
        c, s = math.cos(turn), math.sin(turn)
        radii = [0.003, 0.011, 0.019, 0.026]
        drops = [-0.041, -0.0385, -0.041, -0.047]
        line = [(c * r, s * r, z) for r, z in zip(radii, drops, strict=True)]
        nodes = made.member(
            2,
            stem[-1],
            line,
            [0.004, 0.006, 0.004, 0.0012],
            [0.0008, 0.0007, 0.0006, 0.0005],
            RECTANGLE,
            (0.98, 0.97 if k % 3 else 0.88),
        )
        for j in range(spines):
            side = -1 if j % 2 else 1
            at = np.array(line[1 + j // 2 % 3])
            way = np.array([c * 0.5 - side * s, s * 0.5 + side * c, -0.25])
            points = [at, at + way * 0.003, at + way * 0.006]
            last = 0.55 if k in (1, 2, 3) else 0.82
            sizes = [0.0009, 0.0006, 0.00035]
            made.member(3, nodes[1 + j // 2 % 3], points, sizes, sizes, ROUND, (0.95, last))
    for k in range(bristles):
        turn, up = 2.4 * k, -0.047 - 0.0012 * (k % 12)
        r = 0.008
        way = np.array([math.cos(turn), math.sin(turn), -0.5])
        at = np.array([math.cos(turn) * r, math.sin(turn) * r, up])
        made.member(
            4,
            head[3],
            [at, at + way * 0.003],
            [0.0006, 0.00035],
            [0.0006, 0.00035],
            ROUND,
            (0.9, 0.9),
        )
    return made.network(), np.array(made.chance)


def forecast() -> Forecast:
    """Return the sample."""
    net, chance = network()
    counts = [int(np.sum(net.member_part == k)) for k in range(5)]
    thinnest = (0.0034, 0.0023, 0.0005, 0.00035, 0.00035)
    return Forecast(
        plan=_plan(counts),
        network=net,
        measures=_measures(counts, thinnest),
        mould=Mould(
            slurry_volume=0.000482,
            slurry_density=1765.0,
            powder=0.6081,
            water=0.2432,
            waste=0.04,
            powder_per_volume=1260.7,
            burnt_porosity=0.524,
            burnt_density=1237.0,
            full_mass=0.817,
            wall_gap=0.0119,
            far_cover=0.0213,
            depth=0.0787,
        ),
        metal=MetalAccount(
            cavity_volume=1.16e-5,
            button_volume=6.1e-6,
            metal=0.0904,
            metal_low=0.0861,
            metal_high=0.0962,
            piece_metal=0.0414,
            button_metal=0.0461,
            lost_metal=0.0029,
            new_metal=0.0604,
            return_metal=0.03,
            short_by=0.0,
            wax_equivalent=0.0052,
            wax_factor=8.8,
        ),
        chance_all=0.7125,
        chance_low=0.604,
        chance_high=0.797,
        outcomes=Outcomes(whole=0.7125, short_tips=0.19, short_parts=0.0775, lost=0.02),
        parts=_parts(counts, thinnest),
        segment_chance=chance,
        unknowns=_unknowns(),
        findings=_findings(),
        draws=400,
        seed=14,
        calibration=None,
        cold_shut_chance=None,
    )


def named(name: str, part: str) -> Forecast:
    """Return the sample with other names for the piece and its third part."""
    base = forecast()
    names = tuple(part if k == 2 else kept for k, kept in enumerate(PART_NAMES))
    parts = tuple(replace(p, name=n) for p, n in zip(base.parts, names, strict=True))
    findings = (replace(base.findings[0], part=part, text=f"{part} is thin."), *base.findings[1:])
    return replace(
        base,
        plan=replace(base.plan, piece=replace(base.plan.piece, name=name)),
        network=replace(base.network, part_names=names),
        parts=parts,
        findings=findings,
    )


def _plan(counts: list[int]) -> Plan:
    part = Part(
        name="Stem",
        parent="button",
        shape="rod",
        count=1,
        length=0.042,
        width=(0.0042, 0.0042),
        thickness=(0.0042, 0.0042),
        position=(0.0, 0.0),
        angle=0.0,
        turn=0.0,
        turn_step=0.0,
        bend=0.0,
        coat=0.0,
        material="woody_stem",
    )
    spines = replace(part, name="Side spines", parent="Bracts", count=counts[3], coat=0.0001)
    return Plan(
        piece=Piece(
            name="Sea-holly head, no. 14",
            parts=(part, spines),
            button=Button(
                diameter=0.034, height=0.015, gate_diameter=0.006, material="casting", tilt=0.0
            ),
        ),
        charge=Charge(
            alloy="si_bronze_c87300", pour_temperature=1423.15, on_hand=0.5, returns=0.03
        ),
        flask=Flask(
            inside_diameter=0.076,
            height=0.1,
            wall="perforated",
            wall_thickness=0.002,
            temperature=813.15,
        ),
        mix=Mix(powder="casting_investment", water_to_powder=0.4, temperature=293.15),
        assist=Assist(kind="vacuum", vacuum=70_000.0),
        invented=True,
    )


def _measures(counts: list[int], thinnest: tuple[float, ...]) -> Measures:
    return Measures(
        parts=tuple(
            PartMeasures(
                name=name,
                members=counts[k],
                volume=1.1e-6,
                area=0.0012,
                thinnest=thinnest[k],
                lowest=-0.0637,
                highest=0.0,
                reach=0.0261,
            )
            for k, name in enumerate(PART_NAMES)
        ),
        volume=5.5e-6,
        area=0.0061,
        thinnest=0.00035,
        button_volume=6.1e-6,
        joint_overlap=1e-8,
        original_volume=5.3e-6,
        coat_volume=2e-7,
        lowest=-0.0637,
        reach=0.0261,
    )


def _parts(counts: list[int], thinnest: tuple[float, ...]) -> tuple[PartForecast, ...]:
    rows: tuple[Any, ...] = (
        (0.9975, 0.9975, (1.0, 1.0, 1.0), None, {}, (0.05, 0.07, 0.1)),
        (0.98, 0.98, (1.0, 1.0, 1.0), "choke", {"choke": 1.0}, (0.2, 0.27, 0.4)),
        (0.903, 0.92, (0.94, 1.0, 1.0), "gas", {"gas": 0.7, "cold": 0.3}, (0.31, 0.44, 0.7)),
        (0.76, 0.79, (0.81, 0.98, 1.0), "cold", {"cold": 0.8, "capillary": 0.2}, (0.4, 0.62, 0.93)),
        (0.843, 0.88, (0.9, 1.0, 1.0), "cold", {"cold": 1.0}, (0.35, 0.5, 0.8)),
    )
    return tuple(
        PartForecast(
            name=PART_NAMES[k],
            count=counts[k],
            thinnest=thinnest[k],
            chance_full=full,
            chance_weakest=weakest,
            share=Spread(p10=share[0], p50=share[1], p90=share[2]),
            cause=cause,
            causes=causes,
            fill_time=None if time is None else Spread(p10=time[0], p50=time[1], p90=time[2]),
        )
        for k, (full, weakest, share, cause, causes, time) in enumerate(rows)
    )


def _unknowns() -> tuple[Unknown, ...]:
    rows: tuple[Any, ...] = (
        ("pour.interface_heat_transfer", -0.52, 1200, 500, 3000, "W/m2/K", "estimate", "invented"),
        ("pour.film_factor", -0.31, 1.3, 1.0, 2.0, "-", "estimate", "invented"),
        (
            "alloys.si_bronze_c87300.surface_tension",
            -0.22,
            1.22,
            1.1,
            1.3,
            "N/m",
            "from memory",
            "from memory",
        ),
        (
            "investment.flow.permeability_burnt",
            0.14,
            1e-13,
            2e-14,
            8e-13,
            "m2",
            "estimate",
            "invented",
        ),
        ("pour.wall_roughness", 0.02, 10, 5, 20, "um", "estimate", "invented"),
    )
    return tuple(
        Unknown(
            key=key,
            rank_correlation=rank,
            value=value,
            low=low,
            high=high,
            unit=unit,
            kind=kind,
            source=source,
        )
        for key, rank, value, low, high, unit, kind, source in rows
    )


def _findings() -> tuple[Finding, ...]:
    return (
        Finding(
            stage="piece",
            key="thin-for-trade",
            level="WATCH",
            text="Side spines are 0.35 mm thick; below 0.4 mm metal often stays out.",
            part="Side spines",
            value=0.35,
            limit=0.4,
            unit="mm",
            source="common practice, no source",
            kind="common practice",
        ),
        Finding(
            stage="mould",
            key="wall-beside",
            level="GOOD",
            text="The block beside the piece is 12 mm thick.",
            value=11.9,
            limit=10.0,
            unit="mm",
            source="common practice, no source",
            kind="common practice",
        ),
        Finding(
            stage="pour",
            key="metal-enough",
            level="STOP",
            text="The cup holds less metal than the piece needs.",
            value=40.0,
            limit=44.0,
            unit="g",
            source="worked out here",
            kind="computed",
        ),
    )
