"""Evidence: what the record of a pour says of the tells of its diagnosis.

Only what is on record is answered; the rest is left out, which means not known.
Where a part came short its place and thickness are compared with those of the
parts that came whole.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.book.metal_used import MetalUsed
from pourcast.book.model import KeptPlan, Outcome, Reading
from pourcast.book.words import GAUGE
from pourcast.day.gauge import is_low
from pourcast.mould.vents import parts_with_open_vents
from pourcast.piece.model import Network
from pourcast.piece.network import build
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from pourcast.signs.model import Answer
from pourcast.signs.tells import TOO_HOT

_COLDER = 15.0  # K under the plan that count; estimate, about twice a dip thermometer's error
_CLEAN, _DIRTY = 0.9, 0.5
"""Chances of a clean cavity over and under which the forecast takes a side; estimate."""

_MANY = 3
"""Meltings from which on gas and lost zinc are thought of; common practice, no source."""

_USUAL_LOSS = 0.05
"""Of the charge, over the largest mass of the piece: dross and splashes; estimate."""

_FILM = ("si_bronze", "al_bronze", "al_a356")
_ZINC = ("brass",)
_SEALS = ("lacquer", "paint", "varnish", "shellac")
_THIRSTY = ("woody_stem", "seed_head", "cone")

_TOLD: Mapping[str, tuple[str, ...]] = {
    "told_cold": ("cold",),
    "told_gas": ("gas",),
    "told_fine": ("capillary", "head"),
    "told_choke": ("choke",),
}
"""Tell: the causes of a stop that it asks for, as the forecast's JSON names them."""


def seen_of(outcome: Outcome) -> tuple[str, ...]:
    """Return what was seen, in the words that a diagnosis takes, each once.

    Parameters
    ----------
    outcome : Outcome
    """
    words: list[str] = [part.state for part in outcome.parts if part.state in ("short", "missing")]
    words += [sign for part in outcome.parts for sign, _ in part.signs]
    if outcome.button == "none":
        words.append("no button")
    return tuple(dict.fromkeys(str(word) for word in words))


def record_of(
    plan: KeptPlan,
    outcome: Outcome,
    readings: Iterable[Reading] = (),
    metal: MetalUsed | None = None,
) -> dict[str, Answer]:
    """Return the tells that the record of a pour answers.

    Parameters
    ----------
    plan : KeptPlan
    outcome : Outcome
    readings : iterable of Reading
        Of its day.
    metal : MetalUsed or None
        By the store; None: nothing was entered there.

    Returns
    -------
    dict of str to {"yes", "no"}

    Raises
    ------
    SheetError
        If the kept piece file is not one that this program reads.
    """
    sheet = read_plan(plan.sheet, file=plan.file_name)
    said: dict[str, bool | None] = {
        "button_full": _button(outcome, "full"),
        "button_sunk": _button(outcome, "sunk"),
        "button_porous": _button(outcome, "porous"),
        "no_button": _button(outcome, "none"),
        "film_alloy": any(name in plan.alloy for name in _FILM),
        "zinc_alloy": any(name in plan.alloy for name in (*_ZINC, "si_bronze")),
        "streams_meet": None if any(part.tip_on for part in sheet.piece.parts) else False,
    }
    if sheet.assist.kind == "gravity":
        said["gauge_low"] = False
    said |= _short_parts(sheet, outcome)
    said |= _thirst(sheet, outcome)
    said |= _day(sheet, readings)
    document = json.loads(plan.document)
    said |= _forecast(document, outcome)
    said |= _metal(document, metal)
    return {key: "yes" if so else "no" for key, so in said.items() if so is not None}


def _button(outcome: Outcome, word: str) -> bool | None:
    return None if outcome.button is None else outcome.button == word


def _short_parts(sheet: Plan, outcome: Outcome) -> dict[str, bool | None]:
    """Whether the short parts are those far off, and whether they are the thin ones."""
    states = {part.part: part.state for part in outcome.parts}
    short = [name for name, state in states.items() if state in ("short", "missing")]
    full = [name for name, state in states.items() if state == "filled"]
    if not short or not full:
        return {}
    network = build(sheet.piece)
    way, thin = _way(network), np.minimum(network.width, network.thickness).min(axis=1)
    ends = {name: _of_part(network, name, way).max() for name in (*short, *full)}
    least = {name: _of_part(network, name, thin).min() for name in (*short, *full)}
    vented = parts_with_open_vents(network, sheet.flask, sheet.piece.button.height)
    return {
        "far": min(ends[name] for name in short) > max(ends[name] for name in full),
        "thin": max(least[name] for name in short) < min(least[name] for name in full),
        "blind": (not vented & set(short)) if vented else None,
    }


def _way(network: Network) -> si.Metres:
    """Return the way of the metal from the gate to the end of each segment [m]."""
    to_node = np.full(int(max(network.start.max(), network.end.max())) + 1, np.inf)
    to_node[0] = 0.0
    way = np.empty(network.length.size)
    for segment in range(network.length.size):
        way[segment] = to_node[network.start[segment]] + network.length[segment]
        end = network.end[segment]
        to_node[end] = min(to_node[end], way[segment])
    return way


def _of_part(network: Network, name: str, values: si.Metres) -> si.Metres:
    part = network.part_names.index(name)
    return np.asarray(values[network.member_part[network.member] == part])


def _thirst(sheet: Plan, outcome: Outcome) -> dict[str, bool | None]:
    blurred = {
        part.part for part in outcome.parts if any(sign == "blurred" for sign, _ in part.signs)
    }
    if not blurred or sheet.original.state is None:
        return {}
    wood = any(part.name in blurred and part.material in _THIRSTY for part in sheet.piece.parts)
    sealed = any(seal in sheet.original.holds for seal in _SEALS)
    return {"thirsty": wood and not sealed and sheet.original.state == "dry"}


def _day(sheet: Plan, readings: Iterable[Reading]) -> dict[str, bool | None]:
    by_kind: dict[str, list[float]] = {}
    for reading in readings:
        by_kind.setdefault(reading.kind, []).append(reading.value)
    said: dict[str, bool | None] = {}
    hot = by_kind.get("kiln_C", []) + by_kind.get("wall_C", []) + by_kind.get("core_C", [])
    if hot:
        said["hot_block"] = max(hot) > si.from_si(TOO_HOT, "degC")
    block = by_kind.get("core_C") or by_kind.get("wall_C")
    if block and sheet.flask.temperature is not None:
        said["cold_flask"] = block[-1] < sheet.flask.temperature - si.ZERO_CELSIUS - _COLDER
    gauge = [si.to_si(each, "kPa") for each in by_kind.get(GAUGE, [])]
    if gauge and sheet.assist.vacuum is not None:
        said["gauge_low"] = is_low(min(gauge), sheet.assist.vacuum)
    if len(gauge) > 1:
        said["gauge_fell"] = is_low(gauge[-1], max(gauge))
    metal = by_kind.get("metal_C")
    if metal:
        planned = sheet.charge.pour_temperature - si.ZERO_CELSIUS
        said |= {
            "cold_metal": metal[-1] < planned - _COLDER,
            "hot_metal": metal[-1] > planned + _COLDER,
        }
    return said


def _metal(document: Mapping[str, Any], metal: MetalUsed | None) -> dict[str, bool | None]:
    """Return what the ledgers say: how often it was melted, and whether some is missing."""
    if metal is None:
        return {}
    said: dict[str, bool | None] = {"many_remelts": metal.most_meltings >= _MANY}
    weigh = document.get("weigh", {})
    sizes = [weigh.get(key) for key in ("cavity_cm3", "button_cm3", "metal_high_g")]
    if metal.returned_mg and None not in sizes:
        cavity, button, most = sizes
        stays = metal.taken_mg - metal.returned_mg
        piece = 1000.0 * most * (cavity - button) / cavity
        said["all_weighed"] = stays <= piece + _USUAL_LOSS * metal.taken_mg
    return said


def _forecast(document: Mapping[str, Any], outcome: Outcome) -> dict[str, bool | None]:
    said: dict[str, bool | None] = {}
    clean = document.get("burnout", {}).get("chance_clean")
    if clean is not None and (clean >= _CLEAN or clean < _DIRTY):
        said["char_expected"] = clean < _DIRTY
    said |= _told(document, outcome)
    holes = {
        part.part for part in outcome.parts if any(sign == "porosity" for sign, _ in part.signs)
    }
    spots = document.get("freeze", {}).get("feed_problems")
    if holes and spots is not None:
        said["last_to_freeze"] = bool(holes & {str(spot.get("part")) for spot in spots})
    return said


def _told(document: Mapping[str, Any], outcome: Outcome) -> dict[str, bool | None]:
    """Return what the forecast of this very pour had stop the parts that came short."""
    short = {part.part for part in outcome.parts if part.state in ("short", "missing")}
    parts = document.get("fill", {}).get("parts", [])
    told = [part for part in parts if part["name"] in short]
    if not told:
        return {}
    # A part that the forecast had fill has no cause: that is a no to each, and not unknown.
    causes = [part["cause"] for part in told if part.get("cause")]
    return {key: any(cause in named for cause in causes) for key, named in _TOLD.items()}
