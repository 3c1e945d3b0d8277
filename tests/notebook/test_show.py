"""A result shows itself in a notebook, says what the page says, and disturbs nothing."""

import re
import subprocess
import sys
from dataclasses import replace
from xml.dom import minidom

import numpy as np
import pytest

import pourcast
from pourcast.change.model import Ranking
from pourcast.errors import InputError
from pourcast.forecast.model import Calibration, Forecast, Override
from pourcast.learn.model import Measured
from pourcast.learn.pull_down_fit import PullDown
from pourcast.learn.solve import learn
from pourcast.notebook import SHOWN, html, svg
from pourcast.notebook.look import picture, rules, with_own_names
from pourcast.page import words, words_change

CALIBRATION = Calibration(
    name="A pull-down <b>",
    overrides=(
        Override(
            key="investment.flow.permeability_burnt",
            value=2e-13,
            low=1.5e-13,
            high=2.6e-13,
            source="pull-down",
        ),
    ),
)


def measured(permeability: float) -> Measured:
    """Return what a pull-down hands on."""
    return Measured(
        key="investment.flow.permeability_burnt",
        value=permeability,
        error=0.07,
        relative=True,
        name="pull-down",
    )


@pytest.fixture(scope="module")
def forecast() -> Forecast:
    sheet = pourcast.new_sheet("Poppy <head> & stem").replace("# litres = 30", "litres = 30")
    result = pourcast.forecast(pourcast.read_plan(sheet), draws=30, rng=1)
    assert isinstance(result, Forecast)
    return result


def test_forecast_says_the_headline_and_every_part_of_the_page(forecast: Forecast) -> None:
    shown = html(forecast)

    assert words.headline(forecast) in shown
    assert words.spread(forecast) in shown
    for line in words.not_known(forecast):
        assert line.split(".")[0] in shown
    for part in forecast.parts:
        assert f">{part.name}<" in shown


def test_what_the_caster_wrote_is_text_and_never_markup(forecast: Forecast) -> None:
    """A name is text, as on the page."""
    assert "Poppy &lt;head&gt; &amp; stem" in html(forecast)
    assert "<head>" not in html(forecast)
    assert "A pull-down &lt;b&gt;" in html(CALIBRATION)


@pytest.mark.parametrize("what", ["forecast", "burnout", "freeze"])
def test_picture_stands_by_itself(forecast: Forecast, what: str) -> None:
    """XML of its own with a size and a style, and nothing that is fetched."""
    result = forecast if what == "forecast" else getattr(forecast, what)

    tree = minidom.parseString(svg(result)).documentElement

    assert tree is not None
    assert tree.tagName == "svg"
    assert int(tree.getAttribute("width")) > 0
    assert tree.getElementsByTagName("style")
    away = re.sub(r'xmlns="http://www.w3.org/2000/svg"', "", svg(result))
    assert "http" not in away


def test_records_have_the_methods_that_notebooks_ask_for(forecast: Forecast) -> None:
    assert [record for record in SHOWN if not hasattr(record, "_repr_html_")] == []
    assert forecast._repr_html_() == html(forecast)  # type: ignore[attr-defined]
    assert forecast._repr_svg_() == svg(forecast)  # type: ignore[attr-defined]


def test_style_reaches_nothing_but_its_own_frame() -> None:
    """Every selector begins with the class of the frame."""
    selectors = [
        name.strip()
        for names in re.findall(r"([^{}]+)\{", rules().replace("\n", ""))
        for name in names.split(",")
    ]

    assert len(selectors) > 30
    assert [name for name in selectors if not name.startswith(".pourcast")] == []


def test_two_results_in_one_notebook_share_no_name(forecast: Forecast) -> None:
    """A name that comes twice would lead the second picture to the parts of the first."""
    other = replace(forecast, segment_chance=np.zeros_like(forecast.segment_chance))
    names = [set(re.findall(r'\bid="([^"]+)"', html(each))) for each in (forecast, other)]

    assert names[0]
    assert names[0] & names[1] == set()


def test_what_points_to_a_name_moves_with_it() -> None:
    drawn = (
        '<svg aria-labelledby="a b"><g id="a"/><use href="#a"/><p id="b"/><i x="url(#b)"/></svg>'
    )

    moved = with_own_names(drawn)

    mark = re.findall(r'id="a-(\w+)"', moved)[0]
    assert f'aria-labelledby="a-{mark} b-{mark}"' in moved
    assert f'href="#a-{mark}"' in moved
    assert f"url(#b-{mark})" in moved


def test_a_drawing_without_a_size_is_refused() -> None:
    with pytest.raises(ValueError, match="viewBox"):
        picture("<svg></svg>")


def test_calibration_shows_what_was_thought_before_and_now() -> None:
    shown = html(CALIBRATION)

    assert "how easily gas leaves through the block" in shown
    assert "2\u00a0×\u00a010⁻¹³" in shown
    assert "1\u00a0×\u00a010⁻¹³" in shown


def test_pull_down_says_what_it_found() -> None:
    found = PullDown(
        permeability=3e-13,
        permeability_error=0.07,
        leak=0.0,
        leak_error=0.0,
        pump=None,
        left_over=500.0,
        readings=40,
        measured=measured(3e-13),
    )

    assert "3e-13 m²" in html(found)
    assert "No covered run" in html(found)


def test_what_was_learnt_shows_before_and_now() -> None:
    """One measured value, known to 7 %, narrows its range; the row says from what to what."""
    found = learn([], [measured(3e-13)])

    shown = html(found)

    assert "1 test" in shown
    assert "how easily gas leaves through the block" in shown
    assert "3e-13" in shown


def test_ranking_shows_its_answer_when_nothing_helps(forecast: Forecast) -> None:
    ranking = Ranking(plan=forecast.plan, chance=0.5, changes=(), draws=30, seed=1)

    assert words_change.first(ranking) in html(ranking)


def test_a_thing_that_has_no_picture_is_refused() -> None:
    with pytest.raises(TypeError, match="int has no picture"):
        html(3)
    with pytest.raises(TypeError, match="Calibration has no picture"):
        svg(CALIBRATION)


@pytest.mark.parametrize("first", ["import IPython", "pass"])
def test_import_lends_the_methods_in_a_notebook_only(first: str) -> None:
    """Elsewhere `import pourcast` stays light: no page, no numpy."""
    code = (
        f"{first}\nimport sys\nimport pourcast\nhere = 'pourcast.notebook' in sys.modules\n"
        "light = 'numba' not in sys.modules\n"
        "print(here, light, hasattr(__import__('pourcast.forecast.model', fromlist=['x'])"
        ".Forecast, '_repr_html_'))"
    )

    said = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()

    assert said == (["True", "False", "True"] if "IPython" in first else ["False", "True", "False"])


def test_errors_keep_their_own_words() -> None:
    """What a notebook shows of a fault is the sentence of the fault."""
    with pytest.raises(InputError, match="draws"):
        pourcast.forecast(pourcast.read_plan(pourcast.new_sheet("x")), draws=0)
