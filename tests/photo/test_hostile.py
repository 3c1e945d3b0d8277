"""Pictures that no caster means: refused by name, or read without a crash."""

import io

import numpy as np
import pytest
from PIL import Image

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.photo.paper import piece_file
from pourcast.photo.picture import check_picture
from pourcast.photo.solve import solve
from pourcast.sheet import read_plan
from tests.photo.held import asked

Y, X = np.mgrid[:500, :600].astype(np.float64)
GROUND = np.full(X.shape, 220.0)
BAR = (Y > 470) & (Y < 481) & (X > 100) & (X < 500)


def encoded(shade: si.Ratios) -> bytes:
    out = io.BytesIO()
    Image.fromarray(shade.astype(np.uint8)).save(out, "PNG")
    return out.getvalue()


def beside_the_bar(dark: si.Booleans) -> bytes:
    return encoded(np.where(dark | BAR, 50.0, GROUND))


NOISE = np.random.default_rng(0).integers(0, 255, X.shape).astype(np.float64)
REFUSED = {
    "white": (encoded(GROUND), "contrast"),
    "black": (encoded(0.0 * GROUND), "contrast"),
    "noise": (encoded(NOISE), "contrast"),
    "half dark": (encoded(np.where(X < 300, 50.0, GROUND)), "scale mark"),
    "bar alone": (beside_the_bar(X < 0), "original"),
    "plate": (beside_the_bar((abs(X - 300) < 140) & (abs(Y - 250) < 140)), "original"),
    "hair": (beside_the_bar((abs(X - 300) < 2) & (Y > 100) & (Y < 400)), "original"),
}
READ = {
    "rod": (abs(X - 300) < 10) & (Y > 100) & (Y < 400),
    "rod out of the picture": (abs(X - 300) < 10) & (Y < 400),
    "ring": abs(np.hypot(X - 300, Y - 200) - 80) < 8,
    "rings on a stem": (
        (abs(np.hypot(X - 300, Y - 150) - 60) < 8)
        | (abs(np.hypot(X - 300, Y - 270) - 62) < 8)
        | ((abs(X - 300) < 8) & (Y > 330) & (Y < 440))
    ),
    "comb": (
        ((abs(X - 300) < 10) & (Y > 100) & (Y < 400))
        | ((Y % 20 < 8) & (abs(X - 300) < 120) & (Y > 120) & (Y < 380))
    ),
    "wedge": (Y > 100) & (Y < 400) & (abs(X - 300) < (Y - 100) / 3),
}


@pytest.mark.parametrize("kind", REFUSED)
def test_what_is_no_original_is_refused_by_name(kind: str) -> None:
    content, what = REFUSED[kind]

    with pytest.raises(InputError) as told:
        solve([content], asked(kind, 1))

    assert told.value.what == what


@pytest.mark.parametrize("kind", READ)
def test_odd_shapes_give_a_piece_file_without_fault(kind: str) -> None:
    reading = solve([beside_the_bar(READ[kind])], asked(kind, 1))

    assert read_plan(piece_file(reading)).piece.parts
    assert check_picture(reading).startswith("<svg")


def test_an_original_that_runs_out_of_the_picture_is_told() -> None:
    out = solve([beside_the_bar(READ["rod out of the picture"])], asked("rod", 1))
    whole = solve([beside_the_bar(READ["rod"])], asked("rod", 1))

    assert any("runs out of the picture" in finding.text for finding in out.findings)
    assert not any("runs out of the picture" in finding.text for finding in whole.findings)
