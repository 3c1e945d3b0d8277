"""What may touch each part, where is it cut, what comes back, and what can hurt?

Every limit and sentence of the finishing, but for what each part bears
(`pourcast.finish.tool_checks`) and the share of draws in which a tool may bend it
(`pourcast.finish.acts`).  A bent part can often be bent back; a small charge is a STOP.
"""

from collections.abc import Mapping, Sequence

from pourcast import units as si
from pourcast.findings import Finding, Level, in_100
from pourcast.finish.acts import BENDS_AT_MOST
from pourcast.finish.model import FinishResult, PartFinish
from pourcast.finish.patina import patina_of
from pourcast.finish.tool_checks import MODEL, listed, tool_cautions, tool_findings
from pourcast.materials import Fact, Material, Value, caution
from pourcast.speech import Heat, said

ROOM: si.Kelvin = 293.15
"""20 °C, at which the densities of the records hold."""

FACTS = (
    "divest_wet",
    "silica_dust",
    "compressed_air",
    "blast_cabinet",
    "turning_tool",
    "alloy_dust",
    "patina_colour",
    "sulphide_patina",
    "clear_coat",
)
"""Facts that `findings` asks for."""

_HARMFUL_DUST = frozenset({"lead", "zinc_oxide"})


def findings(
    result: FinishResult,
    *,
    alloy: Material,
    cut_off: Value,
    cleaning_air: Value,
    facts: Mapping[str, Fact],
) -> tuple[Finding, ...]:
    """Return what the caster should know before the casting is freed and cleaned.

    Parameters
    ----------
    result : FinishResult
    alloy : Material
        The record of the charge's alloy.
    cut_off : Value
        What is left standing on the work, ``Library.finish["cut_off"]``.
    cleaning_air : Value
        Limit of air for cleaning, ``Library.limits["compressed_air_cleaning_osha"]``.
    facts : mapping of str to Fact
        Those of `FACTS`, by key.

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    harmful = bool(_HARMFUL_DUST & set(alloy.fume))
    return (
        caution(facts["divest_wet"], "finish"),
        caution(facts["silica_dust"], "finish"),
        *_water(result.parts),
        _break_signs(),
        _map_and_cut(result, cut_off),
        *([caution(facts["alloy_dust"], "finish")] if harmful else []),
        *tool_findings(result.parts),
        *tool_cautions(result.parts, cleaning_air, facts),
        _balance(result),
        caution(facts["patina_colour"], "finish"),
        *(caution(fact, "finish") for fact in patina_of(alloy, facts)),
        *(caution(facts[key], "finish") for key in ("sulphide_patina", "clear_coat")),
    )


def _water(parts: Sequence[PartFinish]) -> tuple[Finding, ...]:
    weak = [part for part in parts if part.bent_by_water > BENDS_AT_MOST]
    if not weak:
        return ()
    worst = max(weak, key=lambda part: part.bent_by_water)
    return (
        Finding(
            stage="finish",
            key="jet-bends",
            level="WATCH",
            text=(
                f"At the break-out a jet from a hose can bend {listed(weak)} (the worst in "
                f"{in_100(worst.bent_by_water)} of 100 draws). Let the block soften in still "
                "water and swill the rest off."
            ),
            part=worst.name,
            value=100.0 * worst.bent_by_water,
            limit=100.0 * BENDS_AT_MOST,
            unit="% of draws",
            source=MODEL,
            kind="estimate",
        ),
    )


def _break_signs() -> Finding:
    return Finding(
        stage="finish",
        key="break-signs",
        level="WATCH",
        text=(
            "A part that comes off: dark faces tore while the metal froze; bright faces broke "
            "cold, from a quench too early, from brittle metal or in the break-out. Look "
            "before the faces are cleaned."
        ),
        source="common practice, no source",
        kind="common practice",
    )


def _map_and_cut(result: FinishResult, cut_off: Value) -> Finding:
    total = sum(cut.time for cut in result.cuts)
    minutes = "under 1" if total < 60.0 else f"about {total / 60.0:.0f}"
    places = ", ".join(
        (f"{cut.count} x " if cut.count > 1 else "")
        + f"{cut.place} ({_square_millimetres(cut.area)} mm²)"
        for cut in result.cuts
    )
    return Finding(
        stage="finish",
        key="map-and-cut",
        level="GOOD",
        text=(
            "Photograph the whole casting and mark each part on it before the first cut. "
            f"Saw {cut_off.low:.0f} to {cut_off.high:.0f} mm off the work and file the rest down: "
            f"{places}; {minutes} min with a hand saw."
        ),
        value=total / 60.0,
        unit="min",
        source=f"{cut_off.source}; rate of sawing: estimate",
        kind=cut_off.kind,
    )


def _square_millimetres(area: si.SquareMetre) -> str:
    size = 1e6 * area
    return f"{size:.0f}" if size >= 10.0 else f"{size:.1f}"


def _balance(result: FinishResult) -> Finding:
    metal = result.balance
    charged, lost, work, back = (
        si.from_si(mass, "g") for mass in (metal.charged, metal.lost, metal.work, metal.back)
    )
    level: Level = "GOOD"
    if metal.back <= 0.0:
        level = "STOP"
        text = f"Of {charged:.0f} g nothing would be left over: the charge does not fill the work."
    else:
        text = (
            f"Of {charged:.0f} g weighed out about {work:.0f} g stay in the work, {lost:.0f} g are "
            f"lost to skimming and splash, and {back:.0f} g come back as returns: button, feeds "
            "and vents. Weigh all of it: what is missing has leaked."
        )
    return Finding(
        stage="finish",
        key="metal-back",
        level=level,
        text=text,
        value=back,
        unit="g",
        source=said(
            "measured volume, density at {room} and contraction; loss as drawn for the charge",
            room=Heat(ROOM),
        ),
        kind="computed",
    )
