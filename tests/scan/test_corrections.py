"""Corrections: kept apart, found again, and told where they do not fit."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from pourcast.errors import SheetError
from pourcast.scan.checks import findings
from pourcast.scan.corrections import corrected, read_corrections
from pourcast.scan.paper import written
from pourcast.scan.picture import check_picture
from pourcast.sheet import new_sheet, read_plan
from tests.scan.test_paper import taken


def place_of(name: str) -> str:
    (part,) = [part for part in taken("umbel", 1).parts if part.name == name]
    return str((1e3 * part.line[16]).round(1).tolist())


def test_a_correction_is_found_by_its_place_and_carried_out() -> None:
    """House: a new import gives the parts other numbers, not other places."""
    scanned = taken("umbel", 1)
    text = (
        f"[[part]]\nat_mm = {place_of('lump 1')}\nname = 'bud one'\nmaterial = 'cone'\n"
        f"diameter_mm = 4.5\n[[part]]\nat_mm = {place_of('lump 2')}\ndrop = true\n"
        "[[part]]\nat_mm = [900, 0, 0]\nname = 'nowhere'\n"
    )
    other_order = replace(
        scanned, parts=tuple(replace(p, name="x " + p.name) for p in scanned.parts)
    )

    for found in (scanned, other_order):
        made, materials, lost = corrected(found, read_corrections(text))

        assert len(made.parts) == len(scanned.parts) - 1
        (bud,) = [part for part in made.parts if part.name == "bud one"]
        assert bud.width == pytest.approx((0.0045, 0.0045))
        assert materials[made.parts.index(bud)] == "cone"
        assert [correction.name for correction in lost] == ["nowhere"]
        plan = read_plan(written(made, new_sheet("C"), source="c.stl", materials=materials))
        assert {part.name: part.material for part in plan.piece.parts}["bud one"] == "cone"


def test_what_grows_on_a_joined_part_goes_to_its_parent() -> None:
    scanned = taken("umbel", 1)
    made, _, _ = corrected(
        scanned, read_corrections(f"[[part]]\nat_mm = {place_of('rod 2')}\njoin = true\n")
    )

    (bud,) = [part for part in made.parts if part.name == "lump 1"]
    assert made.parts[bud.parent].name == "stem"


def test_names_stay_different() -> None:
    scanned = taken("umbel", 1)
    text = "".join(
        f"[[part]]\nat_mm = {place_of(name)}\nname = 'bud'\n" for name in ("lump 1", "lump 2")
    )

    names = [part.name for part in corrected(scanned, read_corrections(text))[0].parts]

    assert {"bud", "bud 2"} <= set(names)
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[part]]\nat_mm = [1, 2]\n", "three numbers"),
        ("[[part]]\nat_mm = [1, 2, nan]\n", "three numbers"),
        ("[[part]]\nat_mm = [1, 2, 3]\nnmae = 'x'\n", "is not known"),
        ("[[part]]\nat_mm = [1, 2, 3]\ndiameter_mm = 0\n", "above 0"),
        ("[[part]]\nat_mm = [1, 2, 3]\ndrop = 1\n", "true or false"),
        ("part = 3\n", "[[part]]"),
        ("other = 3\n", "is not known"),
        ("[[part", "file"),
    ],
)
def test_a_faulty_file_is_told_with_its_line(text: str, said: str) -> None:
    with pytest.raises(SheetError) as fault:
        read_corrections(text, file="c.toml")

    assert said in str(fault.value)
    assert str(fault.value).startswith("c.toml:")


def test_the_picture_shows_each_part_in_three_views() -> None:
    """House: a number in each view and a line in the list; names cannot break it."""
    scanned = taken("umbel", 1)
    parts = (replace(scanned.parts[0], name="<stem & co>"), *scanned.parts[1:])

    root = ET.fromstring(check_picture(replace(scanned, parts=parts)))

    polygons = [node for node in root if node.tag.endswith("polygon")]
    assert len(polygons) == 3 * len(parts)
    assert "<stem & co>" in "".join(root.itertext())


def test_findings_name_what_was_lost() -> None:
    """House: each limit is shown to bite on a scan that breaks it."""
    scanned = taken("umbel", 1)
    thin = replace(scanned.parts[1], width=(3e-4, 3e-4), thickness=(3e-4, 3e-4))
    bad = replace(
        scanned,
        parts=(scanned.parts[0], thin, *scanned.parts[2:]),
        mesh_volume=2 * scanned.mesh_volume,
        bad_lines=0.07,
        loose=2,
        unseen_share=0.2,
        touching=tuple((0, k) for k in range(1, 10)),
        narrow=((1, 2, 4e-4),),
    )

    good, wrong = findings(scanned), findings(bad)
    said = " ".join(finding.text for finding in wrong)

    assert all(finding.level == "GOOD" for finding in good)
    for words in (
        "A part is missing",
        "7.0 % of the scan lines",
        "2 loose pieces",
        "20.0 % of the surface",
        "0.30 mm across at its thinnest",
        "they will be one in metal",
        "3 more pairs",
        "0.40 mm; slurry hardly enters",
    ):
        assert words in said, words
    assert np.isfinite([finding.value for finding in wrong if finding.value is not None]).all()
