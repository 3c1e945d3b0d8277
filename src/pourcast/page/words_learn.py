"""What was learnt, in words: before and after, and what each test taught."""

import math
from collections.abc import Sequence

from pourcast import units as si
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.forecast.names import unknown_name
from pourcast.learn.block import Weighed
from pourcast.learn.fan import Fan
from pourcast.learn.kiln_day import KilnDay
from pourcast.learn.model import Learnt, LearntValue, Range
from pourcast.learn.pull_down_fit import PullDown
from pourcast.page.figures import JOIN, in_100, unit_text
from pourcast.piece.model import NINE_OF_TEN
from pourcast.speech import CELSIUS, Heat, Speech, said

DRIED_BELOW: si.Kelvin = 333.15
"""60 °C, under which a block that is dried to be weighed keeps its bound water; common practice,
no source."""

CAUTIONS: dict[str, tuple[str, ...]] = {
    "pull-down": (
        "Test the flask cold. If it must be warm: a hot flask burns through a glove, and a hot "
        "seal lets go without warning.",
        "A chamber under vacuum can burst inwards: no glass or thin plastic, no cracks, eyes "
        "covered, nobody over it. Keep to the maker's sheet of pump and chamber.",
        "A burnt block sheds silica dust when it is handled or the pump draws it: wear a mask "
        "for fine dust, put a filter before the pump, wipe wet and never sweep dry.",
        "Throw the tested block away: it has taken up water, and a damp mould makes steam.",
    ),
    "fan": (
        "It is a pour like any other: hot metal, steam from a damp mould, fume. Dress and stand "
        "as for a piece, and keep to what you were taught.",
        "Breaking the block out makes silica dust: break it wet, with a mask for fine dust.",
    ),
    "block": (
        "Powder and dry mould are silica dust: wear a mask for fine dust and wipe wet.",
        "A block that is not dry must not be poured: steam throws the metal out.",
    ),
    "day": (
        "Burnout fumes and carbon monoxide: under a hood or outside, with an alarm for carbon "
        "monoxide. Do not open a hot kiln to read it.",
    ),
}
"""The usual precautions, where the act is.  Local codes and data sheets go before."""

HOW: dict[str, tuple[str, ...]] = {
    "pull-down": (
        "Invest a blank: in a tight flask no pattern at all, in a perforated one a straight wax "
        "rod down the middle, 6 mm or thicker. Burn it out as you burn a piece.",
        "Cold, set it on the pump. In a perforated flask cover the top face but for the bore.",
        "Pump down, shut the valve, and write down the gauge every few seconds until it has "
        "fallen to a third. That is the open run.",
        "Cover the whole top with a rubber-faced plate and do it again: the covered run tells "
        "what the seals let in.",
    ),
    "fan": (
        "Roll and draw the wax to the thicknesses named, measure each in three places and put "
        "what you find into the sheet of the fan.",
        "Cast it as you cast a piece, and keep its plan before the pour.",
        "At the break-out measure how far each has run, from the runner to its tip.",
    ),
    "block": (
        said(
            "Weigh the flask empty. Weigh it when the block has set, and again as it goes into the "
            "kiln. If you can spare a block, dry it below {dried} until it loses no more, and "
            "weigh it.",
            dried=Heat(DRIED_BELOW),
        ),
    ),
    "day": (
        "Write down the air of the kiln every quarter of an hour, and the dial where it is "
        "turned. Leave each place an hour or more, and log some hours in which it cools.",
    ),
}
"""How each test is made; common practice, no source."""


def how_told(kind: str, speech: Speech = CELSIUS) -> tuple[str, ...]:
    """Return how a test is made.

    Parameters
    ----------
    kind : str
        Of `HOW`.
    speech : Speech
    """
    return tuple(map(speech.text, HOW[kind]))


def learnt_rows(
    values: Sequence[LearntValue], *, everything: bool = False, speech: Speech = CELSIUS
) -> list[tuple[str, ...]]:
    """Return a row for each value that was learnt: name, before, after, how much narrower."""
    rows: list[tuple[str, ...]] = [("what", "before", "now", "narrower by")]
    for value in values:
        if value.used or everything:
            rows.append(
                (
                    speech.text(unknown_name(value.key)),
                    range_told(value.before, value.unit, speech),
                    range_told(value.after, value.unit, speech)
                    + ("" if value.used else " (not used)"),
                    f"{max(0.0, 100.0 * value.narrowed):.0f} in 100",
                )
            )
    return rows


def range_told(held: Range, written: str, speech: Speech = CELSIUS) -> str:
    """Return the median and the 90 % interval of a value."""
    middle, low, high = (
        _short(speech.measure(each, written)[0]) for each in (held.middle, held.low, held.high)
    )
    unit = unit_text(speech.measure(0.0, written)[1])
    return f"{middle} ({low} to {high}){JOIN}{unit}".rstrip()


def learnt_told(learnt: Learnt, speech: Speech = CELSIUS) -> list[str]:
    """Return in sentences what outcomes and tests come to."""
    told = [
        f"Learnt from {_count(learnt.outcomes, 'outcome')} and {_count(learnt.tests, 'test')}. "
        f"The {learnt.draws} draws are worth {learnt.effective:.0f} equal ones"
        + (
            f"; the first ones were worth {learnt.first_effective:.0f}, and they were made anew "
            f"{_count(learnt.rounds, 'time')}."
            if learnt.rounds
            else "."
        )
    ]
    if learnt.calibration is None:
        told.append("No range was narrowed enough to be used.")
    else:
        told.append(
            "Before and now: the middle, and in brackets where 90 in 100 draws lie. Tests and "
            "outcomes seldom settle one value alone; each range stands for itself."
        )
    return told + [speech.text(finding.text) for finding in learnt.findings]


def pull_down_told(found: PullDown, before: Range) -> list[str]:
    """Return in sentences what a pull-down comes to."""
    k, spread = found.permeability, NINE_OF_TEN * found.permeability_error
    told = [
        f"How easily gas leaves through the block: {k:.2g} m² "
        f"({k * math.exp(-spread):.2g} to {k * math.exp(spread):.2g} m²); before the test "
        f"{range_told(before, 'm2')}.",
        f"The {found.readings} readings lie {si.from_si(found.left_over, 'kPa'):.2g} kPa off the "
        "curve (root mean square).",
    ]
    if found.leak > 0.0:
        seals = si.from_si(found.leak, "ml/s")
        told.append(
            f"The seals let in {seals:.2g} ml of air a second at a full vacuum, known to a "
            f"factor of {math.exp(NINE_OF_TEN * found.leak_error):.2g}."
        )
    else:
        told.append(
            "No covered run: what the seals let in is counted as if it came through the block, "
            "so the value is too high by it."
        )
    if found.pump is not None:
        told.append(f"The pump takes {si.from_si(found.pump, 'ml/s'):.3g} ml a second.")
    return told


def fan_told(fan: Fan) -> list[str]:
    """Return in sentences what a fan is expected to tell."""
    return [
        f"One pour of it is expected to tell {fan.information:.1f} bits of what nobody has "
        "measured for your mould: 1 bit halves what is possible.",
        f"The flask has room for {si.from_si(fan.room, 'mm'):.0f} mm.",
    ]


def fan_rows(fan: Fan) -> list[tuple[str, ...]]:
    """Return a row for each strip: name, thickness, length to cut, run, what it adds."""
    rows: list[tuple[str, ...]] = [
        ("strip", "thick mm", "cut mm", "runs mm (10, 50, 90 in 100)", "whole in 100", "adds bits")
    ]
    for strip in fan.strips:
        run = ", ".join(f"{si.from_si(each, 'mm'):.0f}" for each in strip.run)
        rows.append(
            (
                strip.name,
                f"{si.from_si(strip.thickness, 'mm'):.1f}",
                f"{si.from_si(strip.length, 'mm'):.0f}",
                run,
                in_100(strip.chance_whole),
                f"{strip.gain:.2f}",
            )
        )
    return rows


def block_told(found: Weighed, before: Range) -> list[str]:
    """Return in sentences what the weighings come to."""
    low, high = (
        min(1.0, max(0.0, found.kept + way * NINE_OF_TEN * found.kept_error)) for way in (-1.0, 1.0)
    )
    told = [
        f"As it went into the kiln the block held {100 * found.kept:.0f} in 100 of its free water "
        f"({100 * low:.0f} to {100 * high:.0f}); before the test {100 * before.middle:.0f} in 100 "
        f"({100 * before.low:.0f} to {100 * before.high:.0f}).",
        f"Free water when it had set: {si.from_si(found.free_water, 'g'):.0f} g.",
    ]
    if found.mixed is not None:
        told.append(f"That speaks for {found.mixed:.2f} of water on 1 of powder.")
    return told


def day_told(found: KilnDay, speech: Speech = CELSIUS) -> list[str]:
    """Return in sentences what a logged day teaches."""
    told = []
    if found.before is not None:
        told.append("Before this day: " + _kiln(found.before, speech))
    told.append("Now: " + _kiln(found.after, speech))
    told.append("It goes into how the dial is turned, and into no chance.")
    return told


def _kiln(fit: KilnFit, speech: Speech) -> str:
    loss = si.from_si(fit.body.loss, "1/h")
    error = si.from_si(fit.loss_error, "1/h")
    off, unit = speech.measure(fit.left_over, "K")
    heats = "; ".join(
        f"place {place:g} heats {speech.ramp(float(heat)).split()[0]} ± {speech.ramp(float(off))}"
        for place, heat, off in zip(
            fit.body.settings[1:], fit.body.heating[1:], fit.heating_error[1:], strict=True
        )
    )
    return (
        f"the kiln loses {loss:.3f} ± {error:.3f} of what it is over the room in an hour; {heats}. "
        f"Readings lie {_short(off)} {unit} off."
    )


def _short(number: float) -> str:
    return f"{number:.3g}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}" + ("" if number == 1 else "s")
