"""What is written of any reading can be read again; house rules, no outside number."""

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given

from pourcast.photo.model import Reading
from pourcast.photo.paper import piece_file
from pourcast.photo.picture import check_picture
from pourcast.sheet import read_plan
from tests.strategies_photo import readings


@given(reading=readings())
def test_any_reading_becomes_a_piece_file_without_fault(reading: Reading) -> None:
    plan = read_plan(piece_file(reading))

    part = reading.parts[0]
    assert plan.piece.name == reading.name
    assert plan.piece.parts[0].length == pytest.approx(part.length, abs=1e-5)
    assert plan.piece.parts[0].width == pytest.approx(part.width, abs=1e-5)
    assert plan.piece.parts[0].measure_error == pytest.approx(part.section_error, abs=6e-4)


@given(reading=readings())
def test_any_reading_becomes_a_drawing_that_is_whole(reading: Reading) -> None:
    root = ET.fromstring(check_picture(reading))  # our own text

    assert reading.name in "".join(root.itertext())
