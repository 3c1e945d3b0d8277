"""Is there metal enough, is it hot enough, and what does it give off?

Every limit of the melt stands here.
"""

from collections.abc import Mapping

from pourcast import units as si
from pourcast.findings import Finding, Level
from pourcast.materials import Fact, Material, Value, caution
from pourcast.melt.charge import MOST_RETURNS, ROUNDING
from pourcast.melt.model import Charge, MetalAccount
from pourcast.speech import Heat, Heats, said

USUAL_BUTTON = 0.10  # of the piece's volume; common practice, one voice; another asks for 0.33

_NOT_FUME = "silica_mould"  # dust of the mould, said where the powder is mixed

_ALONE = {
    "lead": " Lead fume and dust harm for years and settle in the whole room: not for a home "
    "studio.",
    "zinc_oxide": " Zinc burns off as white smoke, and its fume brings a fever hours later.",
}
"""Fume that is told by itself, and what it does."""


def findings(
    account: MetalAccount,
    charge: Charge,
    *,
    alloy: Material,
    limits: Material,
    fume_limits: Mapping[str, tuple[str, ...]],
    facts: Mapping[str, Fact],
) -> tuple[Finding, ...]:
    """Return what the caster should know before the metal is melted.

    Parameters
    ----------
    account : MetalAccount
    charge : Charge
    alloy : Material
        The record of the charge's alloy.
    limits : Material
        Limits of fume in the air.
    fume_limits : mapping of str to tuple of str
        For each fume word of an alloy the keys of ``limits``.
    facts : mapping of str to Fact
        Hazards by key; "metal_fume" and "moisture" are said here.

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    return (
        _metal(account, charge),
        *_returns(account),
        _button(account, alloy),
        _pour_heat(charge, alloy),
        *_alloy_flag(alloy),
        *_fume(alloy, limits, fume_limits),
        *(caution(facts[key], "melt") for key in ("metal_fume", "moisture")),
    )


def _metal(account: MetalAccount, charge: Charge) -> Finding:
    needed, low, high, short = (
        si.from_si(mass, "g")
        for mass in (account.metal, account.metal_low, account.metal_high, account.short_by)
    )
    spread = (
        f"piece and button take {needed:.0f} g with the loss "
        f"({low:.0f} to {high:.0f} g in 9 pours of 10)"
    )
    there = account.new_metal + account.return_metal
    shown = f"{si.from_si(there, 'g'):.0f} g of metal"
    level: Level = "WATCH"
    if account.short_by > 0.0:
        level = "STOP"
        text = f"The metal on hand is {short:.0f} g short: it makes {shown}; {spread}."
    elif there < account.piece_metal + account.lost_metal:
        level = "STOP"
        text = f"{shown} does not even fill the piece: {spread}."
    elif there < account.metal_low:
        text = f"{shown} leaves the button low, with less head and less to feed from: {spread}."
    elif charge.poured is None and _on_hand(charge) < account.metal_high:
        text = f"Weigh out {shown}; there is none in hand for the upper end of the range: {spread}."
    else:
        level = "GOOD"
        text = f"Weigh out {shown}: {spread}. A little less leaves the button low."
    return Finding(
        stage="melt",
        key="metal-enough",
        level=level,
        text=text,
        value=si.from_si(there, "g"),
        limit=needed,
        unit="g",
        source="measured volume, density of the liquid and loss, drawn over their ranges",
        kind="computed",
    )


def _on_hand(charge: Charge) -> float:
    """Return the most metal [kg] that there is; without end where it is not said."""
    return float("inf") if charge.on_hand is None else charge.on_hand + (charge.returns or 0.0)


def _returns(account: MetalAccount) -> tuple[Finding, ...]:
    if account.return_metal == 0.0:
        return ()
    share = account.return_metal / (account.new_metal + account.return_metal)
    # Half and half is written by the charge itself, to rounding.
    above = share > MOST_RETURNS * (1.0 + ROUNDING)
    grams = si.from_si(account.return_metal, "g")
    return (
        Finding(
            stage="melt",
            key="returns-share",
            level="WATCH" if above else "GOOD",
            text=(
                f"{100.0 * share:.0f} % of the charge is returns ({grams:.0f} g); at most half is "
                "usual. Blast them clean of mould, and mix no alloys."
                + (
                    " Metal that was melted many times is gassy and may be brittle."
                    if above
                    else ""
                )
            ),
            value=100.0 * share,
            limit=100.0 * MOST_RETURNS,
            unit="%",
            source="common practice, one voice",
            kind="common practice",
        ),
    )


def _button(account: MetalAccount, alloy: Material) -> Finding:
    shrinkage = alloy["shrink_solidification"]
    piece = account.cavity_volume - account.button_volume
    share = account.button_volume / piece
    usual = (
        f"practice disagrees: one voice takes {100.0 * USUAL_BUTTON:.0f} % of the piece, another "
        "33 %. Whether it stays liquid longer than the piece is not known here"
    )
    shown = f"The button is {100.0 * share:.0f} % of the volume of the piece"
    level: Level = "WATCH"
    limit = 100.0 * USUAL_BUTTON
    if share < shrinkage.si_high:
        limit = 100.0 * shrinkage.si_high
        text = (
            f"{shown}, less than the {limit:.1f} % that the metal of the piece may shrink as it "
            f"freezes: the pull comes out of the work; {usual}."
        )
    elif share < USUAL_BUTTON:
        text = f"{shown}: enough for the shrinkage alone; {usual}."
    else:
        level = "GOOD"
        text = f"{shown}; the metal shrinks by up to {100.0 * shrinkage.si_high:.1f} %; {usual}."
    return Finding(
        stage="melt",
        key="button-share",
        level=level,
        text=text,
        value=100.0 * share,
        limit=limit,
        unit="%",
        source=f"shrinkage: {shrinkage.source}; button: common practice, two voices",
        kind="common practice",
    )


def _pour_heat(charge: Charge, alloy: Material) -> Finding:
    liquidus, usual = alloy["liquidus"], alloy["pour"]
    heat = Heat(charge.pour_temperature)
    ruler = said(
        "{usual} is usual for {alloy}",
        usual=Heats(usual.si_low, usual.si_high),
        alloy=alloy.name,
    )
    level: Level = "WATCH"
    rests_on = usual
    if charge.pour_temperature <= liquidus.si_high:
        level, limit, rests_on = "STOP", liquidus.si_high, liquidus
        text = said(
            "At {heat} the metal may not be wholly liquid: it starts to freeze at up to "
            "{melts}; {ruler}.",
            heat=heat,
            melts=Heat(limit),
            ruler=ruler,
        )
    elif charge.pour_temperature < usual.si_low:
        limit = usual.si_low
        text = said(
            "{heat} in the pot is cool; {ruler}. Cold metal leaves laps and short tips.",
            heat=heat,
            ruler=ruler,
        )
    elif charge.pour_temperature > usual.si_high:
        limit = usual.si_high
        text = said(
            "{heat} in the pot is hot; {ruler}. Hot metal takes up gas, burns out zinc "
            "and silicon, and attacks the mould.",
            heat=heat,
            ruler=ruler,
        )
    else:
        level, limit = "GOOD", usual.si_high
        text = said("{heat} in the pot; {ruler}.", heat=heat, ruler=ruler)
    return Finding(
        stage="melt",
        key="pour-heat",
        level=level,
        text=text,
        value=si.from_si(charge.pour_temperature, "degC"),
        limit=si.from_si(limit, "degC"),
        unit="°C",
        source=rests_on.source,
        kind=rests_on.kind,
    )


def _alloy_flag(alloy: Material) -> tuple[Finding, ...]:
    if not alloy.flag:
        return ()
    return (
        Finding(
            stage="melt",
            key="alloy-flag",
            level="WATCH",
            text=said("{alloy}: {flag}", alloy=alloy.name, flag=alloy.flag),
            source="alloy record of pourcast",
            kind="common practice",
        ),
    )


def _fume(
    alloy: Material, limits: Material, fume_limits: Mapping[str, tuple[str, ...]]
) -> tuple[Finding, ...]:
    """Return one finding for each fume of its own danger, and one for all others."""
    strictest = {
        word: min((limits[key] for key in fume_limits[word]), key=lambda limit: limit.si)
        for word in alloy.fume
        if word != _NOT_FUME
    }
    alone = [word for word in strictest if word in _ALONE]
    others = [word for word in strictest if word not in _ALONE]
    groups = [[word] for word in alone] + ([others] if others else [])
    return tuple(_fume_of({word: strictest[word] for word in group}) for group in groups)


def _fume_of(strictest: Mapping[str, Value]) -> Finding:
    named = [
        f"{word.replace('_', ' ')} ({limit.value:g} mg/m³"
        + (f", {limit.condition})" if limit.condition else ")")
        for word, limit in strictest.items()
    ]
    lowest = min(strictest.values(), key=lambda limit: limit.si)
    cautions = "".join(_ALONE.get(word, "") for word in strictest)
    alone = next((word for word in strictest if word in _ALONE), "")
    return Finding(
        stage="melt",
        key=f"fume-{alone.replace('_', '-')}" if alone else "fume-limit",
        level="WATCH",
        text=(
            f"The melt gives off fume of {' and '.join(named)}; in brackets the lowest workplace "
            f"limit kept here.{cautions} Pour outdoors or under extraction; the rule of your "
            "place counts."
        ),
        limit=lowest.value,
        unit="mg/m³",
        source=lowest.source,
        kind=lowest.kind,
    )
