"""Photographs of test plants, read, against what the plants are.

The plants, the pictures and their sizes are of our own rule (tests.plants); no
photograph of a real plant was tried.  Bars: lengths 3 %, widths 6 % or one
pixel.
"""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.photo.paper import piece_file
from pourcast.photo.picture import check_picture
from pourcast.photo.solve import solve
from pourcast.sheet import read_plan
from tests.outside.record import record
from tests.photo.held import Held, asked, hold
from tests.plants import kinds, meshes, pictures

PIXEL = 0.07  # mm


@pytest.fixture(scope="module")
def flat() -> Held:
    return hold("fan", 1, (90.0,))


@pytest.fixture(scope="module")
def pressed() -> Held:
    return hold("pressed", 0, (90.0,), flat=True)


@pytest.fixture(scope="module", params=[0.0, 90.0], ids=["first clearer", "second clearer"])
def turned(request: pytest.FixtureRequest) -> Held:
    """Two pictures; the clearer one, which is read first, was taken first or second."""
    return hold("twig", 3, (request.param, request.param + 90.0))


def worst_lengths(held: Held) -> list[float]:
    return [abs(held.read[j].length / held.truth[i].length - 1.0) for i, j in held.pairs]


def worst_widths(held: Held) -> list[float]:
    """Miss of the mean width, over the larger of 6 % and one pixel."""
    misses = []
    for i, j in held.pairs:
        true, read = (sum(m.ends[0]) / 2 for m in (held.truth[i], held.read[j]))
        misses.append(abs(read - true) / max(0.06 * true, PIXEL))
    return misses


def assert_within_the_bars(held: list[Held], what: str) -> None:
    """Hold the parts of many plants to the bars: found, false, lengths and widths."""
    members = sum(len(each.truth) for each in held)
    lengths = [miss for each in held for miss in worst_lengths(each)]
    widths = [miss for each in held for miss in worst_widths(each)]

    length = 100 * float(np.quantile(lengths, 0.9))
    record(
        "photo",
        what,
        "generator",
        length,
        0.0,
        "%",
        3.0,
        kind="by construction",
    )
    assert sum(each.missing for each in held) <= 0.02 * members
    assert sum(each.extra for each in held) < 0.02 * members
    assert length < 3.0
    assert np.quantile(widths, 0.9) < 1.0


def test_every_part_of_a_flat_twig_is_found_once(flat: Held) -> None:
    """Truth of the generator."""
    assert (flat.missing, flat.extra) == (0, 0)


def test_lengths_and_widths_of_a_flat_twig_are_within_the_bars(flat: Held) -> None:
    """Truth of the generator; bars of 3 % and 6 % or one pixel.

    Found: 0.9 % and 0.3 of the bar.
    """
    length, width = max(worst_lengths(flat)), max(worst_widths(flat))

    record(
        "photo",
        "worst length of a flat twig",
        "generator",
        100 * length,
        0.0,
        "%",
        3.0,
        kind="by construction",
    )
    assert length < 0.03
    assert width < 1.0


def test_what_grows_on_what_is_as_in_the_plant(flat: Held) -> None:
    """Truth of the generator."""
    owner = dict(flat.pairs)
    for i, j in flat.pairs:
        parent = flat.truth[i].parent
        assert flat.read[j].parent == (owner[parent] if parent >= 0 else -1)


def test_one_picture_tells_that_it_does_not_show_the_depth(flat: Held) -> None:
    """Truth of the generator: the band from the length read to the longest holds it."""
    for i, j in flat.pairs:
        part = flat.reading.parts[j]
        low = 1e3 * part.length * (1 - 1.645 * part.length_error)
        high = 1e3 * part.longest * (1 + 1.645 * part.length_error)
        assert low <= flat.truth[i].length <= high
    assert any("towards the camera" in f.text for f in flat.reading.findings)


def test_leaves_that_lie_flat_are_one_part_each(pressed: Held) -> None:
    """Truth of the generator: a blade has corners, and they are no branches of their own.

    Bars of 3 % in length and 6 % or one pixel in width.  Found: 0.6 % and 0.3 of the bar.
    """
    blades = [(i, j) for i, j in pressed.pairs if pressed.truth[i].shape == "blade"]

    assert (pressed.missing, pressed.extra) == (0, 0)
    assert len(blades) >= 2
    assert all(pressed.read[j].shape == "blade" for _, j in blades)
    assert max(worst_lengths(pressed)) < 0.03
    assert max(worst_widths(pressed)) < 1.0


def test_two_pictures_find_what_comes_towards_the_camera(turned: Held) -> None:
    """Truth of the generator: a twig whose shoots stand all round the stem.

    Tolerance 10 %, the half of them 3 %: the tip of a shoot that points at one
    camera is read in the other only.  Found: see docs/photographs.md.
    """
    misses = [
        abs(turned.read[j].length / turned.truth[i].length - 1.0)
        for i, j in turned.pairs
        if turned.reading.parts[j].seen_twice and turned.truth[i].shape == "rod"
    ]

    assert len(misses) >= 4
    assert np.median(misses) < 0.03
    assert np.quantile(misses, 0.75) < 0.10


def test_the_file_that_is_written_is_an_ordinary_piece_file(flat: Held) -> None:
    text = piece_file(flat.reading)

    plan = read_plan(text)

    assert [part.name for part in plan.piece.parts] == [p.name for p in flat.reading.parts]
    for written, read in zip(plan.piece.parts, flat.reading.parts, strict=True):
        assert written.length == pytest.approx(read.length, abs=1e-5)
        assert written.measure_error == pytest.approx(read.section_error, abs=1e-3)


def test_the_check_picture_is_one_whole_drawing_with_all_names(flat: Held) -> None:
    drawing = check_picture(flat.reading)

    root = ET.fromstring(drawing)  # our own text
    said = " ".join(root.itertext())
    assert all(part.name in said for part in flat.reading.parts)
    assert len(drawing) < 400_000
    assert re.findall(r'href="(?!data:image/jpeg)', drawing) == []


def test_a_plant_in_front_of_nothing_is_not_the_mark() -> None:
    """A picture with the bar alone holds no original."""
    mesh = meshes.clean(kinds.fan(1))
    mesh.vertices = 1e-3 * mesh.vertices

    with pytest.raises(InputError, match="a dark shape on the ground beside the mark"):
        solve([pictures.photograph(mesh).png()], asked("nothing", 1))


def test_two_pictures_of_different_heights_are_refused() -> None:
    one = pictures.photograph(meshes.clean(kinds.fan(1)), turn_deg=90.0)
    two = pictures.photograph(meshes.clean(kinds.insect(1)))

    with pytest.raises(InputError, match="Is it the same original"):
        solve([one.png(), two.png()], asked("two", 2))


def test_third_picture_of_another_height_is_refused_by_its_name() -> None:
    one = pictures.photograph(meshes.clean(kinds.fan(1)), turn_deg=90.0)
    other = pictures.photograph(meshes.clean(kinds.insect(1)))

    with pytest.raises(InputError, match=r"third photograph is .* mm high"):
        solve([one.png(), one.png(), other.png()], asked("three", 3))


def test_four_pictures_are_refused() -> None:
    with pytest.raises(InputError, match="one, two or three"):
        solve([b""] * 4, asked("four", 4))


def test_the_same_photograph_gives_the_same_parts(flat: Held) -> None:
    again = hold("fan", 1, (90.0,))

    assert again.reading.parts == flat.reading.parts


@pytest.mark.long
def test_sixty_flat_twigs_are_within_the_bars() -> None:
    """Truth of the generator, seeds 1000 to 1059, kept apart from those tuned on.

    Bars: 98 % of parts found and under 2 % false, lengths 3 % and widths 6 % or
    one pixel for nine of ten.
    """
    held = [hold("fan", seed, (90.0,)) for seed in range(1000, 1060)]

    assert_within_the_bars(held, "length of a flat twig, nine of ten")


@pytest.mark.long
def test_thirty_pressed_sprigs_are_within_the_bars() -> None:
    """Truth of the generator, seeds 2000 to 2029, kept apart from those tuned on (0 to 29).

    Bars: 98 % of parts found and under 2 % false, lengths 3 % and widths 6 % or one pixel for
    nine of ten.
    """
    held = [hold("pressed", seed, (90.0,), flat=True) for seed in range(2000, 2030)]

    assert_within_the_bars(held, "length in a pressed sprig with leaves, nine of ten")
