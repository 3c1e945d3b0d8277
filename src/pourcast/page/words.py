"""What the forecast says, sentence by sentence; the page and the terminal share it.

Each function takes the forecast and gives plain text.  A sentence gives its
figure with the spread; nothing here works out a chance.
"""

from pourcast import units as si
from pourcast.errors import SourceError
from pourcast.forecast.model import Forecast, PartForecast, Unknown
from pourcast.materials.load import library
from pourcast.page.figures import (
    JOIN,
    clean,
    counts,
    degrees,
    grams,
    hundred,
    in_100,
    millimetres,
    number,
    with_unit,
)
from pourcast.page.names import CAUSE_SENTENCES, CAUSES, OUTCOMES, in_words
from pourcast.pour.checks import UNPROVED_UNDER

_MOST_NAMED = 3


def headline(forecast: Forecast) -> str:
    """Return the answer of the page: "In 100 pours, 62 come out whole."."""
    count = _whole(forecast)
    verb = "comes" if count in ("0", "1", "under 1") else "come"
    return f"In 100 pours, {'none' if count == '0' else count} {verb} out whole."


def answer(forecast: Forecast) -> str:
    """Return the first line of the terminal: "62 of 100 pours come out whole."."""
    count = _whole(forecast)
    verb = "comes" if count in ("0", "1", "under 1") else "come"
    return f"{'None' if count == '0' else count.capitalize()} of 100 pours {verb} out whole."


def _whole(forecast: Forecast) -> str:
    if forecast.outcomes.whole == 1.0:
        # Some hundred pours without a miss do not make a certainty.
        return "over 99"
    return in_100(forecast.outcomes.whole)


def spread(forecast: Forecast) -> str:
    """Return the sentence on how far off the answer can be."""
    low, high = in_100(forecast.chance_low), in_100(forecast.chance_high)
    if low == high:
        return "The spread of this figure is under 1 in 100."
    if low.startswith("over"):
        return f"It lies {low} in every way that was looked at."
    return f"It could be as few as {low} or as many as {high}."


def unproved(forecast: Forecast) -> str:
    """Return that some parts are thinner than the forecast is proved for; "" if none is."""
    names = [quoted(part.name) for part in forecast.parts if is_watched(forecast, part)]
    if not names:
        return ""
    shown = ", ".join(names[:_MOST_NAMED])
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return (
        f"{shown}{more}: under {millimetres(UNPROVED_UNDER)}, where this forecast is not "
        "proved under vacuum. "
        "Cast test strips before you trust those figures."
    )


def is_watched(forecast: Forecast, part: PartForecast) -> bool:
    """Return whether the chance of a part lies outside what the forecast is proved for."""
    return any(
        finding.key == "thin-unproved" and finding.part == part.name
        for finding in forecast.findings
    )


def what_stops(forecast: Forecast, part: PartForecast) -> str:
    """Return what stops the metal in a part, and "watch" where its chance is not proved."""
    cause = "–" if part.cause is None else CAUSES[part.cause]
    return f"{cause}; watch" if is_watched(forecast, part) else cause


def worst_part(forecast: Forecast) -> PartForecast | None:
    """Return the part that is short most often; None if every pour fills every part."""
    short = [part for part in forecast.parts if part.chance_full < 1.0 and part.cause]
    return min(short, key=lambda part: (part.chance_full, part.chance_weakest), default=None)


def what_stops_it(forecast: Forecast) -> str:
    """Return the sentence on what fails first and why."""
    part = worst_part(forecast)
    if part is None or part.cause is None:
        return "No part comes short in any of the pours that were worked out."
    reason = CAUSE_SENTENCES[part.cause]
    return f"When it fails, it is first of all {quoted(part.name)}: {reason}."


def cold_shut(forecast: Forecast) -> str:
    """Return that no seam was found; "" where no streams meet, or a finding tells of seams."""
    if forecast.cold_shut_chance is None or forecast.cold_shut_chance > 0.0:
        return ""
    return "Where the piece closes a loop, two cold streams met in none of the pours followed."


def outcome_counts(forecast: Forecast) -> list[tuple[str, str]]:
    """Return how many of 100 pours end in each way, the best first.

    Where all are drawn as whole, the count is that of the headline: "over 99".
    """
    whole, *others = counts(hundred(forecast.outcomes))
    said = _whole(forecast) if whole == 100 else str(whole)
    return list(zip((said, *map(str, others)), OUTCOMES, strict=True))


def bench(forecast: Forecast) -> str:
    """Return how the piece stands in the flask."""
    gap, over = forecast.mould.wall_gap, forecast.mould.far_cover
    side = (
        f"It stands {millimetres(gap)} from the wall"
        if gap >= 0.0
        else f"It does not fit: it reaches {millimetres(-gap)} past the wall"
    )
    top = (
        f"with {millimetres(over)} of block over its far end"
        if over >= 0.0
        else f"{millimetres(-over)} too tall for the flask at its far end"
    )
    thinnest = millimetres(forecast.measures.thinnest)
    return f"{side}, {top}. The thinnest way in is {thinnest}."


def bench_note(forecast: Forecast) -> str:
    """Return the sizes of the piece, its cup and the flask."""
    plan = forecast.plan
    flask = plan.flask
    piece = _volume(forecast.measures.volume)
    button = _volume(forecast.measures.button_volume)
    return (
        f"The piece is {piece}, the button and its way in {button}. The flask is "
        f"{millimetres(flask.inside_diameter)} across inside and {millimetres(flask.height)} "
        f"high, with a {flask.wall} wall."
    )


def mix(forecast: Forecast) -> str:
    """Return what to weigh out for the mould."""
    mould = forecast.mould
    return f"Stir {grams(mould.powder)} of powder into {grams(mould.water)} of water."


def mix_note(forecast: Forecast) -> str:
    """Return how much slurry that makes and how much stays behind."""
    mould = forecast.mould
    litres = with_unit(si.from_si(mould.slurry_volume, "l"), "l")
    return (
        f"That makes {litres} of slurry; {in_100(mould.waste)} in 100 of it stays in the bowl. "
        f"The full flask holds {grams(mould.full_mass)}."
    )


def pour(forecast: Forecast) -> str:
    """Return what to melt and how hot, and which part asks most of the pour."""
    hot = degrees(forecast.plan.charge.pour_temperature, forecast.plan.speech)
    sentence = f"Melt {grams(_charge(forecast))} and pour at {hot}."
    part = worst_part(forecast)
    if part is None:
        return f"{sentence} No part came short in the pours followed."
    every = "it" if part.count == 1 else "every one of them"
    return f"{sentence} {quoted(part.name)}: {every} fills in {in_100(part.chance_full)} of 100."


def pour_note(forecast: Forecast) -> str:
    """Return where the metal goes and what to make it up from."""
    metal = forecast.metal
    said = [
        f"To melt, by the forecast: {grams(metal.metal)}, between {grams(metal.metal_low)} and "
        f"{grams(metal.metal_high)} in 90 of 100 pours.",
        f"As it fills, {grams(metal.piece_metal)} goes into the piece, "
        f"{grams(metal.button_metal)} into the button, {grams(metal.lost_metal)} is lost to "
        "skimming and splash; as it sets the piece draws more from the button.",
        f"A wax of the same volume as the piece weighs {grams(metal.wax_equivalent)}; its metal "
        f"is {number(metal.wax_factor)} times as heavy.",
    ]
    if metal.return_metal > 0.0:
        said.append(
            f"Make it up from {grams(metal.new_metal)} of new metal and "
            f"{grams(metal.return_metal)} of old."
        )
    if metal.short_by > 0.0:
        said.append(f"There is {grams(metal.short_by)} too little metal on hand.")
    return " ".join(said)


def weigh_out(forecast: Forecast) -> list[tuple[str, str]]:
    """Return what to weigh, each with its mass as text."""
    mould, metal = forecast.mould, forecast.metal
    low, high = grams(metal.metal_low), grams(metal.metal_high)
    rows = [
        ("powder", grams(mould.powder)),
        ("water", grams(mould.water)),
        ("metal", f"{grams(metal.metal)} ({low} to {high})"),
    ]
    poured = forecast.plan.charge.poured
    if poured is not None:
        rows.append(("metal in the plan", grams(poured)))
    if metal.short_by > 0.0:
        rows.append(("metal short", grams(metal.short_by)))
    return rows


def weigh_line(forecast: Forecast) -> str:
    """Return what to weigh out as one sentence, and what is missing."""
    mould, metal = forecast.mould, forecast.metal
    low = grams(metal.metal_low).removesuffix(f"{JOIN}g")
    said = (
        f"Weigh out {grams(mould.powder)} of powder, {grams(mould.water)} of water, "
        f"{grams(metal.metal)} of metal ({low} to {grams(metal.metal_high)})."
    )
    poured = forecast.plan.charge.poured
    if poured is not None:
        said += f" The plan says {grams(poured)} of metal."
    if metal.short_by > 0.0:
        said += f" There is {grams(metal.short_by)} too little metal on hand."
    return said


def moves(known: Unknown) -> str:
    """Return which way an uncertain value moves the outcome."""
    if known.rank_correlation == 0.0:
        return "no link"
    return "more of it fills more" if known.rank_correlation > 0.0 else "more of it fills less"


def estimates(forecast: Forecast) -> str:
    """Return the sentence on how many of the values are estimates."""
    total = len(forecast.unknowns)
    guessed = sum(known.kind == "estimate" for known in forecast.unknowns)
    if total == 0:
        return "No value was varied."
    return f"{guessed} of the {total} values that were varied are estimates."


def not_known(forecast: Forecast) -> list[str]:
    """Return what the forecast does not know, and how it was made."""
    learnt = (
        "It uses the book of values alone; nothing of this studio has gone in."
        if forecast.calibration is None
        else f"It uses what this studio has learnt: {clean(forecast.calibration)}."
    )
    dirt = (
        "ash that lies in the cavity"
        if forecast.burnout
        else "whether the mould is dry and the cavity clean, which it takes for granted"
    )
    return [
        f"Not in this chance: {dirt}, hollows that form as the metal sets, cracks in the block "
        "that cannot be seen, a leak in the seal, an unsteady hand.",
        "Whole means that every part is full. It does not speak of pits, skin or strength.",
        f"{learnt} The spread beside the answer is the wider of two: what so few pours can show "
        "(8 times in 10), and what the chance would be with the value that matters most at the "
        "low or the high end of its range. It speaks of the values alone, not of the model.",
    ]


def alloy_name(forecast: Forecast) -> str:
    """Return what people call the alloy; its key in words if the library lacks it."""
    key = forecast.plan.charge.alloy
    try:
        return library().alloy(key).name
    except SourceError:
        return in_words(key)


def quoted(name: str) -> str:
    """Return a name as the caster wrote it, in quotation marks."""
    return f"“{clean(name)}”"


def _charge(forecast: Forecast) -> si.Kilogram:
    poured = forecast.plan.charge.poured
    return forecast.metal.metal if poured is None else poured


def _volume(volume: si.CubicMetre) -> str:
    return with_unit(si.from_si(volume, "cm3"), "cm3", 2)
