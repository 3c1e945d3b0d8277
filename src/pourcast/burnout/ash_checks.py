"""Ash checks: where ash lies, whether air gets it out, and what char did to the block."""

import numpy as np

from pourcast import units as si
from pourcast.burnout.ash import ash_places
from pourcast.burnout.block_checks import SELDOM
from pourcast.burnout.model import BurnoutCase, BurnoutResult
from pourcast.burnout.sulphate import sulphate_reacted
from pourcast.findings import Finding, Level, figures, in_100_draws
from pourcast.materials import Value
from pourcast.piece.model import Network
from pourcast.speech import Heat, said

MUCH_FILL = 0.05
"""Share of a passage that loose ash takes from which it is told; estimate."""

MUCH_SULPHATE = 0.01
"""Share of the sulphate beside char that has reacted from which it is told; estimate."""

BURN_OUT_BELOW = 973.15  # K, 700 °C
"""Under which char is burnt out before the top; common practice, no source."""

_MOST_NAMED = 4


def ash_findings(
    network: Network,
    case: BurnoutCase,
    result: BurnoutResult,
    *,
    activation: Value,
    log10_rate: Value,
) -> tuple[Finding, ...]:
    """Return what the caster should know of ash and of gas from the block.

    Parameters
    ----------
    network : Network
        As it hangs at the pour.
    case : BurnoutCase
    result : BurnoutResult
    activation, log10_rate : Value
        Of sulphate with carbon, `Library.investment` "chemistry"; their middles are taken.

    Returns
    -------
    tuple of Finding
    """
    found = [_ash(network, case, result), _sulphate(result, activation, log10_rate)]
    return tuple(finding for finding in found if finding is not None)


def _ash(network: Network, case: BurnoutCase, result: BurnoutResult) -> Finding | None:
    fate = result.fate
    if not fate.ash.any():
        return None
    places = ash_places(network, fate.ash, case.burning.ash_bulk_density)
    fill = np.median(places.fill, axis=0)
    volume = si.from_si(float(np.median(fate.ash_volume)), "cm3")
    part_of = network.member_part[network.member]
    fullest = {
        name: float(fill[part_of == part].max())
        for part, name in enumerate(network.part_names)
        if (part_of == part).any()
    }
    full = [name for name, share in fullest.items() if share >= MUCH_FILL]
    text = f"The original leaves about {figures(volume, 2)} cm³ of loose ash"
    if not full:
        return Finding(
            stage="burnout",
            key="ash-thin",
            level="GOOD",
            text=f"{text}, spread thin over the cavity.",
            value=volume,
            unit="cm³",
            source="ash of the organ and its loose density; estimate",
        )
    worst = max(full, key=fullest.__getitem__)
    # What is heaped over the brim of a passage lies in the next: none is fuller than full.
    taken = min(fullest[worst], 1.0)
    out_of_reach = [
        name
        for part, name in enumerate(network.part_names)
        if name in full and not places.blown[part_of == part].all()
    ]
    pockets = {
        network.part_names[part_of[segment]] for segment in np.flatnonzero(places.pocket)
    } & set(full)
    way = "closes the way" if taken == 1.0 else f"takes {100.0 * taken:.0f} % of the way"
    text += f"; it heaps in {_listed(full)}, and {way} at one place of {worst}."
    if pockets:
        text += f" With the gate down it lies in low places of {_listed(sorted(pockets))}."
    if out_of_reach:
        text += (
            f" Short puffs of air from the gate do not reach all of {_listed(out_of_reach)}: "
            "turn the flask and tap it, or hang the piece so that these run down to the gate."
        )
    else:
        text += " Short puffs of air from the gate reach it; mouth down, then 20 min in the kiln."
    return Finding(
        stage="burnout",
        key="ash-left",
        level="WATCH",
        text=text,
        part=worst,
        value=100.0 * taken,
        limit=100.0 * MUCH_FILL,
        unit="% of the way",
        source="ash of the organ, loose density, and where it slides; estimate",
    )


def _sulphate(result: BurnoutResult, activation: Value, log10_rate: Value) -> Finding | None:
    """Return how much of the block beside the char broke down; None where it is little."""
    reacted = sulphate_reacted(result.heat, result.fate, activation.si, log10_rate.si)
    much = float((reacted >= MUCH_SULPHATE).mean())
    if much < SELDOM:
        return None
    usual = 100.0 * float(np.percentile(reacted, 90.0))
    level: Level = "WATCH"
    return Finding(
        stage="burnout",
        key="sulphate-lost",
        level=level,
        text=said(
            "In {often} of 100 burnouts more than {limit} % of the sulphate that char touches "
            "breaks down ({usual} % at the 90th percentile): rough skin there, and sulphur "
            "dioxide. Burn the char out below {below} before the top.",
            often=in_100_draws(much),
            limit=f"{100 * MUCH_SULPHATE:.0f}",
            usual=f"{usual:.1f}",
            below=Heat(BURN_OUT_BELOW),
        ),
        value=usual,
        limit=100.0 * MUCH_SULPHATE,
        unit="%",
        source=activation.source,
        kind=activation.kind,
    )


def _listed(names: list[str]) -> str:
    shown = ", ".join(names[:_MOST_NAMED])
    more = len(names) - _MOST_NAMED
    return f"{shown} and {more} more" if more > 0 else shown
