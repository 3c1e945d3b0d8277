"""Forecasts of the examples, made once for all tests of this folder."""

from functools import cache

import pytest

from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.sheet import read_plan
from tests.gating.shelf import NAMES, text_of


@cache
def said_of(name: str) -> Forecast:
    """Return the forecast of an example over 60 draws."""
    return forecast(read_plan(text_of(name)), draws=60, rng=0)


@pytest.fixture(params=NAMES)
def example(request: pytest.FixtureRequest) -> tuple[str, Forecast]:
    """Give the text of each example in turn, and its forecast."""
    return text_of(request.param), said_of(request.param)


@pytest.fixture
def holly() -> Forecast:
    """Give the forecast of the sea holly."""
    return said_of("sea_holly")


@pytest.fixture
def larch() -> Forecast:
    """Give the forecast of the larch twig."""
    return said_of("larch_twig")
