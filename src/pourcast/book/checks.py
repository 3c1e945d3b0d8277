"""Checks: is there stock enough for a pour, and for the one after?"""

from collections.abc import Iterable

from pourcast.book.holdings import Lot, Settings
from pourcast.book.model import KeptPlan
from pourcast.book.stock import grams
from pourcast.findings import Finding, Level

STAGE = "book"

POURS_AHEAD = 2
"""Below so many pours of a plan, stock counts as low; an estimate."""


def findings(
    lots: Iterable[Lot], settings: Settings, plan: KeptPlan | None = None
) -> tuple[Finding, ...]:
    """Return what the stock says: too little for a plan, low, or wrong in the book.

    Parameters
    ----------
    lots : iterable of Lot
    settings : Settings
        With the masses below which the caster wants to be told.
    plan : KeptPlan or None
        The next pour; None: only the limits of the caster are looked at.
    """
    held = tuple(lots)
    made = [_below_nothing(lot) for lot in held if lot.balance_mg < 0]
    for kind, least in settings.least_mg.items():
        left = sum(lot.balance_mg for lot in held if lot.kind == kind)
        if left < least:
            made.append(_under_own_limit(kind, left, least))
    if plan is not None:
        made += _enough(held, "metal", plan.alloy, plan.metal_mg)
        made += _enough(held, "powder", plan.powder, plan.powder_mg)
    return tuple(made)


def _enough(lots: tuple[Lot, ...], kind: str, material: str, needed: int) -> list[Finding]:
    fitting = [lot for lot in lots if lot.kind == kind and lot.material == material]
    left = sum(lot.balance_mg for lot in fitting)
    said = f"{_about(left)} g of {material} are left by the book, and the pour takes"
    level: Level = "GOOD"
    if left < needed:
        level = "STOP"
    elif left < POURS_AHEAD * needed:
        level = "WATCH"
    words = {
        "GOOD": f"{said} {_about(needed)} g.",
        "WATCH": f"{said} {_about(needed)} g: not enough for a second one. Order {kind}.",
        "STOP": f"{said} {_about(needed)} g. Weigh what is there before anything is burnt.",
    }
    limit = needed if level == "STOP" else POURS_AHEAD * needed
    return [
        Finding(
            stage=STAGE,
            key="stock-for-pour",
            level=level,
            text=words[level],
            value=left / 1000,
            limit=limit / 1000,
            unit="g",
            source="what the forecast weighs out"
            + ("" if level == "STOP" else f", {POURS_AHEAD} pours of it"),
            kind="computed" if level == "STOP" else "estimate",
        )
    ]


def _about(mass_mg: int) -> str:
    """Return a mass as a scale of the trade shows it: whole grams, tenths below ten."""
    grams_of_it = mass_mg / 1000
    return (
        f"{grams_of_it:.0f}"
        if abs(grams_of_it) >= 10.0
        else f"{grams_of_it:.1f}".rstrip("0").rstrip(".")
    )


def _under_own_limit(kind: str, left: int, least: int) -> Finding:
    return Finding(
        stage=STAGE,
        key="stock-low",
        level="WATCH",
        text=f"{grams(left)} g of {kind} are left; you wanted to be told below {grams(least)} g.",
        value=left / 1000,
        limit=least / 1000,
        unit="g",
        source="your own limit, in the settings of the book",
        kind="common practice",
    )


def _below_nothing(lot: Lot) -> Finding:
    return Finding(
        stage=STAGE,
        key="ledger-below-nothing",
        level="WATCH",
        text=f"The ledger of {lot.name} stands at {grams(lot.balance_mg)} g, which cannot be. "
        "Weigh what is there and enter it as found.",
        value=lot.balance_mg / 1000,
        limit=0.0,
        unit="g",
        source="there is no mass below nothing",
        kind="computed",
    )
