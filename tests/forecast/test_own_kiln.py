"""The kiln of the studio in the place of that of the records."""

import pytest

from pourcast.errors import InputError
from pourcast.forecast.model import Calibration, Override
from pourcast.forecast.own_kiln import with_own_kiln
from pourcast.materials import library


def own(value: float, key: str = "kiln.fastest_ramp", low: float = 100.0) -> Override:
    return Override(key=key, value=value, low=low, high=900.0, source="a day")


def test_what_was_learnt_stands_in_the_place_of_the_record() -> None:
    """Exact: 250 K/h are 250/3600 K/s; every other value stays."""
    book = library()
    film = own(1.1, "pour.film_factor")

    found, rest = with_own_kiln(book, Calibration(name="day", overrides=(own(250.0), film)))

    assert found.kiln["fastest_ramp"].si == pytest.approx(250.0 / 3600.0)
    assert found.kiln["fastest_ramp"].source == "a day"
    assert found.kiln["fastest_cooling"] == book.kiln["fastest_cooling"]
    assert found.pour["film_factor"] == book.pour["film_factor"]
    assert rest is not None
    assert rest.overrides == (film,)


def test_nothing_learnt_of_the_kiln_changes_nothing() -> None:
    book = library()
    other = Calibration(name="day", overrides=(own(1.1, "pour.film_factor"),))

    assert with_own_kiln(book, None) == (book, None)
    assert with_own_kiln(book, other) == (book, other)
    assert with_own_kiln(book, Calibration(name="day", overrides=(own(250.0),)))[1] is None


@pytest.mark.parametrize(("value", "low"), [(50.0, 100.0), (250.0, 0.0), (1000.0, 100.0)])
def test_a_value_outside_its_own_range_is_refused(value: float, low: float) -> None:
    with pytest.raises(InputError):
        with_own_kiln(library(), Calibration(name="day", overrides=(own(value, low=low),)))
