"""What should be done about the water that an original drinks or has lost?

Findings only: no shape is changed by them.  Practice disagrees on fresh or dry:
a fresh original keeps its shape, a dry one saves steam and hours.
"""

from collections.abc import Mapping, Sequence

from pourcast.findings import Finding
from pourcast.materials import Material, Value
from pourcast.mould.model import PartSlurry, PartWater, State

GROWS = 0.02e-3
"""Growth across from which it is spoken of [m]; estimate: what the set block bears is less."""

DRINKS = ("woody_stem", "seed_head", "cone")
"""Organs that are stiff enough, when dry, to crack the fresh mould; common practice."""


def water_findings(
    water: Sequence[PartWater],
    state: State | None,
    *,
    plants: Mapping[str, Material],
    seal: Value,
    slurry: Sequence[PartSlurry] = (),
) -> tuple[Finding, ...]:
    """Return what the caster should know of water in the original.

    Parameters
    ----------
    water : sequence of PartWater
    state : {"dry", "fresh", "soaked"} or None
    plants : mapping of str to Material
        `Library.plants`.
    seal : Value
        ``Library.coatings["water_seal_hours"]``.
    slurry : sequence of PartSlurry
        For how far limp parts would lean; may be empty.

    Returns
    -------
    tuple of Finding
    """
    return (
        *_swelling(water, plants, seal),
        *_wilting(water, plants["general"]["wilted_softening"], slurry),
        *_soaked(state, water),
    )


def _swelling(
    water: Sequence[PartWater], plants: Mapping[str, Material], seal: Value
) -> tuple[Finding, ...]:
    drinkers = [
        part
        for part in water
        if part.grows is not None and part.grows > GROWS and part.organ in DRINKS
    ]
    if not drinkers:
        return ()
    worst = max(drinkers, key=lambda part: part.grows or 0.0)
    strain = plants[worst.organ]["swelling"]
    names = ", ".join(part.name for part in drinkers)
    text = (
        f"Dry and thirsty: {names}. Soaked through, {worst.name} would grow by "
        f"{1e3 * (worst.grows or 0.0):.2f} mm across ({strain.low:g} to {strain.high:g} %); the "
        "fresh mould bears a few hundredths of a per cent, so it cracks or its face is rubbed off. "
        f"Seal it: a coat keeps the water out for about {seal.low:g} to {seal.high:g} h, long "
        "enough to set. Or soak it first, invest it wet and dry the block slowly: that carries "
        "more water to be driven out."
    )
    if any(part.organ == "cone" for part in drinkers):
        text += " A cone also closes its scales when it is wet: seal it, or soak and pose it."
    return (
        Finding(
            stage="mould",
            key="drinks-water",
            level="WATCH",
            text=text,
            part=worst.name,
            value=1e3 * (worst.grows or 0.0),
            limit=1e3 * GROWS,
            unit="mm",
            source=f"{strain.source}; growth that the set block bears: estimate",
            kind=strain.kind,
        ),
    )


def _wilting(
    water: Sequence[PartWater], softening: Value, slurry: Sequence[PartSlurry]
) -> tuple[Finding, ...]:
    fresh = [part for part in water if part.wilts_in is not None]
    if not fresh:
        return ()
    first = min(fresh, key=lambda part: part.wilts_in or 0.0)
    hours = (first.wilts_in or 0.0) / 3600.0
    text = (
        f"Fresh: keep it in water until it is used, and invest it within about {hours:.1f} h of "
        f"lying dry; {first.name} wilts first. Limp tissue is {softening.low:g} to "
        f"{softening.high:g} times softer than turgid, and leans as many times further"
    )
    lean = next((part.lean for part in slurry if part.name == first.name), None)
    if lean is not None:
        text += f" than the {100.0 * lean:.1f} % of its length that it leans now"
    lost = max((part.lost for part in fresh if part.lost is not None), default=None)
    if lost is not None:
        text += f". By now it has lost about {100.0 * lost:.0f} % of its mass"
    return (
        Finding(
            stage="mould",
            key="wilts",
            level="WATCH",
            text=text + ".",
            part=first.name,
            value=hours,
            unit="h",
            source=f"{softening.source}; loss of water by the hour: estimate",
            kind="estimate",
        ),
    )


def _soaked(state: State | None, water: Sequence[PartWater]) -> tuple[Finding, ...]:
    if state != "soaked" or not water:
        return ()
    return (
        Finding(
            stage="mould",
            key="soaked",
            level="WATCH",
            text=(
                "Soaked: it drinks nothing more and does not swell, but it is as soft as when it "
                "was fresh, and its water must leave the block slowly before any ramp. Out of "
                "spirit, let it lie in moving air, far from flames, until no smell is left: the "
                "vapour takes fire, and most of all in a kiln."
            ),
            source="common practice, no source",
            kind="common practice",
        ),
    )
