"""Fan outcome: how far each strip has run, as shares of its length."""

from collections.abc import Sequence

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.learn.fan import RUNNER
from pourcast.sheet.model import Plan
from pourcast.trade_units import read

WHOLE = 0.95
"""Share of its length from which a strip counts as whole; as for any part."""

_MOST = 1.05
"""Share that a rule may read of a strip that is whole; estimate."""


def ran_parts(plan: Plan, ran: Sequence[str]) -> list[tuple[str, bool, si.Ratio]]:
    """Return name, whether it is whole, and the share of its length, of each that is named.

    Parameters
    ----------
    plan : Plan
        Of the fan.
    ran : sequence of str
        Such as "rod 0.5=23 mm"; "rod 0.5=0" has not filled at all.

    Raises
    ------
    InputError
        If a strip is not one of the fan, is told twice, or has run farther than it is long.
    """
    lengths = {part.name: part.length for part in plan.piece.parts if part.name != RUNNER}
    found: dict[str, tuple[bool, float]] = {}
    for each in ran:
        name, mark, far = (text.strip() for text in each.partition("="))
        if not mark or name not in lengths:
            must = 'as "NAME=LENGTH", with NAME one of ' + ", ".join(lengths)
            raise InputError("strip", each[:40], "", must)
        if name in found:
            raise InputError("strip", name, "", "told once")
        run = 0.0 if far == "0" else read(far, "length", default_unit="mm")
        share = run / lengths[name]
        if not 0.0 <= share <= _MOST:
            most = si.from_si(lengths[name], "mm")
            raise InputError(name, far, "", f"0 to {most:g} mm, the length that was cut")
        found[name] = (share >= WHOLE, min(share, 1.0))
    return [(name, whole, share) for name, (whole, share) in found.items()]
