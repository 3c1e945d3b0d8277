"""Money of the book on a terminal: what was entered, what an attempt cost, what holds."""

from collections.abc import Sequence
from decimal import Decimal

from pourcast.book.costs import AttemptCost, Weighed, rounded
from pourcast.book.holdings import Cost, Settings
from pourcast.book.stock import grams
from pourcast.cli.show_book import chance
from pourcast.page.figures import clean


def cost_lines(
    cost: AttemptCost, weighed: Weighed | None, currency: str, entered: Sequence[Cost] = ()
) -> list[str]:
    """Return what was entered for an attempt, what it cost and what a whole piece comes to."""
    named = (
        ("metal taken", cost.metal_taken),
        ("metal that came back", -cost.metal_returned),
        ("powder", cost.powder),
        ("wax", cost.wax),
        ("gas and power", cost.energy),
        ("hours", cost.hours),
        ("other", cost.other),
        ("this attempt", cost.total),
    )
    wide = max(len(f"{rounded(value, currency):f}") for _, value in named)
    said = _entered_lines(entered, currency)
    said += [f"{name:<24}{rounded(value, currency):>{wide}f} {currency}" for name, value in named]
    missing = [
        name
        for name, value in named[:-1]
        if not value and name not in ("metal that came back", "other")
    ]
    if missing:
        said.append(
            f"Nothing is entered for: {', '.join(missing)}. What is not entered counts as 0."
        )
    if weighed is None:
        return [*said, "No pour of this plan came out whole in the forecast, so there is no price."]
    said.append(
        f"At {chance(weighed.chance)} whole in 100 pours a whole piece takes "
        f"{weighed.attempts:f} attempts and costs {weighed.expected:f} {currency} on average."
    )
    if weighed.chance_lost is not None:
        said.append(
            f"The original is lost in {chance(weighed.chance_lost)} of 100 pours, which is "
            f"{weighed.expected_loss:f} {currency} of its worth."
        )
    return [*said, f"With your margin on top: {weighed.price:f} {currency}."]


def _entered_lines(entered: Sequence[Cost], currency: str) -> list[str]:
    """Return each cost as it was entered, with its day and its note."""
    return [
        f"{kept.created.date()}  {kept.kind}: {_amount(kept.amount, kept.minutes, currency)}"
        + (f" ({clean(kept.note)})" if kept.note else "")
        for kept in entered
    ]


def _amount(money: Decimal | None, minutes: int | None, currency: str) -> str:
    return f"{money:f} {currency}" if minutes is None else f"{minutes // 60} h {minutes % 60} min"


def spent_line(
    kind: str, money: Decimal | None, minutes: int | None, cost: AttemptCost, currency: str
) -> str:
    """Return what was entered for a pour, and what it comes to so far."""
    what = _amount(money, minutes, currency)
    total = rounded(cost.total, currency)
    return f"Entered for {kind}: {what}. This attempt comes to {total:f} {currency} so far."


def settings_lines(settings: Settings) -> list[str]:
    """Return the settings of the book in sentences."""
    rate = "not set" if settings.rate_per_hour is None else f"{settings.rate_per_hour:f}"
    said = [
        f"Currency {settings.currency or 'not chosen'}, hour {rate}, margin {settings.margin:f}"
    ]
    said += [
        f"You are told when less than {grams(least)} g of {kind} is left."
        for kind, least in settings.least_mg.items()
    ]
    return said
