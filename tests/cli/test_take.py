"""The command ``take``: from a scan file to a piece file that can be forecast."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from pourcast.cli.main import app
from pourcast.errors import InputError
from pourcast.sheet import read_plan
from tests.scan.make import joined, stem


@pytest.fixture
def scan(tmp_path: Path) -> Path:
    side = stem(15.0, 1.5)
    side.apply_transform([[0, 0, 1, 0], [0, 1, 0, 0], [-1, 0, 0, 20], [0, 0, 0, 1]])
    path = tmp_path / "twig.stl"
    path.write_bytes(joined(stem(), side).export(file_type="stl"))
    return path


def take(*words: object) -> str:
    result = CliRunner().invoke(app, ["take", *map(str, words)])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert result.exit_code == 0, result.output
    return result.output


def test_a_scan_becomes_a_piece_file_and_stays_as_it_was(scan: Path) -> None:
    """Outside: two cylinders, 3 by 40 mm and 1.5 by 15 mm from the axis of the first."""
    before = scan.read_bytes()
    piece, views = scan.with_name("twig.toml"), scan.with_name("views.svg")

    said = take(scan, "--as", piece, "--unit", "mm", "--picture", views, "--name", "My twig")

    plan = read_plan(piece.read_text())
    stem_, side = plan.piece.parts
    assert plan.piece.name == "My twig"
    assert side.parent == stem_.name
    assert side.length == pytest.approx(0.0135, abs=2e-4)  # from the surface, 1.5 mm off the axis
    assert "pourcast forecast" in said
    assert views.read_text().startswith("<svg")
    assert scan.read_bytes() == before


def test_a_new_import_keeps_the_corrections(scan: Path) -> None:
    piece = scan.with_name("twig.toml")
    take(scan, "--as", piece, "--unit", "mm")
    comment = next(line for line in piece.read_text().split("\n")[::-1] if "middle in the" in line)
    place = comment.split("[")[1].split("]")[0]
    corrections = scan.with_name("twig.corrections.toml")
    corrections.write_text(
        f'[[part]]\nat_mm = [{place}]\nname = "thorn"\nmaterial = "woody_stem"\n'
    )

    with pytest.raises(InputError, match="--again"):
        take(scan, "--as", piece, "--unit", "mm")
    said = take(scan, "--as", piece, "--unit", "mm", "--again")

    thorn = read_plan(piece.read_text()).piece.parts[-1]
    assert (thorn.name, thorn.material) == ("thorn", "woody_stem")
    assert "1 of 1 corrections" in said


def test_a_scan_without_unit_asks_for_it(scan: Path) -> None:
    with pytest.raises(InputError, match="--unit"):
        take(scan, "--as", scan.with_name("x.toml"))

    assert not scan.with_name("x.toml").exists()


@pytest.mark.parametrize(
    "words", [("--gate", "1,2"), ("--gate", "nan,0,0"), ("--voxel", "9mm"), ("--voxel", "soon")]
)
def test_wrong_words_are_refused(scan: Path, words: tuple[str, str]) -> None:
    with pytest.raises(InputError):
        take(scan, "--as", scan.with_name("x.toml"), "--unit", "mm", *words)


def test_a_scan_that_is_too_long_is_not_read(tmp_path: Path) -> None:
    """A gigabyte with nothing in it, which takes no room on the disk."""
    path = tmp_path / "huge.stl"
    with path.open("wb") as made:
        made.truncate(10**9)

    with pytest.raises(InputError, match="1000 MB"):
        take(path, "--as", tmp_path / "x.toml", "--unit", "mm")


def test_the_gate_may_be_an_end_or_a_place(scan: Path) -> None:
    for gate in ("highest", "0,0,40"):
        piece = scan.with_name(f"{len(gate)}.toml")
        take(scan, "--as", piece, "--unit", "mm", "--gate", gate)
        assert len(read_plan(piece.read_text()).piece.parts) == 2


def test_shapes_and_groups_are_told_what_they_are_made_of(scan: Path) -> None:
    piece = scan.with_name("twig.toml")
    scan.with_name("twig.corrections.toml").write_text(
        '[[group]]\norder = 0\nname = "trunk"\nmaterial = "woody_stem"\n'
    )
    take(scan, "--as", piece, "--unit", "mm", "--material", "rod=moss")

    made_of = {part.name: part.material for part in read_plan(piece.read_text()).piece.parts}
    assert made_of.pop("trunk 1") == "woody_stem"
    assert "moss" in made_of.values()


@pytest.mark.parametrize("written", ["moss", "rod=granite", "stalk=moss", "rod="])
def test_what_is_no_material_is_refused(scan: Path, written: str) -> None:
    with pytest.raises(InputError, match="--material"):
        take(scan, "--as", scan.with_name("a.toml"), "--unit", "mm", "--material", written)


def test_a_long_take_tells_each_step_and_a_short_one_none(
    scan: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    take(scan, "--as", scan.with_name("a.toml"), "--unit", "mm")
    short = capsys.readouterr().err
    monkeypatch.setattr("pourcast.cli.take_scan.LONG", 1)
    said = []
    monkeypatch.setattr("typer.echo", lambda text, err=False: said.append((text[:6], err)))
    take(scan, "--as", scan.with_name("b.toml"), "--unit", "mm")

    assert "of 5" not in short
    assert said == [(f"{k} of 5", True) for k in range(1, 6)]
