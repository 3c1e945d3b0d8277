"""Pictures with matplotlib show the numbers of the forecast."""

import builtins
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

import pourcast
from pourcast import plot
from pourcast.errors import InputError
from pourcast.forecast.model import Forecast


@pytest.fixture(scope="module")
def forecast() -> Forecast:
    sheet = pourcast.new_sheet("Poppy head").replace("# litres = 30", "litres = 30")
    result = pourcast.forecast(pourcast.read_plan(sheet), draws=30, rng=1)
    assert isinstance(result, Forecast)
    return result


@pytest.fixture(autouse=True)
def _off_screen() -> Iterator[None]:
    import matplotlib
    import matplotlib.pyplot as plt

    matplotlib.use("agg")
    yield
    plt.close("all")


def widths(axes: Any) -> list[float]:
    """Return how long each bar is."""
    return [bar.get_width() for bar in axes.patches]


def test_bars_are_the_chances_of_the_parts(forecast: Forecast) -> None:
    axes = plot.parts(forecast)

    bars = widths(axes)
    names = [label.get_text() for label in axes.get_yticklabels()]
    assert bars == pytest.approx([100.0 * part.chance_full for part in forecast.parts])
    assert names == [part.name for part in forecast.parts]


def test_each_segment_is_drawn_where_it_stands(forecast: Forecast) -> None:
    """Side view: x across, z up, in mm."""
    axes = plot.network(forecast.network, forecast.segment_chance, label="reached")

    (lines,) = axes.collections
    drawn: Any = lines
    ends = np.array([segment[-1] for segment in drawn.get_segments()])
    assert ends == pytest.approx(1e3 * forecast.network.end_position[:, (0, 2)])
    assert np.asarray(drawn.get_array()) == pytest.approx(forecast.segment_chance)


def test_network_without_values_is_drawn_alike(forecast: Forecast) -> None:
    (lines,) = plot.network(forecast.network).collections

    assert lines.get_array() is None


def test_values_for_other_segments_are_refused(forecast: Forecast) -> None:
    with pytest.raises(InputError, match="segments"):
        plot.network(forecast.network, np.zeros(3))


def test_day_is_drawn_in_hours_and_degrees(forecast: Forecast) -> None:
    assert forecast.burnout is not None

    axes = plot.burnout(forecast.burnout)

    kiln = axes.lines[0]
    assert np.asarray(kiln.get_xdata()) == pytest.approx(forecast.burnout.time / 3600.0)
    assert np.asarray(kiln.get_ydata()) == pytest.approx(forecast.burnout.kiln - 273.15)


def test_strongest_unknown_stands_first(forecast: Forecast) -> None:
    axes = plot.unknowns(forecast, most=4)

    bars = [abs(width) for width in widths(axes)]
    assert len(bars) == 4
    assert bars == sorted(bars, reverse=True)
    assert bars[0] == max(abs(each.rank_correlation) for each in forecast.unknowns)


def test_axes_that_are_given_are_used(forecast: Forecast) -> None:
    import matplotlib.pyplot as plt

    _, given = plt.subplots()

    assert plot.parts(forecast, given) is given


def test_missing_matplotlib_says_what_to_install(
    forecast: Forecast, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = builtins.__import__

    def without(name: str, *arguments: Any, **options: Any) -> Any:
        if name.startswith("matplotlib"):
            raise ImportError(name)
        return real(name, *arguments, **options)

    monkeypatch.setattr(builtins, "__import__", without)

    with pytest.raises(ImportError, match=r"pourcast\[plot\]"):
        plot.parts(forecast)
