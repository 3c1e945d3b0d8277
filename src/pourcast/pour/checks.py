"""Will the metal be hot, enough and in place, and what of the answer is not proved?

Every limit of the pour stands here.  Chances that a part fills are not said
here: `forecast` says them.  It is called as

    findings(network, case, result, facts=library().facts)

Left out: how high the metal stood in the cup while it ran; the rim is held
against the metal at the start and at the end, which errs to the hopeful side
where a fast hand fills a small cup.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Level, half_up
from pourcast.materials import Fact, caution
from pourcast.piece.model import ROUND, Network
from pourcast.pour.air_checks import rising_air_findings
from pourcast.pour.cup import volume_at
from pourcast.pour.damp_checks import damp_block_findings
from pourcast.pour.gas import air_viscosity, relaxation_time
from pourcast.pour.model import PourCase, PourResult
from pourcast.speech import Gauge, Heat, said

OFTEN = 0.05  # share of the draws from which on a fault is more than a watch; estimate
UNPROVED_UNDER = 0.5e-3  # m, thickness under vacuum; estimate, source in `_THIN`
DRAWN_OUT = 3.0  # pore times until 95 % of the drop is there, 1 - exp(-3)
_NEARLY_EMPTY = 1e-6  # of the metal poured; what rounding leaves in the cup
_WIDENED = 1.005  # factor on the entry pressure from which on it is told

_OF_POURS = "% of the pours"
_DOME = 2e-3  # m over the whole rim; half of the capillary length of bronze, 4 mm (estimate)
_ESTIMATE = "estimate: one pour in twenty"
_RIM = "volume of the cup to its rim"
_COLD = "both fronts below the liquidus, or one frozen; an estimate"
_THIN = (
    "estimate: the model fills 3 to 8 times thinner than the one figure found, 0.6 mm in plaster "
    "moulds (catalogue); florets: common practice, no source"
)


def findings(
    network: Network, case: PourCase, result: PourResult, *, facts: Mapping[str, Fact]
) -> tuple[Finding, ...]:
    """Return what the caster should know before the pour.

    Parameters
    ----------
    network : Network
    case : PourCase
        What the pours started from.
    result : PourResult
        How they ended, from the same network and case.
    facts : mapping of str to Fact
        Hazards by key; "ppe" and "so2" are said here.

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    return (
        *_flask(case),
        *damp_block_findings(case),
        *_gauge(case),
        *_wait(case),
        _heat(case),
        _metal(case, result),
        *_rim(case, result),
        *rising_air_findings(network, case, result),
        *_thin_parts(network, case),
        *_cold_shuts(network, result),
        *(caution(facts[key], "pour") for key in ("ppe", "so2")),
    )


def _flask(case: PourCase) -> tuple[Finding, ...]:
    share = float(np.mean(case.block.temperature >= case.metal.solidus))
    if share == 0.0:
        return ()
    flask = float(np.median(case.block.temperature))
    solidus = float(np.median(case.metal.solidus))
    text = said(
        "In {pours} the flask, at {flask}, is as hot as the metal is when it has frozen "
        "({solidus}): it stays liquid and runs into cracks and pores. "
        "Let the flask come down first.",
        pours=_pours(share),
        flask=Heat(flask),
        solidus=Heat(solidus),
    )
    return (_heat_finding("flask-over-solidus", share, text, flask, solidus, "solidus"),)


def _gauge(case: PourCase) -> tuple[Finding, ...]:
    share = float(np.mean(case.block.vacuum >= case.block.air_pressure))
    if share == 0.0:
        return ()
    vacuum = float(np.max(case.block.vacuum))
    air = float(np.median(case.block.air_pressure))
    text = said(
        "A gauge cannot show {vacuum} below the air where the air itself presses with "
        "{air}. Read it again, and look whether it is set to zero.",
        vacuum=Gauge(vacuum),
        air=Gauge(air),
    )
    source = "no pressure lies below zero; air pressure of the place"
    value, limit = si.from_si(vacuum, "kPa"), si.from_si(air, "kPa")
    return (_finding("gauge-impossible", _level(share), text, value, limit, "kPa", source),)


def _wait(case: PourCase) -> tuple[Finding, ...]:
    block = case.block
    if float(np.median(block.vacuum)) <= 0.0:
        return ()
    pressure = np.maximum(block.air_pressure - 0.5 * block.vacuum, 0.5 * block.air_pressure)
    pores = float(
        np.median(
            relaxation_time(
                block.porosity,
                air_viscosity(block.temperature),
                block.permeability,
                pressure,
                block.radius,
                block.depth + block.cover,
                perforated=block.wall == "perforated",
            )
        )
    )
    lead = float(np.median(block.lead_time))
    needed = DRAWN_OUT * (pores + float(np.median(block.pump_time)))
    short = lead < needed
    # Rounded up, so that nobody is told to wait for 0 s.
    text = (
        f"The pump runs {lead:.0f} s before the pour; this block needs about "
        f"{math.ceil(needed)} s until its pores are drawn out."
    )
    if short:
        text += (
            f" Wait {math.ceil(needed - lead)} s longer. Not much longer than that: "
            "the pump draws room air through the hot block and cools it."
        )
    source = "three pore times and three pump times, 95 % each; permeability is an estimate"
    return (_finding("pump-lead", "WATCH" if short else "GOOD", text, lead, needed, "s", source),)


def _heat(case: PourCase) -> Finding:
    share = float(np.mean(case.metal.temperature < case.metal.liquidus))
    metal = float(np.median(case.metal.temperature))
    liquidus = float(np.median(case.metal.liquidus))
    text = said(
        "The metal stands in the cup at {metal}, and freezes from {liquidus} on",
        metal=Heat(metal),
        liquidus=Heat(liquidus),
    )
    if share > 0.0:
        text += (
            f": in {_pours(share)} it has begun to freeze before it runs in. "
            "Heat it further, or shorten the way to the flask."
        )
    else:
        text += ": it is liquid when it runs in."
    told = _heat_finding("metal-in-cup", share, text, metal, liquidus, "liquidus")
    return replace(told, source=f"{told.source}; {_ESTIMATE}")


def _metal(case: PourCase, result: PourResult) -> Finding:
    empty = result.metal_left <= _NEARLY_EMPTY * case.stream.metal_volume
    share = float(np.mean(empty))
    left = float(np.median(result.metal_left * case.metal.density))
    if share > 0.0:
        text = (
            f"In {_pours(share)} the cup runs empty: no metal is left to press and to feed "
            "while the piece freezes. Pour more."
        )
    else:
        text = f"The cup keeps {si.from_si(left, 'g'):.0f} g when the metal has come to rest."
    told = _finding(
        "cup-empty", _level(share), text, 100.0 * share, 100.0 * OFTEN, _OF_POURS, _ESTIMATE
    )
    return replace(told, kind="estimate")


def _rim(case: PourCase, result: PourResult) -> tuple[Finding, ...]:
    stream = case.stream
    holds = volume_at(
        stream.cup_height, 0.5 * stream.gate_diameter, 0.5 * stream.cup_diameter, stream.cup_height
    )
    # A low dome of metal stands over a rim by its surface alone.
    holds += _DOME * 0.25 * math.pi * stream.cup_diameter**2
    over = (result.metal_left > holds) | (
        (stream.start_head > stream.cup_height) & (stream.metal_volume > holds)
    )
    share = float(np.mean(over))
    if share == 0.0:
        return ()
    most = float(np.max(np.maximum(result.metal_left - holds, 0.0) * case.metal.density))
    text = (
        f"In {_pours(share)} metal stands over the rim of the cup, up to "
        f"{_grams(most)}: it runs over the block on to the flask, the seal and the "
        "table. Weigh out less, make the button taller, and keep dry sand, not water, where it "
        "could run."
    )
    told = _finding("over-the-rim", "WATCH", text, 100.0 * share, 0.0, _OF_POURS, _RIM)
    return (told,)


def _grams(mass: si.Kilogram) -> str:
    return f"{max(si.from_si(mass, 'g'), 1.0):.0f} g"


def _thin_parts(network: Network, case: PourCase) -> tuple[Finding, ...]:
    if float(np.median(case.block.vacuum)) <= 0.0:
        return ()
    round_ = (network.section == ROUND)[:, np.newaxis]
    across = np.where(round_, network.thickness, np.minimum(network.width, network.thickness)).min(
        axis=1
    )
    part_of = network.member_part[network.member]
    limit = si.from_si(UNPROVED_UNDER, "mm")
    found = []
    for part, name in enumerate(network.part_names):
        mine = part_of == part
        if not mine.any() or across[mine].min() >= UNPROVED_UNDER:
            continue
        thinnest = si.from_si(float(across[mine].min()), "mm")
        text = (
            f"{name} is {thinnest:.2f} mm at its thinnest. Under vacuum this forecast is not "
            f"proved below {limit:.1f} mm: {_widening(case, network.member_part == part)}, and no "
            "least thickness is advised until your own test strips say so. Casters tell of florets "
            "of 0.3 to 0.4 mm that did fill; that is no promise for yours."
        )
        told = _finding("thin-unproved", "WATCH", text, thinnest, limit, "mm", _THIN)
        found.append(replace(told, kind="estimate", part=name))
    return tuple(found)


def _widening(case: PourCase, members: si.Booleans) -> str:
    """Return in words by how much the draws raise the entry pressure of some members."""
    factors = case.entry_factor[:, members]
    low, high = float(factors.min()), float(factors.max())
    if high < _WIDENED:
        return "the draws are not widened for it"
    return f"the pressure that it takes to enter is raised {low:.1f} to {high:.1f} times"


def _cold_shuts(network: Network, result: PourResult) -> tuple[Finding, ...]:
    part_of = network.member_part[network.member]
    found = []
    for part, name in enumerate(network.part_names):
        share = float(np.mean(result.cold_shut[:, part_of == part].any(axis=1)))
        if share == 0.0:
            continue
        text = (
            f"In {_pours(share)} two cold streams meet in {name} and do not join: a seam with "
            "rounded lips that breaks easily. Hotter flask or metal, or one way in less."
        )
        told = _finding("cold-shut", "WATCH", text, 100.0 * share, 0.0, _OF_POURS, _COLD)
        found.append(replace(told, kind="estimate", part=name))
    return tuple(found)


def _finding(
    key: str, level: Level, text: str, value: float, limit: float, unit: str, source: str
) -> Finding:
    return Finding(
        stage="pour",
        key=key,
        level=level,
        text=text,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        kind="computed",
    )


def _heat_finding(
    key: str, share: si.Ratio, text: str, heat: si.Kelvin, limit: si.Kelvin, record: str
) -> Finding:
    value, most = (si.from_si(each, "degC") for each in (heat, limit))
    source = f"{record} of the alloy's record"
    return _finding(key, _level(share), text, value, most, "°C", source)


def _level(share: float) -> Level:
    return "GOOD" if share == 0.0 else "STOP" if share >= OFTEN else "WATCH"


def _pours(share: float) -> str:
    return (
        f"{half_up(100.0 * share)} of 100 pours" if share >= 0.01 else "fewer than 1 of 100 pours"
    )
