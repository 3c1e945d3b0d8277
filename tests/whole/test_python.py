"""From Python: the package is light to import, and its few names do what the page says."""

import doctest
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import pourcast
from pourcast.errors import SheetError
from pourcast.forecast.model import Forecast
from tests.forecast.hand import alike, example

ROOT = Path(__file__).parents[2]


def run(code: str) -> str:
    """Return what a fresh interpreter prints."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code], capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def test_import_of_the_package_loads_no_heavy_library() -> None:
    """Our own rule: `pourcast --help` and a version must not wait for numpy and numba."""
    heavy = "numpy numba scipy jinja2 rich typer pourcast.forecast pourcast.pour"

    loaded = run(f"import sys, pourcast; print([m for m in '{heavy}'.split() if m in sys.modules])")

    assert loaded == "[]"


def test_a_plan_that_is_read_needs_no_kernel() -> None:
    """Reading a piece file must not start the compiler."""
    code = "import sys, pourcast; pourcast.read_plan(pourcast.new_sheet('x'))"

    assert run(f"{code}; print('numba' in sys.modules)") == "False"


@pytest.mark.parametrize(
    "code",
    [
        "import pourcast; f = pourcast.forecast",
        "from pourcast import forecast as f",
        "from pourcast.forecast.solve import forecast as f",
        "import pourcast.forecast.solve; import pourcast; f = pourcast.forecast",
        "from pourcast.forecast.solve import forecast; import pourcast; f = pourcast.forecast",
        "import pourcast.forecast.document; from pourcast import forecast as f",
    ],
)
def test_a_forecast_can_be_called_however_it_is_imported(code: str) -> None:
    act = "p = pourcast.read_plan(pourcast.new_sheet('x')); print(f(p, draws=2).draws)"

    assert run(f"import pourcast; {code}; {act}") == "2"


def test_both_ways_give_the_same_forecast() -> None:
    from pourcast.forecast.solve import forecast

    plan = example("dragonfly")

    assert alike(pourcast.forecast(plan, draws=3), forecast(plan, draws=3))


def test_names_of_the_package_are_those_it_lists() -> None:
    for name in pourcast.__all__:
        assert getattr(pourcast, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'forcast'"):
        _ = pourcast.forcast


def test_examples_of_the_package_run() -> None:
    """Its docstring is the first thing that a reader tries."""
    outcome = doctest.testmod(pourcast)

    assert outcome.attempted > 0
    assert outcome.failed == 0


def test_from_text_to_document_in_four_lines() -> None:
    plan = pourcast.read_plan(pourcast.new_sheet("Poppy head"))
    made = pourcast.forecast(plan, draws=3)
    told = pourcast.document(made, version=pourcast.__version__)

    assert isinstance(made, Forecast)
    assert told["piece"]["name"] == "Poppy head"
    assert told["draws"] == 3


def test_a_file_with_faults_is_refused_with_all_of_them() -> None:
    with pytest.raises(SheetError) as caught:
        pourcast.read_plan('name = "x"')

    assert len(caught.value.faults) > 2


def test_a_plan_is_changed_by_a_copy() -> None:
    """A plan is frozen; what a caster tries out is a new one, and the old forecast stands."""
    plan = example("sea_holly")

    hot = replace(plan, flask=replace(plan.flask, temperature=950.0))

    assert hot != plan
    assert alike(pourcast.forecast(plan, draws=2), pourcast.forecast(plan, draws=2))


@pytest.mark.parametrize(
    "page", [*sorted(ROOT.glob("docs/*.md")), ROOT / "README.md"], ids=lambda page: page.name
)
def test_python_on_a_page_runs(page: Path) -> None:
    """A fenced block of Python that is shown is run from the root; one that cannot is a fault."""
    text = page.read_text(encoding="utf-8")

    for block in re.findall(r"^```(?:python|py)\n(.*?)^```", text, re.M | re.S):
        done = subprocess.run(
            [sys.executable, "-c", block], cwd=ROOT, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
