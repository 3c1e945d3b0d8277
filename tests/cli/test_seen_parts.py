"""A piece file that names its scan or photographs; outside: the lengths of two cylinders."""

import re
from pathlib import Path

import pytest

from pourcast.book.plans import latest_plan, pieces_named
from pourcast.book.store import open_book
from pourcast.cli.files import read_piece, read_sheet
from pourcast.errors import InputError, SheetError
from pourcast.sheet import new_sheet, read_plan
from tests.cli.conftest import Typed
from tests.plants import kinds, meshes, pictures
from tests.scan.make import joined, stem

SECTION = '[scan]\nfile = "twig.stl"\nunit = "mm"\ngate = [0, 0, 0]'
_PARTS = re.compile(r"^\[\[part\]\].*?(?=^# \[\[vent\]\])", re.MULTILINE | re.DOTALL)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    side = stem(15.0, 1.5)
    side.apply_transform([[0, 0, 1, 0], [0, 1, 0, 0], [-1, 0, 0, 20], [0, 0, 0, 1]])
    (tmp_path / "twig.stl").write_bytes(joined(stem(), side).export(file_type="stl"))
    return tmp_path


def sheet(folder: Path, section: str) -> str:
    """Write a sheet with a section in place of its parts, and return its path."""
    path = folder / "twig.toml"
    path.write_text(_PARTS.sub(lambda _: f"{section}\n", new_sheet("Twig"), count=1))
    return str(path)


def test_the_parts_of_a_scan_stand_in_the_plan(folder: Path) -> None:
    path = sheet(folder, SECTION)
    before = Path(path).read_text()

    stem_, side = read_piece(path).piece.parts

    assert stem_.parent is None or stem_.parent == "button"
    assert side.parent == stem_.name
    assert side.length == pytest.approx(0.0135, abs=2e-4)  # from the surface, 1.5 mm off the axis
    assert Path(path).read_text() == before


def test_what_is_kept_holds_the_parts_and_not_the_scan(folder: Path) -> None:
    text = read_sheet(sheet(folder, SECTION))

    (folder / "twig.stl").unlink()

    assert len(read_plan(text).piece.parts) == 2
    written = Path(folder / "twig.toml").read_text().split("\n")
    for place, line in enumerate(written):
        assert text.split("\n")[place].removeprefix("# ") in (line, line.removeprefix("# "))


def test_corrections_beside_the_piece_file_are_put_in(folder: Path) -> None:
    path = sheet(folder, SECTION)
    side = next(line for line in read_sheet(path).split("\n")[::-1] if "middle in the" in line)
    place = side.split("[")[1].split("]")[0]
    (folder / "twig.corrections.toml").write_text(f'[[part]]\nat_mm = [{place}]\nname = "thorn"\n')

    assert read_piece(path).piece.parts[-1].name == "thorn"


def test_a_forecast_comes_from_a_scan(typed: Typed, folder: Path) -> None:
    sheet(folder, SECTION)

    said = typed("weigh", "twig.toml")

    assert said.status == 0, said.err
    assert "finding the parts" in said.err
    assert "powder" in said.out


def test_a_book_keeps_the_parts_of_a_scan(typed: Typed, folder: Path) -> None:
    sheet(folder, SECTION)

    said = typed("book", "keep", "twig.toml", "--draws", "4", "--data", "book")

    assert said.status == 0, said.err
    with open_book(folder / "book") as book:
        (piece,) = pieces_named(book, "Twig")
        kept = latest_plan(book, piece)
    assert [part.name for part in kept.parts] == [
        part.name for part in read_plan(kept.sheet).piece.parts
    ]


def test_what_parts_are_made_of_may_be_said(folder: Path) -> None:
    """A correction of one part goes before what is said of all parts of its shape."""
    path = sheet(folder, f'{SECTION}\nrod_material = "woody_stem"')
    side = next(line for line in read_sheet(path).split("\n")[::-1] if "middle in the" in line)
    place = side.split("[")[1].split("]")[0]
    (folder / "twig.corrections.toml").write_text(
        f'[[part]]\nat_mm = [{place}]\nmaterial = "insect"\n'
    )

    assert [part.material for part in read_piece(path).piece.parts] == ["woody_stem", "insect"]


def test_the_foot_in_a_photograph_may_be_said(folder: Path) -> None:
    """What is said goes to the reader, which knows where a foot may be."""
    picture = pictures.photograph(meshes.clean(kinds.fan(2)), turn_deg=90.0)
    (folder / "fan.png").write_bytes(picture.png())
    section = '[photo]\nfile = "fan.png"\nscale = "50 mm"\nflat = true\nrod_material = "insect"'

    parts = read_piece(sheet(folder, section)).piece.parts

    assert {part.material for part in parts if part.shape == "rod"} == {"insect"}
    with pytest.raises(InputError, match="foot of the original is 0"):
        read_sheet(sheet(folder, f"{section}\nfoot = [0, 0]"))


@pytest.mark.parametrize(
    ("more", "where"),
    [
        ("foot = [1, 2]\nsecond = 'y.png'", "photo.foot"),
        ("second_foot = [1, 2]", "photo.second_foot"),
        ("rod_material = 'cheese'", "photo.rod_material"),
    ],
)
def test_a_foot_for_one_of_two_photographs_is_a_fault(folder: Path, more: str, where: str) -> None:
    with pytest.raises(SheetError, match=where):
        read_sheet(sheet(folder, f'[photo]\nfile = "x.png"\nscale = "50 mm"\n{more}'))


def test_photographs_are_read_as_well(folder: Path) -> None:
    seen = pictures.photograph(meshes.clean(kinds.fan(2)), turn_deg=90.0)
    (folder / "fan.png").write_bytes(seen.png())

    plan = read_piece(sheet(folder, '[photo]\nfile = "fan.png"\nscale = "50 mm"\nflat = true'))

    assert len(plan.piece.parts) == 9


def test_all_faults_of_a_section_come_with_their_lines(folder: Path) -> None:
    path = sheet(folder, '[scan]\nfile = 3\nunit = "ell"\nvoxel = 2')
    line = Path(path).read_text().split("\n").index("[scan]") + 1

    with pytest.raises(SheetError) as caught:
        read_sheet(path)

    said = str(caught.value)
    assert f":{line + 1}: scan.file: is 3" in said
    assert f":{line + 2}: scan.unit: is" in said
    assert f":{line + 3}: scan.voxel: is not a key" in said


@pytest.mark.parametrize("beside", ['[photo]\nfile = "x.png"\nscale = "1 mm"', "[[part]]\non = 1"])
def test_two_shapes_of_one_piece_are_a_fault(folder: Path, beside: str) -> None:
    with pytest.raises(SheetError, match="stands beside"):
        read_sheet(sheet(folder, f"{SECTION}\n{beside}"))


@pytest.mark.parametrize(
    ("section", "said"),
    [
        (SECTION.replace("twig", "gone"), "scan: scan file is .*gone.stl"),
        (SECTION.replace('unit = "mm"', ""), "scan: unit is .* said with the key unit"),
        (SECTION.replace("[0, 0, 0]", '"middle"'), "scan: the key gate is middle"),
        ('[photo]\nfile = "twig.stl"\nscale = "50 mm"', "photo: "),
        ('[photo]\nfile = "twig.stl"\nscale = "fifty"', "photo: the key scale is fifty"),
    ],
)
def test_what_cannot_be_read_is_told_with_the_piece_file(
    folder: Path, section: str, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        read_sheet(sheet(folder, section))


def test_a_plan_alone_cannot_reach_a_file(folder: Path) -> None:
    with pytest.raises(SheetError, match="pourcast take"):
        read_plan(Path(sheet(folder, SECTION)).read_text())
