"""Properties that hold for any scan, drawn at random."""

import xml.etree.ElementTree as ET

from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.errors import PourcastError
from pourcast.scan.checks import findings
from pourcast.scan.corrections import corrected
from pourcast.scan.guard import kind_of
from pourcast.scan.model import Correction, Scanned
from pourcast.scan.paper import written
from pourcast.scan.picture import check_picture
from pourcast.sheet import new_sheet, read_plan
from tests.strategies_scan import corrections, scans


@settings(max_examples=25, deadline=None)
@given(scans())
def test_any_scan_is_written_as_a_piece_file_that_reads(scanned: Scanned) -> None:
    """The reader of piece files is the judge."""
    plan = read_plan(written(scanned, new_sheet("Drawn"), source="drawn.stl"))

    assert [part.name for part in plan.piece.parts] == [part.name for part in scanned.parts]


@settings(max_examples=25, deadline=None)
@given(scans(), st.lists(corrections(), max_size=3))
def test_corrections_leave_a_whole_tree(scanned: Scanned, some: list[Correction]) -> None:
    made, materials, lost = corrected(scanned, tuple(some))

    assert len(materials) == len(made.parts) > 0
    assert len(lost) <= len(some)
    assert all(part.parent < k for k, part in enumerate(made.parts))


@settings(max_examples=25, deadline=None)
@given(scans())
def test_any_scan_is_drawn_and_told(scanned: Scanned) -> None:
    ET.fromstring(check_picture(scanned))

    for finding in findings(scanned):
        assert finding.text.endswith(".")
        assert "nan" not in finding.text


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_bytes_of_chance_are_refused_and_nothing_else(content: bytes) -> None:
    """House: no file may end in any other way than by a named refusal."""
    for start in (b"", b"ply\n", b"glTF", b"PK\x03\x04", b"solid facet "):
        try:
            kind_of(start + content)
        except PourcastError:
            continue
