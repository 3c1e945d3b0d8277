"""Learning and the tests of a studio, as they are typed; house rules, so no outside number."""

import json
from pathlib import Path

import numpy as np
import pytest

from pourcast.cli.learn import calibration_from
from pourcast.errors import InputError
from pourcast.learn.pull_down import axial_shape, pressure
from tests.cli.conftest import Typed
from tests.forecast.hand import example
from tests.learn.test_pull_down import AIR, through

EXAMPLES = Path(__file__).parents[2] / "examples"
DATA = ("--data", "book")
QUICK = ("--bank", "100", "--draws", "500", "--threads", "1")


def gauge_file(path: Path, *, covered: bool) -> str:
    """Write what the gauge of 4 l reads on a block of 1e-13 m², its seals letting in 2 ml/s."""
    rate = 0.0 if covered else through(1e-13, axial_shape(0.038, 0.1))
    time = np.linspace(0.0, 400.0, 30)
    told = pressure(time, 2e4, air=AIR, volume=4e-3, pump=0.0, through=rate, leak=2e-6)
    rows = [f"{t:.1f},{(AIR - p) / 1e3:.3f}" for t, p in zip(time, told, strict=True)]
    path.write_text("seconds,kPa\n" + "\n".join(rows) + "\n", encoding="utf-8")
    return str(path)


def test_pull_down_is_told_before_and_after_and_then_learnt_from(
    typed: Typed, tmp_path: Path
) -> None:
    words = (
        "test", "pull-down", "--open", gauge_file(tmp_path / "open.csv", covered=False),
        "--covered", gauge_file(tmp_path / "lid.csv", covered=True),
        "--chamber-l", "4", "--flask-mm", "76", "--height-mm", "100",
    )  # fmt: skip

    said = typed(*words)

    assert said.status == 0, said.err
    assert "1e-13 m² (" in said.out
    assert "before the test 1e-13 (2.35e-14 to 6.5e-13)" in said.out
    assert "Not kept" in said.out
    assert "hot flask" in said.out
    kept = typed(*words, "--keep", "--json", *DATA)
    tree = json.loads(kept.out)
    assert tree["kept"]
    assert tree["measured"][0]["value"] == pytest.approx(1e-13, rel=0.01)
    learnt = typed("learn", "--json", *QUICK, *DATA)
    assert learnt.status == 0, learnt.err
    found = json.loads(learnt.out)["learnt"]
    assert (found["outcomes"], found["tests"]) == (0, 1)
    assert found["overrides"][0]["key"] == "investment.flow.permeability_burnt"


def test_outcome_is_learnt_and_taken_by_the_forecast_until_it_is_switched_off(
    typed: Typed, tmp_path: Path
) -> None:
    text = (EXAMPLES / "larch_twig.toml").read_text(encoding="utf-8")
    # Without its kiln the burnout is not followed, and an example costs a second.
    lines = [line for line in text.splitlines() if not line.startswith("litres")]
    (tmp_path / "twig.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    piece = "twig.toml"
    few = ("--draws", "20", "--threads", "1")
    assert typed("book", "keep", piece, *few, *DATA).status == 0
    short = example("larch_twig").piece.parts[-1].name
    assert typed("outcome", piece, "--part", f"{short}=short", *DATA).status == 0

    said = typed("learn", "--all", "--bank", "400", *QUICK[2:], *DATA)

    assert said.status == 0, said.err
    assert "Learnt from 1 outcome and 0 tests." in said.out
    assert "now" in said.out
    shown = typed("learn", "--show", "--json", *DATA)
    tree = json.loads(shown.out)
    assert tree["switched_on"]
    assert tree["learnt"]["overrides"]
    told = json.loads(
        typed("forecast", piece, "--json", "--calibration", str(tmp_path / "book"), *few).out
    )
    assert told["calibration"] == tree["learnt"]["name"]
    again = typed("book", "keep", piece, *few, *DATA)
    assert again.status == 0
    off = typed("learn", "--off", *DATA)
    assert "off: forecasts take the book of values alone" in off.out
    told = json.loads(
        typed("forecast", piece, "--json", "--calibration", str(tmp_path / "book"), *few).out
    )
    assert told["calibration"] is None
    assert "; on." in typed("learn", "--on", *DATA).out
    assert "Nothing was learnt yet" in typed("learn", "--reset", *DATA).out


def test_fan_is_designed_cast_and_taken_in(typed: Typed, tmp_path: Path) -> None:
    piece = str(EXAMPLES / "sea_holly.toml")

    said = typed(
        "test", "fan", piece, "--strips", "3", "--out", "fan.toml", "--svg", "fan.svg",
        "--threads", "1",
    )  # fmt: skip

    assert said.status == 0, said.err
    assert "bits" in said.out
    assert "steam" in said.out
    assert (tmp_path / "fan.svg").read_text(encoding="utf-8").startswith("<svg")
    sheet = tmp_path / "fan.toml"
    text = sheet.read_text(encoding="utf-8").replace("litres = 30", "")
    sheet.write_text(text, encoding="utf-8")
    kept = typed("book", "keep", "fan.toml", "--draws", "20", "--threads", "1", *DATA)
    assert kept.status == 0, kept.err
    strip = next(line.split('"')[1] for line in text.splitlines() if '"rod ' in line)
    ran = typed("test", "fan", "fan.toml", "--ran", f"{strip}=0", *DATA)
    assert ran.status == 0, ran.err
    learnt = typed("learn", "--json", *QUICK, *DATA)
    found = json.loads(learnt.out)["learnt"]
    assert (found["outcomes"], found["tests"]) == (0, 1)


def test_weighed_block_and_logged_day_are_told(typed: Typed, tmp_path: Path) -> None:
    said = typed("test", "block", "--set-g", "1400", "--kiln-g", "1370", "--powder-g", "1000")
    assert said.status == 0, said.err
    assert "of its free water" in said.out
    minutes = np.arange(0, 720, 15)
    rows = ["time,temperature_C,dial"]
    heat = 20.0
    for minute in minutes:
        dial = 2 if minute < 400 else 0
        rows.append(f"{minute // 60}:{minute % 60:02d},{heat:.1f},{dial}")
        heat += 0.25 * (140.0 * (dial > 0) - 0.2 * (heat - 20.0))
    (tmp_path / "day.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")

    day = typed("test", "day", "day.csv", "--keep", *DATA)

    assert day.status == 0, day.err
    assert "loses 0.2" in day.out or "loses 0.19" in day.out
    second = typed("test", "day", "day.csv", *DATA)
    assert "Before this day" in second.out


@pytest.mark.parametrize("kind", ["pull-down", "block"])
def test_how_a_test_is_made_stands_beside_what_to_mind(typed: Typed, kind: str) -> None:
    said = typed("test", kind, "--how")

    assert said.status == 0
    assert "dust" in said.out


@pytest.mark.parametrize(
    "words",
    [
        ("learn", "--off", "--on"),
        ("test", "pull-down"),
        ("test", "block"),
        ("forecast", str(EXAMPLES / "sea_holly.toml"), "--calibration", "nowhere"),
    ],
)
def test_wrong_use_ends_with_2(typed: Typed, words: tuple[str, ...]) -> None:
    assert typed(*words).status == 2


def test_nothing_to_learn_from_is_said(typed: Typed) -> None:
    assert "nothing to learn from" in typed("learn", *DATA).out


def test_folder_without_a_book_is_refused_and_left_alone(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="folder of a book"):
        calibration_from(str(tmp_path), example("sea_holly"))
    assert list(tmp_path.iterdir()) == []
