"""New, weigh, values, schema and help, as they are typed."""

import json
import re
from pathlib import Path

import pytest

from pourcast.cli.files import sheet_name
from pourcast.forecast.document import schema
from tests.cli.conftest import Typed

EXAMPLE = Path(__file__).parents[2] / "examples" / "fern_crozier.toml"
FEW = ("--draws", "10", "--threads", "1")


def test_new_sheet_is_forecast_as_it_is_written(typed: Typed, tmp_path: Path) -> None:
    """House rule: the sheet reads without fault, and says that its figures are no measures."""
    made = typed("new", "Poppy head")
    said = typed("forecast", "poppy_head.toml", *FEW)

    assert made.status == said.status == 0
    assert "pourcast forecast poppy_head.toml" in made.out
    assert said.out.startswith("Poppy head  (invented demo)\n")
    shown = " ".join(said.out.split())
    assert "the burnout is not worked out" in shown
    assert "nothing here has been held against measured castings" in shown


def test_new_sheet_writes_over_nothing(typed: Typed, tmp_path: Path) -> None:
    """House rule: what the caster has entered is never written over."""
    kept = tmp_path / "poppy_head.toml"
    kept.write_text("mine", encoding="utf-8")

    said = typed("new", "Poppy head")
    shown = typed("new", "Poppy head", "--out", "-")

    assert said.status == 2
    assert "--out" in said.err
    assert kept.read_text(encoding="utf-8") == "mine"
    assert shown.out.startswith("# Sheet of one piece.")
    assert [path.name for path in tmp_path.iterdir()] == ["poppy_head.toml"]


def test_new_sheet_may_be_asked_for_by_its_file(typed: Typed, tmp_path: Path) -> None:
    """House rule: who types the name of a file gets that file, with the piece named after it."""
    made = typed("new", "teasel.toml")

    assert "pourcast forecast teasel.toml" in made.out
    assert 'name = "teasel"' in (tmp_path / "teasel.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Poppy head, no. 3", "poppy_head_no_3.toml"),
        ("../../etc/Fern", "etc_fern.toml"),
        ("Frühlingsknöterich", "fruhlingsknoterich.toml"),
        ("ひいらぎ", "piece.toml"),
        ("x" * 200, "x" * 60 + ".toml"),
    ],
)
def test_file_name_is_made_of_letters_and_figures(name: str, file: str) -> None:
    """POSIX portable file names: letters, figures and "_"; no path, at most 60."""
    assert sheet_name(name) == file


def test_value_is_shown_with_its_range_and_source(typed: Typed) -> None:
    """House rule: value, range, kind and source; a part of a key lists, none counts."""
    one = typed("values", "pour.film_factor").out
    some = typed("values", "latent").out
    whole = typed("values").out

    for word in ("value", "range", "kind", "source"):
        assert re.search(rf"^  {word} ", one, flags=re.MULTILINE)
    assert len(some.splitlines()) > 3
    assert "values latent" in whole


def test_schema_that_is_written_is_the_one_that_is_kept(typed: Typed) -> None:
    """House rule: one schema."""
    assert json.loads(typed("schema").out) == schema()


def test_weigh_tells_the_masses_of_the_forecast(typed: Typed) -> None:
    """House rule: one figure, whichever command is asked; grams in both."""
    whole = json.loads(typed("forecast", str(EXAMPLE), *FEW, "--json").out)["weigh"]
    alone = json.loads(typed("weigh", str(EXAMPLE), "--draws", "10", "--json").out)
    said = typed("weigh", str(EXAMPLE), "--draws", "10").out

    for key in ("metal_g", "metal_low_g", "metal_high_g", "powder_g", "water_g"):
        assert alone[key] == whole[key]
    assert f"Powder   {whole['powder_g']:.0f} g" in said
    assert "silica dust" in said
    assert "Damp in mould" in said


def test_weigh_says_that_the_piece_does_not_fit_before_any_mass(
    typed: Typed, tmp_path: Path
) -> None:
    """House rule: what stops the caster stands first; no mass mends it."""
    text = EXAMPLE.read_text(encoding="utf-8")
    low = re.sub(r"(?m)^height_mm = \d+", "height_mm = 60", text, count=1)
    (tmp_path / "low.toml").write_text(low, encoding="utf-8")

    said = typed("weigh", "low.toml", "--draws", "10").out

    assert said.startswith("Stop.")
    assert said.index("too low") < said.index("Metal")


def test_flask_hotter_than_the_metal_is_refused_with_both_heats(
    typed: Typed, tmp_path: Path
) -> None:
    """House rule: what, its value with unit, what it must be, and what to change."""
    text = EXAMPLE.read_text(encoding="utf-8")
    text = re.sub(r"(?m)^pour_temperature_C = .*", "pour_temperature_C = 600", text)
    (tmp_path / "cold.toml").write_text(text, encoding="utf-8")

    said = typed("forecast", "cold.toml", *FEW)

    assert said.status == 2
    assert re.search(
        r"flask at the pour, in one draw is \d+ °C; .* cooler than the metal .*, \d+ °C", said.err
    )
    assert "Pour hotter" in said.err


@pytest.mark.parametrize("command", [(), ("new",), ("forecast",), ("weigh",), ("values",)])
def test_help_fits_and_names_no_place_of_a_machine(
    typed: Typed, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...]
) -> None:
    """House rule: no path; 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")

    said = typed(*command, "--help")

    assert said.status == 0
    assert all(len(line) <= 80 for line in said.out.splitlines())
    assert not re.search(r"/(home|work|root|usr|tmp)\b", said.out)
    assert said.out.startswith("Usage: pourcast")
