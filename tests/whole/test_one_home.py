"""A number that stands in a sentence is the value that is reckoned with, wherever it stands."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import pourcast
from pourcast import units as si
from pourcast.freeze.quench import FACE_HIGH, FACE_LOW
from pourcast.freeze.usual import USUAL_HOLD, USUAL_QUENCH
from pourcast.freeze.voxel_model import HOT_LIMITS
from pourcast.materials import library
from pourcast.mould import checks as mould_checks
from pourcast.runsheet.usual import USUAL
from pourcast.signs.table import SIGNS
from pourcast.signs.tells import TELLS, TOO_HOT

SOURCE = Path(pourcast.__file__).parent


def test_hard_stop_of_the_burnout_is_one_value() -> None:
    """House rule, section 2.6 of our style: a number that stands twice is wrong once.

    The cells and the network tell how long the face is over the stop; the JSON names it 760.
    """
    stop = library().investment["limits"]["burnout_peak_hard_stop"]

    assert stop.value == 760.0
    assert stop.si == FACE_LOW
    assert HOT_LIMITS == (FACE_LOW, FACE_HIGH)


def test_top_of_the_burnout_is_said_as_its_record_has_it() -> None:
    """House rule: cap and question of the signs, and what the book answers, come of one record."""
    top = library().investment["limits"]["burnout_peak_default"]
    remedies = [cause.remedy for sign in SIGNS.values() for cause in sign.causes]

    caps = [remedy for remedy in remedies if remedy.startswith("Cap the burnout")]
    assert len(caps) == 2
    assert {*caps} == {f"Cap the burnout at {top.value:.0f} °C."}
    assert f"{top.high:.0f} °C" in TELLS["hot_block"]
    assert top.si_high == TOO_HOT


def test_trade_times_of_the_run_sheet_are_those_of_the_freezing() -> None:
    for mine, theirs in ((USUAL.quench, USUAL_QUENCH), (USUAL.hold, USUAL_HOLD)):
        assert (mine.value, mine.low, mine.high, mine.source) == (
            theirs.value,
            theirs.low,
            theirs.high,
            theirs.source,
        )


def test_walls_and_mix_are_said_as_they_are_held_against() -> None:
    low, high = (1e3 * each for each in (mould_checks.USUAL_WALL, mould_checks.AMPLE_WALL))
    cool, warm = (
        si.from_si(each, "degC") for each in (mould_checks.COOLEST_MIX, mould_checks.WARMEST_MIX)
    )

    assert f"{low:.0f} to {high:.0f} mm" == mould_checks.USUAL_WALLS
    assert f"{cool:.0f} to {warm:.0f} °C" in mould_checks._MIX


def _lines() -> Iterator[tuple[str, str]]:
    for path in sorted(SOURCE.rglob("*.py")):
        for line in path.read_text(encoding="utf-8").splitlines():
            if '"' in line and "#" not in line:
                yield path.relative_to(SOURCE).as_posix(), line


@pytest.mark.parametrize(
    "said", [r"\b73[02] °C", r"\b760 °C", r"\b10 to 25 min", r"\b10 to 13 mm", r"\b1 to 3 min"]
)
def test_no_sentence_says_again_what_a_value_says(said: str) -> None:
    """House rule; doctests, docstrings of one line and examples of input are not sentences."""
    found = [
        (name, line.strip())
        for name, line in _lines()
        if re.search(said, line) and not name.startswith("trade_units/") and '"""' not in line
    ]

    assert found == []
