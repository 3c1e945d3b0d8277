"""How an unknown is drawn from its range.

A value comes with a low and a high end and a kind of evidence.  The rule from
these to a distribution:

1. The value is the median: half of the draws lie on each side of it.
2. Nothing falls outside low to high.
3. Published and computed values lean to the value: the density of each side
   falls in a straight line from the value to 0 at the end.  The other kinds are
   flat on each side.
4. Where low is above 0 and high is more than 3 times low, all in SI, rules 1 to
   3 hold for the logarithm.

With s the share of its side that a draw leaves behind, s = 2 |u - 1/2|, and w
the width of that side, the distance from the value is

    flat:     w s                                                           (1)
    leaning:  w (1 - sqrt(1 - s))                                           (2)

A side without width puts its half of the draws on the value.

Each unknown has its own stream of u, made from the seed and the unknown's name:
a further unknown does not shift the others, and the first draws are the same
however many are made.  Values that belong together are tied, see `TIES`; the
pair of the char law lies on a line, see `char_log10_a`.

Left out: any tie that is not listed.  Values that move together in truth, and
are drawn apart, make the spread of the forecast wider or narrower than it is.

Source of the rules: estimate; no study of such ranges stands behind them.
"""

import itertools
import zlib
from collections.abc import Mapping
from typing import Annotated, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_finite
from pourcast.materials.model import Value

ArrayInSI: TypeAlias = Annotated[si.Floats, si.Unit("SI")]
"""Numbers in SI; which unit of SI, the record of the value says."""

LOGARITHM_ABOVE = 3.0  # high over low from which rule 4 holds; estimate

TIES: dict[str, tuple[str, int]] = {
    # A richer melt freezes lower from the first crystal to the last.
    "liquidus": ("freezing", 1),
    "fs50": ("freezing", 1),
    "fs70": ("freezing", 1),
    "fs90": ("freezing", 1),
    "solidus": ("freezing", 1),
    # The denser the liquid, the less it shrinks on its way to the same solid.
    "density_liquid": ("shrinking", 1),
    "shrink_solidification": ("shrinking", -1),
    # Effusivity goes with the root of the conductivity of the same block.
    "effusivity_burnt": ("conduction", 1),
    "k_wet_20": ("conduction", 1),
    "k_set_dry_20": ("conduction", 1),
    "k_burnt_200": ("conduction", 1),
    "k_burnt_400": ("conduction", 1),
    "k_burnt_600": ("conduction", 1),
    "k_burnt_700": ("conduction", 1),
    "k_burnt_900": ("conduction", 1),
    "k_burnt_1000": ("conduction", 1),
    # The measured start of the reaction fixes the pair far better than each of the two.
    "sulphate_carbon_E": ("sulphate", 1),
    "sulphate_carbon_log10_A": ("sulphate", 1),
}
"""Last part of a key: the tie it belongs to, and +1 or -1 for which way it moves.

Values of one tie share their u, or move against it, where they are of one material.
"""

_FREEZING_ORDER = ("liquidus", "fs50", "fs70", "fs90", "solidus")
_FREEZING_STEP = 1.0  # K, least distance from one to the next; estimate


def quantile(value: Value, share: si.Ratios) -> ArrayInSI:
    """Return the number below which a share of the draws of a value lies.

    Parameters
    ----------
    value : Value
    share : array [-], any shape; 0 to 1

    Returns
    -------
    array [SI], shape of ``share``
        From ``value.si_low`` to ``value.si_high``.

    Raises
    ------
    InputError
        If a share is outside 0 to 1.
    """
    require_between("share", share, "", 0.0, 1.0)
    low, middle, high = value.si_low, value.si, value.si_high
    logarithm = low > 0.0 and high > LOGARITHM_ABOVE * low
    ends = np.array([low, middle, high])
    bottom, centre, top = np.log(ends) if logarithm else ends
    offset = 2.0 * np.asarray(share, dtype=float) - 1.0
    way = np.abs(offset)
    if value.kind in ("published", "computed"):
        way = 1.0 - np.sqrt(1.0 - way)
    drawn = centre + way * np.where(offset < 0.0, bottom - centre, top - centre)
    # The logarithm and back can lie a rounding outside.
    inside: ArrayInSI = np.clip(np.exp(drawn) if logarithm else drawn, low, high)
    return inside


def draw(
    unknowns: Mapping[str, Value],
    count: int,
    seed: int,
    *,
    ties: Mapping[str, tuple[str, int]] = TIES,
) -> dict[str, ArrayInSI]:
    """Return draws of each unknown.

    Parameters
    ----------
    unknowns : mapping of str to Value
        Under the names that the draws shall have.
    count : int
        How many; 1 or more.
    seed : int
        0 or more.  The same seed gives the same draws.
    ties : mapping, optional
        As `TIES`.

    Returns
    -------
    dict of str to array [SI], shape (count,)
        In the order of ``unknowns``.

    Raises
    ------
    InputError
        If ``count`` or ``seed`` is outside its limits, or the frequency factor of
        the char law is drawn without its activation energy.
    """
    if count < 1:
        raise InputError("count", count, "", "1 or more")
    if seed < 0:
        raise InputError("seed", seed, "", "0 or more")
    drawn = {}
    for name, value in unknowns.items():
        tie, sign = ties.get(value.name, ("", 1))
        share = _shares(f"{value.owner}/{tie}" if tie else name, count, seed)
        drawn[name] = quantile(value, share if sign > 0 else 1.0 - share)
    _put_on_char_line(unknowns, drawn)
    if "liquidus" in ties:
        _keep_freezing_order(unknowns, drawn)
    return drawn


def char_log10_a(activation_energy: Annotated[si.Floats, si.Unit("J/mol")]) -> si.Ratios:
    """Return the frequency factor of the char law that goes with an energy.

    The burn-off that was measured fixes the pair far better than each of the two:
    log10 A = 6.45 + 0.0726 (E / 1000 - 120).

    Parameters
    ----------
    activation_energy : array [J/mol]

    Returns
    -------
    array [-]
        Logarithm to base 10 of the frequency factor in 1/s at 0.20 bar of oxygen.

    Notes
    -----
    Source: fits to the burn-off of pine char in 20 % oxygen at 5 and 10 K/min,
    MaCFP open wood data, with energies from 120 to 220 kJ/mol; computed.
    """
    require_finite("activation_energy", activation_energy, "J/mol")
    return 6.45 + 0.0726 * (np.asarray(activation_energy, dtype=float) / 1000.0 - 120.0)


def _shares(name: str, count: int, seed: int) -> si.Ratios:
    stream = np.random.SeedSequence([seed, zlib.crc32(name.encode())])
    return np.random.Generator(np.random.PCG64(stream)).random(count)


def _put_on_char_line(unknowns: Mapping[str, Value], drawn: dict[str, ArrayInSI]) -> None:
    by_key = {value.key: name for name, value in unknowns.items()}
    factor = by_key.get("kiln.char_log10_A")
    if factor is None:
        return
    energy = by_key.get("kiln.char_E")
    if energy is None:
        raise InputError("unknowns", factor, "", "drawn together with char_E")
    value = unknowns[factor]
    drawn[factor] = np.clip(char_log10_a(drawn[energy]), value.si_low, value.si_high)


def _keep_freezing_order(unknowns: Mapping[str, Value], drawn: dict[str, ArrayInSI]) -> None:
    """Hold each temperature of a freezing range under the one before it.

    Ranges of one alloy come from several sources and can cross at their ends.
    A pure metal, whose middle values are equal, keeps them equal.
    """
    owners = {value.owner for value in unknowns.values() if value.name == "liquidus"}
    for owner in owners:
        names = {value.name: name for name, value in unknowns.items() if value.owner == owner}
        chain = [names[part] for part in _FREEZING_ORDER if part in names]
        for upper, lower in itertools.pairwise(chain):
            step = _FREEZING_STEP if unknowns[upper].value > unknowns[lower].value else 0.0
            drawn[lower] = np.minimum(drawn[lower], drawn[upper] - step)
