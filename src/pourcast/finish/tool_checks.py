"""Which tools does each part bear, what bends first, and what can hurt where they are used?"""

from collections.abc import Mapping, Sequence
from typing import get_args

from pourcast import units as si
from pourcast.findings import Finding, in_100
from pourcast.finish.model import Act, PartFinish
from pourcast.materials import Fact, Value, caution

MODEL = "beam theory on the measured sizes; yield strength and pushes drawn over their ranges"
"""Behind what a part bears."""

_ROUGHNESS = get_args(Act)

_TOOL: Mapping[Act, str] = {
    "wheel": "turning wheel",
    "hand brush": "hand brush",
    "pressure blast": "pressure blast",
    "light blast only": "light blast from afar",
}
"""Act, from the roughest: the tool in words."""


def _hung(force: si.Newton) -> str:
    grams = si.from_si(force / si.GRAVITY, "g")
    return f"{grams:.0f} g" if grams < 100.0 else f"{10.0 * round(grams / 10.0):.0f} g"


def tool_findings(parts: Sequence[PartFinish]) -> tuple[Finding, ...]:
    """Return what each part bears, and which bend where nobody pushes.

    Parameters
    ----------
    parts : sequence of PartFinish

    Returns
    -------
    tuple of Finding
    """
    return (*_acts(parts), *_weak_roots(parts), *_slender(parts))


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
    text = f"{listed(parts)} {verb} "
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
        key="tools-borne",
        level="GOOD" if worst.act in ("wheel", "hand brush") else "WATCH",
        text=f"{text[:1].upper()}{text[1:]}.",
        part=parts[0].name if len(parts) == 1 else None,
        value=worst.tip_force,
        unit="N",
        source=MODEL,
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
            key="bends-elsewhere",
            level="WATCH",
            text=(
                f"A push on the tip of {listed(carried)} bends the {root} first: hold the {root} "
                f"there while {_they(carried)} cleaned."
            ),
            part=root,
            value=min(part.tip_force for part in carried),
            unit="N",
            source=MODEL,
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
            key="bows-out",
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


def tool_cautions(
    parts: Sequence[PartFinish], cleaning_air: Value, facts: Mapping[str, Fact]
) -> tuple[Finding, ...]:
    """Return what can hurt where these tools are used.

    Parameters
    ----------
    parts : sequence of PartFinish
    cleaning_air : Value
        Limit of air for cleaning.
    facts : mapping of str to Fact

    Returns
    -------
    tuple of Finding
    """
    used = {act for part in parts for act in part.allowed}
    air = facts["compressed_air"]
    found = [
        Finding(
            stage="finish",
            key="caution-compressed-air",
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


def _they(parts: Sequence[PartFinish]) -> str:
    return "they are" if len(parts) > 1 or parts[0].members > 1 else "it is"


def listed(parts: Sequence[PartFinish]) -> str:
    """Return the names of parts as a sentence has them."""
    return _and([part.name for part in parts])


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
