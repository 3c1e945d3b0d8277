"""Limits: what does each part bear, draw by draw, with the true thickness of each member?

If a member is f times as thick and as wide as measured, its section modulus is
f³ times and its second moment f⁴ times as large, and its face f times as broad.
So with the rows of `pourcast.finish.chain`, each a member b that bears a load
on a member m,

    force       F = σ · least over b of (tip · f_b³)                       (1)
    pressure    p = σ · least over b of (face · f_b³) / f_m                (2)
    deflection  δ = F/E · sum over b of (give / f_b⁴),
                    p/E · sum over b of (face_give · f_m / f_b⁴)           (3)
    end         P = least of E · K · f_m⁴ and σ · A · f_m²                 (4)

Of each part the worst member counts, in each draw anew.  A part bears no more
pressure than the parts that it grows on: no blast meets it alone.  The push of
the brush or the blast in (3) ends where something yields.

Source: geometry.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_not_negative, require_positive
from pourcast.finish import buckling
from pourcast.finish.model import Bearers, Limits, Loads, Strength
from pourcast.piece.model import Network


def part_limits(
    network: Network,
    rows: Bearers,
    strength: Strength,
    section_scale: si.Ratios,
    loads: Loads,
) -> Limits:
    """Return what the worst member of each part bears.

    Parameters
    ----------
    network : Network
    rows : Bearers
        Of this network.
    strength : Strength
    section_scale : array [-], shape (draws, members)
        > 0.
    loads : Loads
        Hand brush and light blast, for the deflections.

    Returns
    -------
    Limits

    Raises
    ------
    InputError
        If a value is not above 0, or the shapes do not go together.
    """
    draws = _draws(network, strength, section_scale, loads)
    stiffness, section = buckling.of_parts(network)
    yields = strength.yield_strength[:, None]
    parts = len(network.part_names)
    tip, middle, end, face, moved, swayed = (np.empty((draws, parts)) for _ in range(6))
    for part in range(parts):
        chosen = np.flatnonzero(network.member_part[rows.loaded] == part)
        starts = np.flatnonzero(np.diff(rows.loaded[chosen], prepend=-1))
        scale = section_scale[:, rows.bearer[chosen]]
        own = section_scale[:, network.member_part == part]
        cube = scale**3
        across = np.minimum.reduceat(rows.tip[chosen] * cube, starts, axis=1)
        tip[:, part] = across.min(axis=1)
        middle[:, part] = _worst(rows.middle[chosen] * cube, starts)
        spread = cube / section_scale[:, rows.loaded[chosen]]
        flat = np.minimum.reduceat(rows.face[chosen] * spread, starts, axis=1)
        face[:, part] = flat.min(axis=1)
        for under in set(network.member_part[rows.bearer[chosen]].tolist()) - {part}:
            # A blast is far wider than a part: it meets what the part grows on too.
            face[:, part] = np.minimum(face[:, part], face[:, under])
        give = np.add.reduceat(rows.give[chosen] / scale**4, starts, axis=1)
        push = np.minimum(loads.hand_brush[:, None], yields * across)
        moved[:, part] = (push * give).max(axis=1)
        broad = section_scale[:, rows.loaded[chosen]]
        sway = np.add.reduceat(rows.face_give[chosen] * broad / scale**4, starts, axis=1)
        swayed[:, part] = (np.minimum(loads.light_blast[:, None], yields * flat) * sway).max(axis=1)
        thin = own.min(axis=1)
        end[:, part] = np.minimum(
            strength.youngs_modulus * stiffness[part] * thin**4,
            strength.yield_strength * section[part] * thin**2,
        )
    return Limits(
        tip_force=yields * tip,
        middle_force=yields * middle,
        end_force=end,
        pressure=yields * face,
        deflection=moved / strength.youngs_modulus[:, None],
        blast_deflection=swayed / strength.youngs_modulus[:, None],
    )


def first_to_bend(network: Network, rows: Bearers) -> tuple[str, ...]:
    """Return for each part the one that bends first under a push on its tip, as measured.

    Parameters
    ----------
    network : Network
    rows : Bearers

    Returns
    -------
    tuple of str
        Names of parts, in the order of ``network.part_names``.
    """
    part = network.member_part[rows.loaded]
    names = []
    for index in range(len(network.part_names)):
        chosen = np.flatnonzero(part == index)
        worst = rows.bearer[chosen[rows.tip[chosen].argmin()]]
        names.append(network.part_names[network.member_part[worst]])
    return tuple(names)


def _worst(borne: si.Floats, starts: si.Integers) -> si.Floats:
    """Return the least over bearers and then members, draw by draw."""
    return np.asarray(np.minimum.reduceat(borne, starts, axis=1).min(axis=1))


def _draws(network: Network, strength: Strength, section_scale: si.Ratios, loads: Loads) -> int:
    """Return how many draws there are; refuse what does not go together."""
    draws = len(strength.yield_strength)
    require_positive("yield_strength", strength.yield_strength, "Pa")
    require_positive("youngs_modulus", strength.youngs_modulus, "Pa")
    require_positive("section_scale", section_scale, "")
    require_not_negative("hand_brush", loads.hand_brush, "N")
    require_not_negative("light_blast", loads.light_blast, "Pa")
    wanted = (draws, network.member_part.size)
    if np.shape(section_scale) != wanted:
        raise InputError("section_scale", np.shape(section_scale), "", f"of shape {wanted}")
    counts = {len(strength.youngs_modulus), len(loads.hand_brush), len(loads.light_blast)}
    if counts != {draws}:
        raise InputError("draws", sorted(counts), "", f"{draws}, as of the yield strength")
    return draws
