"""Corrections of parts that were read from photographs; the file is that of a scan.

House rules, no outside number; where a part points is held against its place in space.
"""

import math
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner

from pourcast import units as si
from pourcast.cli.main import app
from pourcast.photo.corrected import as_scanned, corrected
from pourcast.photo.model import Reading
from pourcast.photo.paper import piece_file
from pourcast.scan.corrections import chosen_of, read_corrections
from pourcast.sheet import read_plan
from tests.photo.held import Held, hold
from tests.plants import kinds, meshes, pictures
from tests.plants.truth import members


@pytest.fixture(scope="module")
def flat() -> Held:
    return hold("fan", 1, (90.0,), flat=True)


def made(reading: Reading, text: str) -> tuple[Reading, int]:
    chosen, lost = chosen_of(as_scanned(reading.parts), read_corrections(text))
    return corrected(reading, chosen), len(lost)


def at(reading: Reading, part: int) -> str:
    x, y, z = (1e3 * k for k in reading.parts[part].middle)
    return f"at_mm = [{x:.1f}, {y:.1f}, {z:.1f}]"


def places(reading: Reading) -> dict[str, si.Ratios]:
    """Tip of each part in space, by way of the piece file [mm]."""
    return {m.part: m.tip for m in members(read_plan(piece_file(reading)).piece)}


def test_a_part_is_named_and_measured_by_hand(flat: Held) -> None:
    text = f'[[part]]\n{at(flat.reading, 1)}\nname = "long shoot"\nlength_mm = 20\n'
    text += 'diameter_mm = 1.5\nmaterial = "dry_stem"\n'

    reading, lost = made(flat.reading, text)

    part = reading.parts[1]
    assert lost == 0
    assert (part.name, part.material) == ("long shoot", "dry_stem")
    assert (part.length, part.longest) == pytest.approx((0.02, 0.02))
    assert part.width == part.thickness == pytest.approx((1.5e-3, 1.5e-3))
    assert part.length_error == part.section_error == pytest.approx(0.05 / 1.645)
    assert reading.parts[2:] == flat.reading.parts[2:]


def test_a_correction_far_from_every_part_is_lost(flat: Held) -> None:
    reading, lost = made(flat.reading, '[[part]]\nat_mm = [300, 0, 0]\nname = "x"\n')

    assert lost == 1
    assert reading == flat.reading


def test_parts_are_named_by_branch_order_and_by_size_class(flat: Held) -> None:
    text = '[[group]]\nshape = "rod"\norder = 1\nname = "shoot"\n'
    text += '[[group]]\nshape = "lump"\nname = "bud"\nmaterial = "cone"\n'
    text += '[[group]]\nlength_mm = [40, 200]\nmaterial = "woody_stem"\n'

    reading, lost = made(flat.reading, text)

    assert lost == 0
    for part in reading.parts:
        if part.shape == "rod" and part.parent == 0:
            assert part.name.startswith("shoot ")
        if part.shape == "lump":
            assert part.name.startswith("bud ")
            assert part.material == "cone"
    assert reading.parts[0].material == "woody_stem"
    assert len({part.name for part in reading.parts}) == len(reading.parts)


def test_what_grew_on_a_dropped_part_points_as_before_from_its_parent(flat: Held) -> None:
    """By geometry: the way of a part in space does not depend on what it is said to grow on."""
    child = next(k for k, part in enumerate(flat.reading.parts) if part.parent > 0)
    parent = flat.reading.parts[child].parent
    before = {m.part: m for m in members(read_plan(piece_file(flat.reading)).piece)}

    reading, _ = made(flat.reading, f"[[part]]\n{at(flat.reading, parent)}\ndrop = true\n")

    after = {m.part: m for m in members(read_plan(piece_file(reading)).piece)}
    name = flat.reading.parts[child].name
    assert len(reading.parts) == len(flat.reading.parts) - 1
    assert reading.parts[child - 1].parent == flat.reading.parts[parent].parent
    assert after[name].direction[0] == pytest.approx(before[name].direction[0], abs=2e-3)


def test_joined_parts_reach_as_far_as_the_two_did(flat: Held) -> None:
    """By geometry: a stalk that was read as two is one again, with the same tip.

    The stem is cut at half; the second half goes straight on.  Tolerance 0.05 mm: the piece
    file writes hundredths of a millimetre and thousandths of a share.
    """
    halves = cut_in_two(flat.reading)

    reading, lost = made(halves, f"[[part]]\n{at(halves, 1)}\njoin = true\n")

    assert lost == 0
    assert len(reading.parts) == len(flat.reading.parts)
    whole, again = flat.reading.parts[0], reading.parts[0]
    assert again.length == pytest.approx(whole.length)
    assert again.width == pytest.approx(whole.width)
    there, here = places(flat.reading), places(reading)
    assert all(here[name] == pytest.approx(there[name], abs=0.05) for name in there)


def cut_in_two(reading: Reading) -> Reading:
    """Return a reading whose stem is two parts, as a knot in it would have made them."""
    from dataclasses import replace

    stem, *others = reading.parts
    half = (0.5 * sum(stem.width),) * 2
    low = replace(stem, length=0.5 * stem.length, width=(stem.width[0], half[1]))
    low = replace(low, thickness=low.width)
    width = (half[0], stem.width[1])
    x, y, z = stem.middle
    high = replace(
        stem, name="upper stem", parent=0, at=1.0, angle=0.0, turn=0.0, length=0.5 * stem.length,
        width=width, thickness=width, middle=(x, y, 1.5 * z),
    )  # fmt: skip
    kept = []
    for part in others:
        if part.parent > 0:
            kept.append(replace(part, parent=part.parent + 1))
        elif part.at <= 0.5:
            kept.append(replace(part, at=2.0 * part.at))
        else:
            kept.append(replace(part, parent=1, at=2.0 * part.at - 1.0))
    return replace(reading, parts=(low, high, *kept), notes={})


def test_a_new_take_keeps_the_corrections(tmp_path: Path) -> None:
    """The file beside the piece file is read again, and never written."""
    picture = pictures.photograph(meshes.clean(kinds.fan(1)), turn_deg=90.0, seed=1)
    (tmp_path / "twig.png").write_bytes(picture.png())
    beside = tmp_path / "twig.corrections.toml"
    said = '[[group]]\nshape = "rod"\norder = 1\nname = "side shoot"\n'
    call = ["take", str(tmp_path / "twig.png"), "--as", str(tmp_path / "twig.toml"), "--flat"]
    call += ["--scale", "50 mm"]
    first = CliRunner().invoke(app, call)
    beside.write_text(said, encoding="utf-8")
    refused = CliRunner().invoke(app, call)

    again = CliRunner().invoke(app, [*call, "--again"])

    text = (tmp_path / "twig.toml").read_text(encoding="utf-8")
    assert first.exit_code == 0
    assert "the corrections are kept" in str(refused.exception)
    assert again.exit_code == 0
    assert "1 of 1 corrections found their part" in again.output
    assert 'name = "side shoot 1"' in text
    assert beside.read_text(encoding="utf-8") == said
    assert math.isfinite(np.sum([p.length for p in read_plan(text).piece.parts]))
