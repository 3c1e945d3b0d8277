"""Compare: two plans side by side, poured with the same draws.

What differs is read key by key from the plans, so that two files that say the same in
other units or in another order do not differ.  What moved is held against the noise of
the pairs, `pourcast.change.paired`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal, NamedTuple

import numpy as np

from pourcast import units as si
from pourcast.change.ask import shown, tidy
from pourcast.change.compared import Comparison, Difference, PlanFigures
from pourcast.change.keys import PART, SECTIONS, STEP, VENT, Key
from pourcast.change.paired import cause_shares, every_part, paired_gain
from pourcast.change.stops import stops_of
from pourcast.errors import InputError
from pourcast.execute import Executor, shared_out
from pourcast.forecast.many import BLOCK
from pourcast.forecast.model import Calibration, Forecast
from pourcast.forecast.prepare import seed_of
from pourcast.forecast.solve import forecast, forecast_with_ends
from pourcast.forecast.whole import Ends, lay_out, pour_ends
from pourcast.materials import library
from pourcast.piece.model import Part
from pourcast.sheet.model import Plan

NOT_SAID = "not said"
_VENT_WORDS = {"diameter": "diameter", "length": "length", "leads_to": "lead to"}
_VENT = {
    name: replace(key, words=_VENT_WORDS.get(key.field, key.words)) for name, key in VENT.items()
}
_ROD = {
    "diameter_mm" if key.field == "width" else name: (
        replace(key, words="diameter") if key.field == "width" else key
    )
    for name, key in PART.items()
    if key.field != "thickness"
}
"""Keys of a part that is round: one diameter stands for width and thickness."""

_UNITS = {"degC": "°C", "1/h": "per h", "K/h": "°C/h", "deg": "°", "-": "", "d": "days"}


def compare(
    one: Plan,
    other: Plan,
    calibration: Calibration | None = None,
    *,
    other_calibration: Calibration | Literal["same"] | None = "same",
    draws: int = 400,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
    executor: Executor | None = None,
) -> Comparison:
    """Return how two plans differ and what that moves.

    Parameters
    ----------
    one, other : Plan
    calibration : Calibration, optional
    other_calibration : Calibration, optional
        Of the other plan, where what is learnt of its alloy or kiln is not that of the one.
    draws : int
    rng : numpy.random.Generator or int
        A generator gives its seed once; a number is the seed.
    threads : int
        The result is the same for any number.
    executor : Executor, optional
        Who pours the two plans; left out: one after the other, each on ``threads``.

    Returns
    -------
    Comparison

    Raises
    ------
    InputError
        If a value is outside its limits.
    SourceError
        If a material is not known.
    """
    hands, _, inner = shared_out(executor, threads)
    seed = seed_of(rng)
    learnt = calibration if other_calibration == "same" else other_calibration
    asked = (_Asked(one, calibration, draws, seed), _Asked(other, learnt, draws, seed))
    done = list(hands.map(_poured, inner, asked))
    return _compared((one, *done[0]), (other, *done[1]), draws=draws, seed=seed)


def beside(one: tuple[Forecast, Ends], other: tuple[Forecast, Ends]) -> Comparison:
    """Return how two plans differ whose forecasts are there already.

    Parameters
    ----------
    one, other : pair of Forecast and Ends
        As `pourcast.forecast.solve.forecast_with_ends` returns them, of the same draws and
        the same seed.

    Returns
    -------
    Comparison
        That of `compare`.

    Raises
    ------
    InputError
        If draws or seeds differ: the difference would then be luck.
    """
    said = one[0], other[0]
    for what in ("draws", "seed"):
        first, second = (getattr(each, what) for each in said)
        if first != second:
            raise InputError(f"{what} of the second", second, "", f"that of the first, {first}")
    done = [(each, ends, _told(each, ends)) for each, ends in (one, other)]
    return _compared(
        *((each.plan, ends, told) for each, ends, told in done),
        draws=said[0].draws,
        seed=said[0].seed,
    )


_Done = tuple[Plan, Ends, PlanFigures]


def _compared(first: _Done, second: _Done, *, draws: int, seed: int) -> Comparison:
    one, other = first[0], second[0]
    ends = first[1], second[1]
    gain, error = paired_gain(ends[0].whole, ends[1].whole)
    names = [set(end.part_names) for end in ends]
    return Comparison(
        one=first[2],
        other=second[2],
        differences=tuple(differences(one, other)),
        gain=gain,
        standard_error=error,
        parts=every_part(*ends),
        alone=(
            tuple(name for name in ends[0].part_names if name not in names[1]),
            tuple(name for name in ends[1].part_names if name not in names[0]),
        ),
        draws=draws,
        seed=seed,
    )


class _Asked(NamedTuple):
    """What is poured."""

    plan: Plan
    calibration: Calibration | None
    draws: int
    seed: int


def _poured(threads: int, asked: _Asked) -> tuple[Ends, PlanFigures]:
    plan, learnt, draws, seed = asked
    if draws <= BLOCK:
        said, ends = forecast_with_ends(plan, learnt, draws=draws, rng=seed, threads=threads)
        return ends, _told(said, ends)
    # A forecast of many blocks keeps their counts and not their ends, which are asked for here.
    ends = pour_ends(lay_out(plan, learnt, draws, seed, threads=threads), threads=threads)
    said = forecast(plan, learnt, draws=draws, rng=seed, threads=threads)
    return ends, _told(said, ends)


def _told(said: Forecast, ends: Ends) -> PlanFigures:
    return PlanFigures(
        name=said.plan.piece.name,
        chance=float(ends.whole.mean()),
        causes=cause_shares(ends),
        metal=said.metal.metal,
        powder=said.mould.powder,
        stops=tuple(stops_of(said.findings).values()),
    )


def differences(one: Plan, other: Plan) -> Iterator[Difference]:
    """Yield every key in which two plans differ, in the order of a piece file.

    Parameters
    ----------
    one, other : Plan

    Yields
    ------
    Difference
    """
    for section, keys in SECTIONS.items():
        record = next(iter(keys.values())).record
        yield from _of_records(section, "", keys, _record(one, record), _record(other, record))
    steps = [plan.kiln.steps for plan in (one, other)]
    for place in range(max(map(len, steps))):
        pair = [own[place] if place < len(own) else None for own in steps]
        yield from _of_records(
            f"kiln.step.{place + 1}", f"step {place + 1} of the kiln, ", STEP, *pair
        )
    parts = [{part.name: part for part in plan.piece.parts} for plan in (one, other)]
    for name in dict.fromkeys((*parts[0], *parts[1])):
        pair_ = [own.get(name) for own in parts]
        if None in pair_:
            yield _there(f"part.{name}", f"part “{name}”", pair_)
        else:
            keys = _ROD if all(part is not None and _round(part) for part in pair_) else PART
            yield from _of_records(f"part.{name}", f"“{name}”, ", keys, *pair_)
    vents = [{vent.part: vent for vent in plan.piece.vents} for plan in (one, other)]
    for name in dict.fromkeys((*vents[0], *vents[1])):
        pair__ = [own.get(name) for own in vents]
        if None in pair__:
            yield _there(f"vent.{name}", f"vents on “{name}”", pair__)
        else:
            yield from _of_records(f"vent.{name}", f"vents on “{name}”, ", _VENT, *pair__)


def _round(part: Part) -> bool:
    return part.shape == "rod" and part.width == part.thickness


def _record(plan: Plan, name: str) -> object:
    if name == "button":
        return plan.piece.button
    return getattr(plan, name)


def _there(key: str, words: str, pair: Sequence[object]) -> Difference:
    said = ["no" if each is None else "yes" for each in pair]
    return Difference(key=key, words=words, one=said[0], other=said[1], unit="")


def _of_records(
    place: str, before: str, keys: Mapping[str, Key], one: object, other: object
) -> Iterator[Difference]:
    for name, key in keys.items():
        pair = [None if record is None else getattr(record, key.field) for record in (one, other)]
        if pair[0] == pair[1]:
            continue
        said = [_said(value, key) for value in pair]
        if said[0] == said[1]:
            continue  # apart by less than a caster writes
        unit = _UNITS.get(key.unit or "", key.unit or "")
        yield Difference(
            key=f"{place}.{name}",
            words=f"{before}{key.words}",
            one=said[0],
            other=said[1],
            unit=unit,
        )


def _said(value: object, key: Key) -> str:
    if value is None or value == ():
        return NOT_SAID
    if isinstance(value, tuple):
        ends = dict.fromkeys(_said(each, key) for each in value)
        return " to ".join(ends) if key.unit else ", ".join(ends)
    if key.field == "alloy":
        return library().alloy(str(value)).name
    if key.unit is None or isinstance(value, (str, int)):
        # Words of the file stand as they are said.
        return str(value).replace("_", " ")
    assert isinstance(value, float)
    written = value if key.unit == "-" else si.from_si(value, key.unit)
    # A heat written in °F makes thirds of a degree, which nobody reads off a thermometer.
    return shown(tidy(written, 0) if key.unit in ("degC", "K") else written, 6)
