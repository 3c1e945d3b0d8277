"""Any text is read or refused with a `SheetError`, and nothing else ever comes out.

A sheet without fault is damaged in one to four places: a value changed for one
out of a pool of nasty ones, a key renamed, lines lost, doubled, swapped, a
character put in.  Source: none is needed; the claim is about errors alone.
"""

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from pourcast.errors import SheetError
from pourcast.materials import library
from pourcast.piece import limits
from pourcast.sheet import decode, read_plan
from tests.sheet.small import SMALL
from tests.sheet.test_lines import TRICKY
from tests.sheet.test_read import FULL

BASES = tuple(tuple(text.split("\n")) for text in (SMALL, FULL))

NASTY = (
    *("0", "-1", "-0.0", "1e6", "1000000", "1e308", "-1e308", "5e-324", "1e-320", "nan", "inf"),
    *("true", "[]", "[1]", "[1, 2]", "[0, 1]", "[2, 1, 0]", '[1, "2 in"]', "[[1]]", "[true, 1]"),
    *("{}", "{a = 1}", "1979-05-27", "07:32:00", "9" * 40, "0x10", "1_000", "2000", "1999", "1"),
    *('""', '" "', '"button"', '"stem"', '"leaf"', '"bud"', '"rod"', '"blade"', '"lump"', '"x"'),
    *('"3 in"', '"3/0 in"', '"3/16"', '"27 inHg"', '"1400 F 20 C"', '"-5 mm"', '"1e999 mm"'),
    *('"40:100"', '"40:0"', '"50 %"', '"90 deg"', '"2 h 30 min"', '"12 C/min"', '"1,500 mm"'),
    *('"vacuum"', '"gravity"', '"casting"', '"CuSn10"', '"copper"', '"air"', '"a\\u0000b"'),
    *('["wire"]', '["Bone ", "wier"]', "[[], {}]", '"dry"', '"covered"', '["" ]', '["\\ud800"]'),
    *("'''a\nb'''", '"""x"""', '"unclosed', "[1,", "{", "mm", "3 mm", "", "é", '"\\ud800"'),
)
LINES = (
    *("[flask]", "[[flask]]", "[part]", "[[part]]", "[[vent]]", "[kiln.step]", "[[kiln.step]]"),
    *("part = [1]", "vent = [{}, 1]", "step = [1]", "step = 3", "part = 3", "kiln = [{}]"),
    *("[scan]", "[photo]", "[part.x]", "[x]", "[[x]]", "flask = 1", "part = []", "a.b.c = 1"),
    *("[original]", 'holds = ["wire"]', 'holds = "bone"', 'state = "fresh"', "days_dried = 1e9"),
    *("count = 2000", 'on = "leaf"', 'on = "bud"', 'tip_on = "leaf"', 'shape = "lump"', "]", '"""'),
    *('name = "stem"', "at = 0.5", "coat_mm = 20", "diameter_mm = 1", "width_mm = 1", "'''", "="),
)
KINDS = st.sampled_from(["value"] * 9 + ["key", "cut", "double", "swap", "line", "letter"])
DAMAGE = st.tuples(KINDS, st.integers(0, 10_000), st.integers(0, 10_000))


def damaged(lines: list[str], kind: str, place: int, choice: int) -> list[str]:
    """Return the lines of a sheet with one damage done to them."""
    if not lines:
        return lines
    pairs = [at for at, line in enumerate(lines) if " = " in line]
    at = pairs[place % len(pairs)] if kind in ("value", "key") and pairs else place % len(lines)
    line = lines[at]
    key, _, value = line.partition(" = ")
    other = choice % len(lines)
    if kind == "value":
        return [*lines[:at], f"{key} = {NASTY[choice % len(NASTY)]}", *lines[at + 1 :]]
    if kind == "key":
        return [*lines[:at], f"{key[::-1] if choice % 2 else key[:-1]} = {value}", *lines[at + 1 :]]
    if kind == "cut":
        return lines[:at] + lines[at + 1 + choice % 4 :]
    if kind == "double":
        return [*lines[:at], line, *lines[at:]]
    if kind == "swap":
        swapped = list(lines)
        swapped[at], swapped[other] = swapped[other], swapped[at]
        return swapped
    if kind == "line":
        return [*lines[:at], LINES[choice % len(LINES)], *lines[at:]]
    letter = "\"'[]{}=.,#\n\\ \t\x00é"[choice % 16]
    cut = choice % (len(line) + 1)
    return [*lines[:at], line[:cut] + letter + line[cut:], *lines[at + 1 :]]


def read_or_refuse(text: str) -> None:
    """Read a text; whatever is refused must be told well, whatever is read must be of use."""
    refused: SheetError | None = None
    try:
        plan = read_plan(text, file="any.toml")
    except SheetError as error:
        refused = error
    if refused is None:
        limits.check(plan.piece)
        assert plan.piece.button.gate_diameter <= plan.piece.button.diameter
        assert (plan.assist.kind == "vacuum") == (plan.assist.vacuum is not None)
        assert set(plan.original.holds) <= set(library().matter)
        assert plan.kiln.flasks >= 1
        return
    assert refused.faults
    assert all(1 <= fault.line <= text.count("\n") + 1 for fault in refused.faults)
    assert all(fault.key and fault.text for fault in refused.faults)
    told = str(refused).split("\n")
    assert len(told) == len(refused.faults)
    assert all(line.startswith("any.toml:") for line in told)


QUICK = settings(
    deadline=None, suppress_health_check=list(HealthCheck), database=None, derandomize=True
)


@pytest.mark.parametrize("examples", [2000, pytest.param(10_000, marks=pytest.mark.long)])
def test_a_damaged_sheet_is_read_or_refused(examples: int) -> None:
    @settings(QUICK, max_examples=examples)
    @given(st.integers(0, len(BASES) - 1), st.lists(DAMAGE, min_size=1, max_size=4))
    def damage(base: int, damages: list[tuple[str, int, int]]) -> None:
        lines = list(BASES[base])
        for kind, place, choice in damages:
            lines = damaged(lines, kind, place, choice)
        read_or_refuse("\n".join(lines))

    damage()


@settings(QUICK, max_examples=1000)
@given(st.lists(st.sampled_from([*LINES, *NASTY, *SMALL.split("\n"), *TRICKY.split("\n")])))
def test_lines_in_any_order_are_read_or_refused(lines: list[str]) -> None:
    read_or_refuse("\n".join(lines))


@settings(QUICK, max_examples=1000)
@given(st.text(alphabet=st.characters(codec=None) | st.sampled_from("[]{}\"'=.,#\n\\ abc019-")))
@example("\ud800")
@example("\ufeff")
@example("a = " + "[" * 3000)
@example("\r\r\n\x0b")
def test_any_text_is_read_or_refused(text: str) -> None:
    read_or_refuse(text)


@settings(QUICK, max_examples=500)
@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    try:
        text = decode(data)
    except SheetError:
        return
    read_or_refuse(text)
