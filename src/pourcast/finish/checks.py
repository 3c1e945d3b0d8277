"""What may touch each part, where is it cut, what comes back, and what can hurt?

Every limit and sentence of the finishing, but for the share of draws in which a tool may
bend a part: `pourcast.finish.acts`.  A bent part can often be bent back; a small charge is a STOP.
"""

from collections.abc import Mapping, Sequence
from typing import get_args

from pourcast import units as si
from pourcast.findings import Finding, Level, in_100
from pourcast.finish.acts import BENDS_AT_MOST
from pourcast.finish.model import Act, FinishResult, PartFinish
from pourcast.finish.patina import patina_of
from pourcast.materials import Fact, Material, Value, caution

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

_MODEL = "beam theory on the measured sizes; yield strength and pushes drawn over their ranges"
_ROUGHNESS = get_args(Act)
_HARMFUL_DUST = frozenset({"lead", "zinc_oxide"})

_TOOL: Mapping[Act, str] = {
    "wheel": "turning wheel",
    "hand brush": "hand brush",
    "pressure blast": "pressure blast",
    "light blast only": "light blast from afar",
}
"""Act, from the roughest: the tool in words."""


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
        *_acts(result.parts),
        *_weak_roots(result.parts),
        *_slender(result.parts),
        *_tool_cautions(result.parts, cleaning_air, facts),
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
            level="WATCH",
            text=(
                f"At the break-out a jet from a hose can bend {_listed(weak)} (the worst in "
                f"{in_100(worst.bent_by_water)} of 100 draws). Let the block soften in still "
                "water and swill the rest off."
            ),
            part=worst.name,
            value=100.0 * worst.bent_by_water,
            limit=100.0 * BENDS_AT_MOST,
            unit="% of draws",
            source=_MODEL,
            kind="estimate",
        ),
    )


def _break_signs() -> Finding:
    return Finding(
        stage="finish",
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


def _hung(force: si.Newton) -> str:
    grams = si.from_si(force / si.GRAVITY, "g")
    return f"{grams:.0f} g" if grams < 100.0 else f"{10.0 * round(grams / 10.0):.0f} g"


def _acts(parts: Sequence[PartFinish]) -> tuple[Finding, ...]:
    """Return one finding for all parts that bear the same tools, the strongest first."""
    alike: dict[tuple[Act, ...], list[PartFinish]] = {}
    for part in sorted(parts, key=lambda part: _ROUGHNESS.index(part.act)):
        alike.setdefault(part.allowed, []).append(part)
    return tuple(_act(group) for group in alike.values())


def _act(parts: Sequence[PartFinish]) -> Finding:
    worst = min(parts, key=lambda part: part.tip_force)
    borne = [tool for act, tool in _TOOL.items() if act in worst.allowed]
    refused = {tool: worst.bent[act] for act, tool in _TOOL.items() if act not in worst.allowed}
    verb = "bears" if len(parts) == 1 else "bear"
    text = f"{_listed(parts)} {verb} "
    if not borne:
        text += "no tool at all: leave as it comes out of the water"
    else:
        text += _and([f"a {tool}" for tool in borne])
        text += f", but {_and([f'no {tool}' for tool in refused])}" if refused else ""
    if refused:
        shares = _and([f"a {tool} in {in_100(share)}" for tool, share in refused.items()])
        text += (
            f". Of 100 draws {shares} bend{'s' if len(refused) == 1 else ''} {worst.name}, which "
            f"yields at {worst.tip_force:.1f} N on its tip ({_hung(worst.tip_force)} hung there)"
        )
    return Finding(
        stage="finish",
        level="GOOD" if worst.act in ("wheel", "hand brush") else "WATCH",
        text=f"{text[:1].upper()}{text[1:]}.",
        part=parts[0].name if len(parts) == 1 else None,
        value=worst.tip_force,
        unit="N",
        source=_MODEL,
        kind="estimate",
    )


def _weak_roots(parts: Sequence[PartFinish]) -> tuple[Finding, ...]:
    """Return which parts bend another one first when their tips are pushed."""
    by_root: dict[str, list[PartFinish]] = {}
    for part in parts:
        if part.bends_at != part.name and part.act != "wheel":
            by_root.setdefault(part.bends_at, []).append(part)
    return tuple(
        Finding(
            stage="finish",
            level="WATCH",
            text=(
                f"A push on the tip of {_listed(carried)} bends the {root} first: hold the {root} "
                f"there while {_they(carried)} cleaned."
            ),
            part=root,
            value=min(part.tip_force for part in carried),
            unit="N",
            source=_MODEL,
            kind="computed",
        )
        for root, carried in by_root.items()
    )


def _slender(parts: Sequence[PartFinish]) -> tuple[Finding, ...]:
    """Return which parts are weaker under a push on the end than across it, or nearly so."""
    weak = [part for part in parts if part.end_force < 2.0 * part.tip_force_low]
    return tuple(
        Finding(
            stage="finish",
            level="WATCH",
            text=(
                f"A push of {part.end_force:.1f} N on its end bows the {part.name} out: brush "
                "along it from the root to the tip, never against the tip."
            ),
            part=part.name,
            value=part.end_force,
            unit="N",
            source="column theory on the measured sizes",
            kind="computed",
        )
        for part in weak
    )


def _tool_cautions(
    parts: Sequence[PartFinish], cleaning_air: Value, facts: Mapping[str, Fact]
) -> tuple[Finding, ...]:
    used = {act for part in parts for act in part.allowed}
    air = facts["compressed_air"]
    found = [
        Finding(
            stage="finish",
            level="WATCH",
            text=air.text,
            limit=cleaning_air.value,
            unit=cleaning_air.unit,
            source=cleaning_air.source,
            kind=cleaning_air.kind,
        )
    ]
    if used & {"pressure blast", "light blast only"}:
        found.append(caution(facts["blast_cabinet"], "finish"))
    if "wheel" in used:
        found.append(caution(facts["turning_tool"], "finish"))
    return tuple(found)


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
        level=level,
        text=text,
        value=back,
        unit="g",
        source="measured volume, density at 20 °C and contraction; loss as drawn for the charge",
        kind="computed",
    )


def _they(parts: Sequence[PartFinish]) -> str:
    return "they are" if len(parts) > 1 or parts[0].members > 1 else "it is"


def _listed(parts: Sequence[PartFinish]) -> str:
    return _and([part.name for part in parts])


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
