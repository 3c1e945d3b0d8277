"""Is the way in so wide that air comes up through the metal, which the pour does not follow?

By gravity gas that has no other way leaves through the block, in seconds.  Where the
passage from the gate on is wider than `pourcast.pour.rising_air.widest_held`, metal
runs down and air comes up in it, in a second or so: the time to fill that is told is
too long, and gas stops too much of what stands there.  Told where

- more than half of a part is reached from the gate through passages as wide as that
  (estimate; the tip of a lump or a taper is always narrow);
- the time told is longer than the soonest exchange of that air by rising bubbles.

Under vacuum nothing is told: metal is in before a bubble has risen by its own length.
"""

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.piece.model import RECTANGLE, ROUND, Network
from pourcast.pour.model import GAS, PourCase, PourResult
from pourcast.pour.rising_air import quickest_exchange, widest_held

_MOST = 0.5  # of a part, see above
_SOURCE = (
    "Bond number of metal over air at the contact angle: 0.842 at 180° (Bretherton 1961), more "
    "at less (Concus 1968, from memory); rise 0.35 √(g d): Davies and Taylor 1950, from memory"
)


def rising_air_findings(
    network: Network, case: PourCase, result: PourResult
) -> tuple[Finding, ...]:
    """Return what the caster should know of air that comes up through the metal.

    Parameters
    ----------
    network : Network
    case : PourCase
    result : PourResult
        From the same network and case.

    Returns
    -------
    tuple of Finding
        At most one.
    """
    if float(np.median(case.block.vacuum)) > 0.0:
        return ()
    metal = case.metal
    limits = widest_held(metal.surface_tension, metal.density, metal.contact_angle)
    limit = float(np.median(limits))
    across = np.where(
        network.section == ROUND,
        network.thickness.min(axis=1),
        np.minimum(network.width, network.thickness).min(axis=1),
    )
    wide = _reached(network, across > limit)
    volume = _volumes(network)
    part = network.member_part[network.member]
    share = np.bincount(part[wide], volume[wide], len(network.part_names)) / np.bincount(
        part, volume, len(network.part_names)
    )
    parts = np.flatnonzero(share > _MOST)
    if parts.size == 0:
        return ()
    there = np.isin(part, parts)
    # What gas held back for good never came: later than any time.
    late = np.where(result.cause[:, there] == GAS, np.inf, result.fill_time[:, there])
    told = float(np.median(np.nan_to_num(late, nan=0.0, posinf=np.inf).max(axis=1)))
    narrowest = float(across[wide].min())
    soonest = quickest_exchange(float(volume[wide].sum()), narrowest)
    if told <= soonest:
        return ()
    names = " and ".join(network.part_names[index] for index in parts)
    low, high = (si.from_si(float(end), "mm") for end in (limits.min(), limits.max()))
    by_it = "gas stops most pours there" if np.isinf(told) else f"it is full after {told:.1f} s"
    text = (
        f"The way through {names} is {si.from_si(narrowest, 'mm'):.1f} mm wide or more from the "
        f"gate on. Above {si.from_si(limit, 'mm'):.1f} mm ({low:.1f} to {high:.1f} mm) air comes "
        f"up through this metal, which this forecast does not follow: by the forecast {by_it}, by "
        f"rising air in {soonest:.1f} s at the soonest. Count on less trapped gas and a quicker "
        "pour than is told here; a vent lets the air out without bubbles in the metal."
    )
    return (
        Finding(
            stage="pour",
            key="rising-air",
            level="WATCH",
            text=text,
            part=network.part_names[parts[0]] if parts.size == 1 else None,
            value=si.from_si(narrowest, "mm"),
            limit=si.from_si(limit, "mm"),
            unit="mm",
            source=_SOURCE,
            kind="computed",
        ),
    )


def _reached(network: Network, wide: si.Booleans) -> si.Booleans:
    """Return which wide segments hang on the gate by wide segments alone."""
    nodes = np.zeros(int(max(network.start.max(), network.end.max())) + 1, dtype=bool)
    nodes[0] = True
    reached = wide & nodes[network.start]
    while True:
        nodes[network.end[reached]] = True
        onward = wide & nodes[network.start]
        if np.array_equal(onward, reached):
            return reached
        reached = onward


def _volumes(network: Network) -> si.CubicMetres:
    """Return the volume of each segment, of its middle section: up to 6 % low in a taper."""
    box = network.length * network.width.mean(axis=1) * network.thickness.mean(axis=1)
    return np.asarray(np.where(network.section == RECTANGLE, box, 0.25 * np.pi * box))
