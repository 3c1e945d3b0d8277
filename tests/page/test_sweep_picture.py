"""Words and picture of a sweep, held against rows written by hand.

House rules: the answer in one line, numbers beside colours, limits drawn where they begin.
"""

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from pourcast.page.svg_sweep import sweep_picture
from pourcast.page.words_sweep import answer, limit_words
from pourcast.sweep.limits import limits_of
from pourcast.sweep.model import Axis, Row, Steps, Sweep

HOT = ("pour//°C/x", "The flask is as hot as the metal is when it has frozen <&>.")
HEAT = Axis(
    key="flask.temperature_C",
    path=("flask", "temperature_C"),
    unit="°C",
    values=Steps(start=500.0, step=50.0, count=5),
)
VACUUM = Axis(
    key="assist.vacuum_kPa", path=("assist", "vacuum_kPa"), unit="kPa", values=(0, 30, 60, 85)
)
WALL = Axis(key="flask.wall", path=("flask", "wall"), unit="", values=("solid", "perforated"))


def made(*axes: Axis, stop_from: float = 700.0) -> tuple[Sweep, list[Row]]:
    """Return a sweep whose chance rises with heat and vacuum along one slanted line."""
    asked = Sweep(text="", axes=axes, draws=400, seed=0)
    rows = []
    for cell in range(asked.cells):
        values = asked.values(cell)
        size = sum(float(value) / (50.0 if value > 100 else 15.0) for value in values
                   if not isinstance(value, str))  # fmt: skip
        chance = 1.0 / (1.0 + math.exp(14.0 - size))
        hot = any(not isinstance(value, str) and value >= stop_from for value in values)
        rows.append(
            Row(
                cell=cell,
                values=values,
                chance=chance,
                low=0.9 * chance,
                high=min(1.0, 1.1 * chance),
                ending="whole",
                part="spine",
                cause="gas",
                stops=(HOT,) if hot else (),
                fault="",
            )
        )
    return asked, rows


def test_the_answer_names_the_best_cell_that_nothing_stops() -> None:
    asked, rows = made(HEAT, VACUUM)

    without = [replace(row, chance=0.02) if row.values[1] == 0 else row for row in rows]

    said = answer(asked, without)

    assert said.startswith("Best: flask at the pour 650 °C, vacuum 85 kPa: ")
    assert said.endswith("; no vacuum: nothing helps.")


def test_that_nothing_helps_is_said_plainly() -> None:
    asked, rows = made(HEAT)
    none = [replace(row, chance=0.01) for row in rows]

    assert answer(asked, none) == "Nothing helps: nowhere more than 1 of 100 come out whole."


def test_a_limit_is_told_from_the_value_at_which_it_begins() -> None:
    asked, rows = made(HEAT, VACUUM, stop_from=650.0)

    (limit,) = limits_of(asked.axes, rows)

    assert (limit.axis, limit.side, limit.value) == (HEAT, "from", 650.0)
    assert limit_words(limit, len(rows)).startswith("Flask at the pour from 650 °C: The flask")


def test_a_limit_that_no_single_side_decides_is_told_by_its_cells() -> None:
    """It begins and ends again in the middle: neither from nor up to a value would be true."""
    asked, rows = made(HEAT, VACUUM)
    middle = [replace(row, stops=(HOT,) if row.values[0] == 600 else ()) for row in rows]

    (limit,) = limits_of(asked.axes, middle)

    assert limit.axis is None
    assert limit_words(limit, len(rows)).startswith("In 4 of 20 cells: ")


def test_the_limit_is_drawn_between_the_cells_at_which_it_begins() -> None:
    """650 is the fourth of five values: the line stands at three fifths of the width."""
    asked, rows = made(HEAT, VACUUM, stop_from=650.0)

    root = ET.fromstring(sweep_picture(asked, rows))

    (line,) = [each for each in root.iter() if each.get("class") == "stop"]
    places = {float(x) for x in re.findall(r"M([\d.]+),", line.get("d") or "")}
    cells = [each for each in root.iter() if (each.get("class") or "").startswith("h")]
    left = min(float(cell.get("x") or 0) for cell in cells if float(cell.get("height") or 0) > 30)
    assert list(places) == pytest.approx([left + 0.6 * 600.0], abs=0.2)


def test_every_cell_has_its_number_and_its_shade() -> None:
    """Never colour alone."""
    asked, rows = made(HEAT, VACUUM)

    root = ET.fromstring(sweep_picture(asked, rows))

    numbers = [each for each in root.iter() if each.get("class") in ("on", "off")]
    assert len(numbers) == len(rows)


def test_a_contour_runs_where_the_chance_passes_through() -> None:
    """Each point of a contour lies between a cell above and one below: exact by its making."""
    asked, rows = made(HEAT, VACUUM)
    root = ET.fromstring(sweep_picture(asked, rows))
    ways = [each.get("d") or "" for each in root.iter() if each.get("class") == "contour"]

    assert ways
    points = [
        (float(x), float(y)) for way in ways for x, y in re.findall(r"([\d.]+),([\d.]+)", way)
    ]
    assert all(96.0 <= x <= 696.0 for x, _ in points)


@pytest.mark.parametrize("axes", [(HEAT,), (WALL,), (HEAT, VACUUM, WALL), (WALL, HEAT)])
def test_pictures_of_any_number_of_keys_are_well_formed(axes: tuple[Axis, ...]) -> None:
    asked, rows = made(*axes, stop_from=600.0)

    root = ET.fromstring(sweep_picture(asked, rows))

    assert root.get("role") == "img"
    assert "whole in 100 pours" in "".join(root.itertext())
    if len(axes) > 2:
        assert "where the best lies" in "".join(root.itertext())
