"""Photographs as they are typed; house rules, so no outside number."""

from pathlib import Path

import pytest

from pourcast.cli.take_photo import read_foot, read_leaf, read_scale
from pourcast.errors import InputError
from pourcast.photo.model import Mark, PerPixel, TwoPoints
from pourcast.sheet import read_plan
from tests.cli.conftest import Typed
from tests.plants import kinds, meshes, pictures


def test_a_scale_is_a_mark_two_points_or_a_pixel() -> None:
    bar, inches, pixel = (read_scale(text) for text in ("50 mm", "2 in", "0.07 mm per pixel"))
    points = read_scale("120,900 980.5,905 5 cm")

    assert isinstance(bar, Mark)
    assert isinstance(inches, Mark)
    assert (bar.length, inches.length) == pytest.approx((0.05, 0.0508))
    assert isinstance(pixel, PerPixel)
    assert pixel.size == pytest.approx(7e-5)
    assert isinstance(points, TwoPoints)
    assert (points.first, points.second) == ((120.0, 900.0), (980.5, 905.0))
    assert points.length == pytest.approx(0.05)


@pytest.mark.parametrize("written", ["", "fifty", "0 mm", "-3 mm", "1,2 3 50 mm", "50 kg", "nan"])
def test_what_is_no_scale_is_refused(written: str) -> None:
    with pytest.raises(InputError, match="--scale"):
        read_scale(written)


def test_a_leaf_that_was_measured_varies_less_than_the_usual_leaf() -> None:
    usual, own = read_leaf(None), read_leaf("0.4 mm")

    assert own.value == pytest.approx(4e-4)
    assert own.high / own.low < usual.high / usual.low
    assert (usual.measured, own.measured) == (False, True)


def test_a_photograph_becomes_a_piece_file_and_a_check_picture(
    typed: Typed, tmp_path: Path
) -> None:
    seen = pictures.photograph(meshes.clean(kinds.fan(2)), turn_deg=90.0)
    (tmp_path / "twig.png").write_bytes(seen.png())

    said = typed(
        "take", "twig.png", "--as", "twig.toml", "--scale", "50 mm", "--flat", "--picture", "t.svg"
    )

    assert said.status == 0, said.err
    assert "9 parts: 5 round, 0 flat, 4 lumps" in said.out
    assert len(read_plan((tmp_path / "twig.toml").read_text("utf-8")).piece.parts) == 9
    assert (tmp_path / "t.svg").read_text("utf-8").startswith("<svg")
    assert (tmp_path / "twig.png").read_bytes() == seen.png()

    again = typed("take", "twig.png", "--as", "twig.toml", "--scale", "50 mm")
    assert again.status == 2
    assert "it must be a new one" in again.err


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ((), "--scale is missing"),
        (("--scale", "50 mm"), "JPEG, PNG or WebP"),
        (("--scale", "1 mm", "--scale", "2 mm"), "once for each photograph"),
    ],
)
def test_what_cannot_be_read_is_refused_by_name(
    typed: Typed, tmp_path: Path, given: tuple[str, ...], told: str
) -> None:
    (tmp_path / "a.jpg").write_bytes(b"[metal]\n")

    said = typed("take", "a.jpg", "--as", "a.toml", *given)

    assert said.status == 2
    assert told in said.err
    assert not (tmp_path / "a.toml").exists()


def test_the_foot_and_what_it_is_made_of_may_be_said(typed: Typed, tmp_path: Path) -> None:
    seen = pictures.photograph(meshes.clean(kinds.fan(2)), turn_deg=90.0)
    (tmp_path / "twig.png").write_bytes(seen.png())
    words = ("take", "twig.png", "--scale", "50 mm", "--flat", "--material", "rod=woody_stem")

    told = typed(*words, "--as", "a.toml", "--material", "lump=cone")
    foot = typed(*words, "--as", "b.toml", "--foot", "640")
    twice = typed(*words, "--as", "b.toml", "--foot", "64,10", "--foot", "64,10")

    assert told.status == 0, told.err
    parts = read_plan((tmp_path / "a.toml").read_text("utf-8")).piece.parts
    assert {part.shape: part.material for part in parts} == {"rod": "woody_stem", "lump": "cone"}
    assert foot.status == twice.status == 2
    assert "column and row" in foot.err
    assert "once for each picture" in twice.err


def test_a_foot_is_looked_for_where_it_is_said(typed: Typed, tmp_path: Path) -> None:
    seen = pictures.photograph(meshes.clean(kinds.fan(2)), turn_deg=90.0)
    (tmp_path / "twig.png").write_bytes(seen.png())
    words = ("take", "twig.png", "--scale", "50 mm", "--flat")

    typed(*words, "--as", "a.toml")
    beside = typed(*words, "--as", "b.toml", "--foot", "1,99999")
    above = typed(*words, "--as", "c.toml", "--foot", "600,0")

    assert read_foot("64.5, 10") == (64.5, 10.0)
    assert beside.status == 0, beside.err
    first = [
        read_plan((tmp_path / f"{name}.toml").read_text("utf-8")).piece.parts[0]
        for name in ("a", "b")
    ]
    assert first[0].length == pytest.approx(first[1].length, rel=0.01)
    assert above.status == 2
    assert "lower half" in above.err


def test_a_sheet_of_no_usual_thickness_has_to_be_measured() -> None:
    with pytest.raises(InputError, match="--leaf"):
        read_leaf(None, "paraffin")

    assert read_leaf("0.4 mm", "paraffin").material == "paraffin"
    assert read_leaf(None, "petal").material == "petal"
