"""Scene: what is drawn in the round is the network, and the table says the same."""

import json
from pathlib import Path

import numpy as np
import pytest

from pourcast.app.scene import scene
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.sheet import read_plan

HOLLY = Path("examples/sea_holly.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def said() -> Forecast:
    return forecast(read_plan(HOLLY), draws=10)


def test_segments_are_those_of_the_network_in_millimetres(said: Forecast) -> None:
    """Exact case: the same places, a thousand times as large; rounded to 0.1 µm."""
    made = scene(said)["segments"]
    start = np.array(made["start_mm"]).reshape(-1, 3)

    assert start == pytest.approx(said.network.start_position * 1000.0, abs=1e-4)
    assert np.array(made["chance"]) == pytest.approx(said.segment_chance, abs=1e-4)
    across = np.array(made["across"]).reshape(-1, 3)
    assert np.linalg.norm(across, axis=1) == pytest.approx(1.0, abs=1e-3)


def test_scene_is_plain_json(said: Forecast) -> None:
    """RFC 8259: no number that is not finite."""
    text = json.dumps(scene(said), allow_nan=False)

    assert json.loads(text)["parts"] == ["stem", "head", "bract", "spine", "floret"]


def test_burnout_keeps_its_ends_and_its_peak(said: Forecast) -> None:
    """Exact case: thinned, a curve still begins, ends and is as hot as it was."""
    made = scene(said)["burnout"]
    assert said.burnout is not None
    burnt = said.burnout

    assert made["time_h"][-1] == pytest.approx(float(burnt.time[-1]) / 3600.0, abs=1e-4)
    assert made["kiln_C"][0] == pytest.approx(float(burnt.kiln[0]) - 273.15, abs=0.06)
    assert max(made["core_C"]) == pytest.approx(float(burnt.core[1].max()) - 273.15, abs=2.0)
