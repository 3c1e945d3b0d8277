"""Over: what may be written after --over, and what is said of what may not.

House rules; no outside number belongs to them.
"""

import pytest

from pourcast.errors import InputError
from pourcast.sweep.cells import duration, plan_at, require_few_enough, require_sweep
from pourcast.sweep.over import read_over
from tests.sweep.small import plan, sweep


def values(text: str) -> list[object]:
    """Return the values that a text means for the small piece."""
    axis = read_over(text, plan())
    return [axis.at(place) for place in range(axis.count)]


@pytest.mark.parametrize(
    ("text", "want"),
    [
        ("flask.temperature_C=450:700:125", [450, 575, 700]),
        ("flask.temperature_C=450:690:125", [450, 575]),
        ("part.stem.diameter_mm=2:2.3:0.1", [2, 2.1, 2.2, 2.3]),
        ("assist.vacuum_kPa=0,30,60,85", [0, 30, 60, 85]),
        ("investment.water_to_powder=38:100,40:100", ["38:100", "40:100"]),
        ("investment.water_to_powder=40:100", ["40:100"]),
        ("flask.temperature_C=500, 1000 F", [500, "1000 F"]),
        ("flask.wall=solid,perforated", ["solid", "perforated"]),
        ('part."spine.long".count=3,4', [3, 4]),
        ("flask.temperature_C=600", [600]),
    ],
)
def test_values_are_read(text: str, want: list[object]) -> None:
    assert values(text) == want


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("flask.temprature_C=450:700:25", "did you mean temperature_C"),
        ("flask.temperature=450:700:25", "did you mean temperature_C"),
        ("flask.temperature_F=450:700:25", "did you mean temperature_C"),
        ("flsk.temperature_C=1,2", "did you mean flask"),
        ("part.stm.diameter_mm=1,2", "did you mean stem"),
        ("part.stem.diametre_mm=1,2", "did you mean diameter_mm"),
        ("kiln.step.1.hold_h=1,2", r"number of a \[\[kiln.step\]\]"),
        ("flask.temperature_C=450F:700F:25F", "three plain numbers in °C"),
        ("flask.temperature_C=700:450:25", "range that is not empty"),
        ("flask.temperature_C=450:700:0", "range that is not empty"),
        ("flask.temperature_C=450:700:-25", "range that is not empty"),
        ("flask.temperature_C=nan:700:25", "range that is not empty"),
        ("flask.temperature_C=450,,500", "without an empty value"),
        ("flask.temperature_C=450,450", "each value once"),
        ("flask.temperature_C=inf", "finite number"),
        ("flask.temperature_C=", "KEY=FROM:TO:STEP"),
        ("flask.temperature_C", "KEY=FROM:TO:STEP"),
        ("=1,2", "KEY=FROM:TO:STEP"),
        ("name=a,b", "a key of the piece file"),
        ("part.stem.name=a,b", "holds a number or one of a few words"),
        ("", "KEY=FROM:TO:STEP"),
    ],
)
def test_what_cannot_be_swept_is_refused_with_the_cure(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_over(text, plan())


@pytest.mark.parametrize(
    ("over", "said"),
    [
        ("flask.temperature_C=450:2000:50", "flask.temperature_C=.*must be"),
        ("flask.temperature_C=500 mm,600", "flask.temperature_C=500 mm"),
        ("flask.wall=solid,glass", "flask.wall=glass"),
    ],
)
def test_a_value_outside_its_limits_is_refused_before_the_start(over: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        require_sweep(sweep(over))


def test_a_key_is_swept_once() -> None:
    with pytest.raises(InputError, match="each key once"):
        require_sweep(sweep("flask.temperature_C=500,600", "flask.temperature_C=450:700:25"))


def test_a_thousand_million_cells_are_refused_with_their_number_and_what_they_take() -> None:
    """Nothing is made of them first: a list would not fit in memory."""
    huge = sweep(
        "flask.temperature_C=400:700:0.3",
        "assist.vacuum_kPa=0.1:100:0.1",
        "metal.pour_temperature_C=1100:1200:0.1",
    )

    with pytest.raises(InputError, match="1 002 001 000") as fault:
        require_few_enough(huge, 0.5, 2)
    assert "about 8 years" in str(fault.value)


def test_no_vacuum_is_a_pour_without_a_pump() -> None:
    """Common practice, no source: a gauge at 0 and gravity are one pour."""
    cells = sweep("assist.vacuum_kPa=0,30")
    first, second = plan_at(cells, 0), plan_at(cells, 1)

    assert (first.assist.kind, first.assist.vacuum) == ("gravity", None)
    assert (second.assist.kind, second.assist.vacuum) == ("vacuum", 30e3)


def test_the_last_key_goes_through_its_values_first() -> None:
    cells = sweep("flask.temperature_C=500,600", "assist.vacuum_kPa=10,20,30")

    assert [cells.values(cell) for cell in (0, 1, 3, 5)] == [
        (500, 10),
        (500, 20),
        (600, 10),
        (600, 30),
    ]


@pytest.mark.parametrize(
    ("seconds", "words"), [(0.2, "1 s"), (3000, "50 min"), (1e5, "28 h"), (1e6, "12 days")]
)
def test_times_are_told_in_words(seconds: float, words: str) -> None:
    assert duration(seconds) == words
