"""Does the block hold the piece, and what is to be watched while mixing?

Every limit of the mould stands here.  Most are habits of the trade: they say
what is usual, and where practice disagrees both rules are shown.
"""

from pourcast import units as si
from pourcast.findings import Finding, Level
from pourcast.materials import Fact, Value, caution
from pourcast.mould.far_end import FIXED, OF_DIAMETER
from pourcast.mould.flask_heat_checks import flask_heat_finding
from pourcast.mould.model import Flask, Mix, Mould
from pourcast.speech import Heat, Heats, Step, said

LEAST_WALL = 6e-3  # m, least seen beside a piece; common practice, one voice
USUAL_WALL, AMPLE_WALL = 10e-3, 13e-3  # m, ends of what is usual; common practice, one voice
LEAST_WATER, MOST_WATER = 0.38, 0.42  # water to powder; common practice, no source
COOLEST_MIX, WARMEST_MIX = 293.15, 297.15  # K, 20 to 24 °C; common practice, no source
BOWL = 3.0  # volumes of the slurry that the bowl holds; common practice, no source

_TRADE = "common practice, no source"
_ONE_VOICE = "common practice, one voice"

USUAL_WALLS = f"{1e3 * USUAL_WALL:.0f} to {1e3 * AMPLE_WALL:.0f} mm"
"""Block beside a piece, as it is said."""

_MIX = said("{usual} is usual.", usual=Heats(COOLEST_MIX, WARMEST_MIX))


def findings(
    mould: Mould,
    flask: Flask,
    mix: Mix,
    *,
    ends_at: si.Kelvin | None = None,
    followed: bool = False,
    usual_temperature: Value,
    any_section: tuple[si.Kelvin, si.Kelvin],
    hard_stop: Value,
    silica: Fact,
) -> tuple[Finding, ...]:
    """Return what the caster should know before the slurry is mixed.

    Parameters
    ----------
    mould : Mould
    flask : Flask
    mix : Mix
    ends_at : float [K], optional
        End of the curve of the sheet; None: it has none.
    followed : bool
        Whether a flask whose heat is not said is poured as hot as that end.
    usual_temperature : Value
        Of the flask at the pour, for the thinnest section of the piece; see
        `pourcast.mould.flask_heat`.
    any_section : pair of float [K]
        Least and most that is usual for a section of any size, from there too.
    hard_stop : Value
        Heat over which char breaks down the sulphate of the block.
    silica : Fact
        The hazard of casting powder, from the safety records.

    Returns
    -------
    tuple of Finding
        In the order of the work.
    """
    return (
        _wall(mould),
        _cover(mould, flask),
        _water(mix),
        _mix_temperature(mix),
        _bowl(mould),
        _weight(mould),
        flask_heat_finding(
            flask,
            ends_at,
            followed,
            usual=usual_temperature,
            any_section=any_section,
            hard_stop=hard_stop,
        ),
        caution(silica, "mould"),
    )


def _wall(mould: Mould) -> Finding:
    gap = _mm(mould.wall_gap)
    level: Level = "GOOD"
    if mould.wall_gap <= 0.0:
        level = "STOP"
        text = f"The piece does not fit: it reaches {-gap:.1f} mm past the inside of the flask."
    elif mould.wall_gap < LEAST_WALL:
        level = "STOP"
        text = (
            f"Only {gap:.1f} mm of block stand beside the piece; {_mm(LEAST_WALL):.0f} mm is the "
            "least seen in practice. Take a wider flask or bring the piece nearer to the middle."
        )
    elif mould.wall_gap < USUAL_WALL:
        level = "WATCH"
        text = f"{gap:.1f} mm of block stand beside the piece; {USUAL_WALLS} is usual."
    else:
        text = f"{gap:.1f} mm of block stand beside the piece; {USUAL_WALLS} is usual."
    return Finding(
        stage="mould",
        key="wall-beside",
        level=level,
        text=text,
        value=gap,
        limit=_mm(LEAST_WALL if level == "STOP" else USUAL_WALL),
        unit="mm",
        source=_ONE_VOICE,
        kind="common practice",
    )


def _cover(mould: Mould, flask: Flask) -> Finding:
    cover = _mm(mould.far_cover)
    by_diameter = OF_DIAMETER * flask.inside_diameter
    rules = (
        f"practice disagrees: a quarter of the flask's diameter ({_mm(by_diameter):.0f} mm), or "
        f"{_mm(FIXED):.0f} mm whatever the flask"
    )
    smaller, larger = sorted((by_diameter, FIXED))
    level: Level = "WATCH"
    if mould.far_cover <= 0.0:
        level = "STOP"
        text = f"The flask is {-cover:.1f} mm too low: the piece reaches past its far end."
    elif mould.far_cover < LEAST_WALL:
        level = "STOP"
        text = (
            f"Only {cover:.1f} mm of block stand over the far end, less than the least wall seen "
            f"anywhere; {rules}. A thin end is sucked out or falls out."
        )
    elif mould.far_cover < smaller:
        text = (
            f"{cover:.1f} mm of block stand over the far end, less than both rules; {rules}. "
            "A thin end is sucked out under vacuum."
        )
    elif mould.far_cover < larger:
        text = f"{cover:.1f} mm of block stand over the far end; {rules}. It keeps one of the two."
    else:
        level = "GOOD"
        text = (
            f"{cover:.1f} mm of block stand over the far end; {rules}. It keeps both; "
            "a very thick end holds the air back."
        )
    return Finding(
        stage="mould",
        key="far-end-cover",
        level=level,
        text=text,
        value=cover,
        limit=_mm(LEAST_WALL if level == "STOP" else larger),
        unit="mm",
        source="common practice: 0.25 of the diameter is one voice, 20 mm has no source",
        kind="common practice",
    )


def _water(mix: Mix) -> Finding:
    parts = 100.0 * mix.water_to_powder
    level: Level = "WATCH"
    limit = LEAST_WATER
    if mix.water_to_powder < LEAST_WATER:
        text = (
            f"{parts:.1f} parts of water to 100 of powder; 38 to 42 is usual. A stiff slurry "
            "bends thin parts and keeps its bubbles."
        )
    elif mix.water_to_powder > MOST_WATER:
        limit = MOST_WATER
        text = (
            f"{parts:.1f} parts of water to 100 of powder; 38 to 42 is usual. A wet mix is weak "
            "and may part from its water: crusty skin, streaks."
        )
    else:
        level = "GOOD"
        text = f"{parts:.1f} parts of water to 100 of powder; 38 to 42 is usual."
    return Finding(
        stage="mould",
        key="water-to-powder",
        level=level,
        text=text,
        value=parts,
        limit=100.0 * limit,
        unit="parts of water to 100 of powder",
        source=_TRADE,
        kind="common practice",
    )


def _mix_temperature(mix: Mix) -> Finding:
    level: Level = "WATCH"
    limit = COOLEST_MIX
    text = said("Powder and water at {heat}; {usual}", heat=Heat(mix.temperature), usual=_MIX)
    if mix.temperature < COOLEST_MIX:
        text += " A cold mix stays wet for long and may part from its water."
    elif mix.temperature > WARMEST_MIX:
        limit = WARMEST_MIX
        text += said(
            " A warm mix sets early: about 1 min less to work with for each {step} (estimate).",
            step=Step(5.0),
        )
    else:
        level = "GOOD"
    return Finding(
        stage="mould",
        key="mix-heat",
        level=level,
        text=text,
        value=si.from_si(mix.temperature, "degC"),
        limit=si.from_si(limit, "degC"),
        unit="°C",
        source=f"{_TRADE}: powder and water",
        kind="common practice",
    )


def _bowl(mould: Mould) -> Finding:
    slurry = si.from_si(mould.slurry_volume, "l")
    return Finding(
        stage="mould",
        key="bowl-size",
        level="WATCH",
        text=(
            f"Mix {slurry:.2f} l in a bowl that holds {BOWL * slurry:.1f} l or more: it froths up "
            f"under the pump. {100.0 * mould.waste:.0f} % of it is for what stays in the bowl."
        ),
        value=BOWL * slurry,
        unit="l",
        source=_TRADE,
        kind="common practice",
    )


def _weight(mould: Mould) -> Finding:
    return Finding(
        stage="mould",
        key="block-weight",
        level="GOOD",
        text=(
            f"The block weighs {mould.full_mass:.2f} kg when it is fresh, without the steel. "
            "Have tongs and a place to set it down that bear that weight."
        ),
        value=mould.full_mass,
        unit="kg",
        source="volume balance of the slurry",
        kind="computed",
    )


def _mm(length: float) -> float:
    return si.from_si(length, "mm")
