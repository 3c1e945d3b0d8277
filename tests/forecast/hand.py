"""A small network and endings of its pours, written by hand, and plans for the tests."""

from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from pourcast import units as si
from pourcast.forecast.draws import pour_case
from pourcast.forecast.prepare import Prepared, prepare
from pourcast.piece.model import Measures, Network, PartMeasures
from pourcast.pour.model import FULL, PourCase, PourResult
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from tests.pour.cases import Builder

EXAMPLES = ("dragonfly", "fern_crozier", "larch_twig", "sea_holly")


@cache
def example(name: str) -> Plan:
    """Return the plan of a demo piece."""
    folder = Path(__file__).parents[2] / "examples"
    return read_plan((folder / f"{name}.toml").read_text(encoding="utf-8"))


def comb() -> Network:
    """Return a stem of two segments with three teeth: parts "stem" and "tooth"."""
    builder = Builder()
    middle = builder.add(0, 0.010, 3e-3)
    end = builder.add(middle, 0.010, 3e-3)
    for member, node in enumerate((middle, middle, end), start=1):
        half = builder.add(node, 0.003, 1e-3, member=member)
        builder.add(half, 0.001, 1e-3, member=member)
    return replace(
        builder.network(), member_part=np.array([0, 1, 1, 1]), part_names=("stem", "tooth")
    )


def measures_of(network: Network) -> Measures:
    """Return measures whose thinnest ways are right; the rest is of no matter here."""
    across = np.minimum(network.width, network.thickness).min(axis=1)
    part = network.member_part[network.member]
    parts = tuple(
        PartMeasures(
            name=name,
            members=int((network.member_part == number).sum()),
            volume=1e-7,
            area=1e-4,
            thinnest=float(across[part == number].min()),
            lowest=-0.02,
            highest=0.0,
            reach=0.01,
        )
        for number, name in enumerate(network.part_names)
    )
    return Measures(
        parts=parts,
        volume=2e-7,
        area=2e-4,
        thinnest=float(across.min()),
        button_volume=1e-5,
        joint_overlap=0.0,
        original_volume=2e-7,
        coat_volume=0.0,
        lowest=-0.02,
        reach=0.01,
    )


def ending(filled: si.Ratios, cause: si.Integers, fill_time: si.Seconds) -> PourResult:
    """Return a result that says how far each segment filled, why not further, and when."""
    draws = filled.shape[0]
    return PourResult(
        filled=filled,
        cause=cause,
        fill_time=fill_time,
        temperature=np.full(filled.shape, 1300.0),
        solid_fraction=np.zeros(filled.shape),
        cold_shut=np.zeros(filled.shape, dtype=bool),
        metal_left=np.zeros(draws),
        end_time=np.ones(draws),
        steps=np.ones(draws, dtype=np.int64),
    )


def filled_to(rows: list[list[float]], cause: int) -> PourResult:
    """Return a result of `comb`; what is short is so for one cause, what is full was so at 2 s."""
    filled = np.array(rows)
    full = filled >= 1.0
    return ending(filled, np.where(full, FULL, cause), np.where(full, 2.0, np.nan))


def case_of(plan: Plan, draws: int = 50, seed: int = 0) -> tuple[Prepared, PourCase]:
    """Return what stands before the first pour, and what each pour starts from."""
    ready = prepare(plan, None, draws, seed)
    case = pour_case(
        plan,
        ready.network,
        ready.measures,
        ready.mould,
        ready.metal,
        ready.drawn,
        ready.scale,
        ready.seed,
    )
    return ready, case


def alike(first: object, second: object) -> bool:
    """Say whether two records, tables or arrays are the same to the last bit."""
    if isinstance(first, np.ndarray) and isinstance(second, np.ndarray):
        return first.tobytes() == second.tobytes() and first.shape == second.shape
    if is_dataclass(first) and not isinstance(first, type):
        return type(first) is type(second) and all(
            alike(getattr(first, field.name), getattr(second, field.name))
            for field in fields(first)
        )
    if isinstance(first, dict) and isinstance(second, dict):
        return list(first) == list(second) and all(alike(first[key], second[key]) for key in first)
    if isinstance(first, tuple) and isinstance(second, tuple):
        return len(first) == len(second) and all(map(alike, first, second))
    return first == second
