"""Over: what the caster writes to say what a sweep goes over.

flask.temperature_C=450:700:25      from, to, step: numbers in the unit of the key
assist.vacuum_kPa=0,30,60,85        some values
metal.alloy=C87300,CuSn10           words, and texts with their unit, are values too
kiln.step.3.hold_h=4:10:2           the third step
part."open scale".coat_mm=0,0.1     a part by its name, in quotes where it has a dot
"""

import math
import re

from pourcast.errors import InputError
from pourcast.sheet.faults import brief, did_you_mean
from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, bare
from pourcast.sheet.lines import Path
from pourcast.sheet.model import Plan
from pourcast.sheet.takes import Count, Flag, Keys, Matter, Number, Takes, Text
from pourcast.sweep.model import Axis, Steps, Swept

_STEP = re.compile(r'"([^"]*)"|([^.="]+)')
_UNITS = {"C": "°C", "C/h": "°C/h", "deg": "°", "-": "", "1/h": "per h", "d": "days"}
_MOST_LISTED = 10_000
_SURE = 1e-9  # of a step, by which rounding may miss the last value


def read_over(text: str, plan: Plan) -> Axis:
    """Return the axis that a text means.

    Parameters
    ----------
    text : str
        Such as "flask.temperature_C=450:700:25".
    plan : Plan
        Whose parts, vents and steps may be named.

    Returns
    -------
    Axis

    Raises
    ------
    InputError
        If the key is not known, or the values cannot be read.
    """
    key, sign, values = _halves(text)
    if not sign or not key or not values.strip():
        raise InputError(
            "--over", brief(text), "", "KEY=FROM:TO:STEP or KEY=A,B,C",
            "Such as flask.temperature_C=450:700:25.",
        )  # fmt: skip
    path, takes = _place(key, plan)
    if isinstance(takes, (Text, Matter, Flag)):
        raise InputError("--over", key, "", "a key that holds a number or one of a few words")
    number = isinstance(takes, (Number, Count))
    unit = _UNITS.get(takes.unit, takes.unit) if isinstance(takes, Number) else ""
    listed = values.split(",")
    if number and len(listed) == 1 and values.count(":") >= 2:
        return Axis(key=key, path=path, unit=unit, values=_steps(key, values, unit))
    if len(listed) > _MOST_LISTED:
        raise InputError("--over", f"{len(listed)} values", "", f"at most {_MOST_LISTED} listed")
    found = tuple(_value(key, each, number=number) for each in listed)
    if len(set(found)) < len(found):
        raise InputError("--over", brief(text), "", "each value once")
    return Axis(key=key, path=path, unit=unit, values=found)


def _halves(text: str) -> tuple[str, str, str]:
    """Return key, "=" and values; a sign in quotes belongs to a name."""
    quoted = False
    for place, letter in enumerate(text):
        quoted ^= letter == '"'
        if letter == "=" and not quoted:
            return text[:place].strip(), "=", text[place + 1 :]
    return text.strip(), "", ""


def _place(key: str, plan: Plan) -> tuple[Path, Takes]:
    steps = [one or other for one, other in _STEP.findall(key)]
    head, rest = steps[0] if steps else "", steps[1:]
    if head == "kiln" and rest[:1] == ["step"]:
        number = _number_of(key, rest[1:2], len(plan.kiln.steps), "[[kiln.step]]")
        name = _last(key, rest[2:], KILN_STEP)
        return ("kiln", "step", number, name), KILN_STEP[name]
    if head == "part":
        names = [part.name for part in plan.piece.parts]
        if not rest or rest[0] not in names:
            said = rest[0] if rest else "nothing"
            hint = did_you_mean(said, names) or "known: " + ", ".join(names)
            raise InputError("--over", key, "", "the name of a part after part.", hint)
        name = _last(key, rest[1:], LISTS["part"])
        return ("part", rest[0], name), LISTS["part"][name]
    if head == "vent":
        number = _number_of(key, rest[:1], len(plan.piece.vents), "[[vent]]")
        name = _last(key, rest[1:], LISTS["vent"])
        return ("vent", number, name), LISTS["vent"][name]
    if head not in SECTIONS:
        known = (*SECTIONS, *LISTS)
        hint = did_you_mean(head, known) or "known: " + ", ".join(known)
        raise InputError("--over", key, "", "a key of the piece file, with its section", hint)
    name = _last(key, rest, SECTIONS[head])
    return (head, name), SECTIONS[head][name]


def _number_of(key: str, step: list[str], count: int, what: str) -> int:
    if step and step[0].isascii() and step[0].isdigit() and 1 <= int(step[0]) <= count:
        return int(step[0]) - 1
    must = f"the number of a {what}, counted from 1"
    raise InputError("--over", key, "", must, f"The piece file has {count}.")


def _last(key: str, steps: list[str], keys: Keys) -> str:
    """Return the name of a key of a section."""
    if len(steps) == 1 and steps[0] in keys:
        return steps[0]
    said = ".".join(steps)
    by_bare = {bare(name): name for name in keys}
    guess = by_bare.get(said) or by_bare.get(said.rpartition("_")[0])
    hint = f"did you mean {guess}?" if guess else did_you_mean(said, keys)
    raise InputError(
        "--over", key, "", "a key of the piece file", hint or "known: " + ", ".join(keys)
    )


def _steps(key: str, text: str, unit: str) -> Steps:
    ends = text.split(":")
    try:
        start, stop, step = (float(end) for end in ends)
    except ValueError:
        raise InputError(
            "--over", brief(f"{key}={text}"), "",
            f"three plain numbers{f' in {unit}' if unit else ''}, FROM:TO:STEP",
            "The key says the unit; it is not written again.",
        ) from None  # fmt: skip
    if not all(math.isfinite(end) for end in (start, stop, step)) or step <= 0.0 or stop < start:
        raise InputError(
            "--over", brief(f"{key}={text}"), "",
            "a range that is not empty: FROM up to TO by a STEP above 0",
        )  # fmt: skip
    count = math.floor((stop - start) / step + _SURE) + 1
    return Steps(start=start, step=step, count=count)


def _value(key: str, text: str, *, number: bool) -> Swept:
    word = text.strip().strip('"')
    if not word:
        raise InputError("--over", key, "", "a list without an empty value")
    if not number:
        return word
    try:
        value = float(word)
    except ValueError:
        return word  # a text with its unit, which the reader of the piece file knows
    if not math.isfinite(value):
        raise InputError("--over", f"{key}={word}", "", "a finite number")
    return int(value) if value.is_integer() else value
