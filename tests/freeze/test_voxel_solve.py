"""The whole run: account of heat, threads, stopping, refusals, what turns with what."""

from collections.abc import Callable
from dataclasses import fields as names_of
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.freeze.fields import VoxelFields
from pourcast.freeze.voxel_memory import memory_needed
from pourcast.freeze.voxel_model import VoxelAsk, VoxelBlock, VoxelMould, VoxelStart
from pourcast.freeze.voxel_solve import solve_voxel
from pourcast.piece.model import Button, Network, Piece
from pourcast.piece.network import build
from tests.freeze.voxel_cases import ZERO, bronze, plain_mould
from tests.piece.make import part, piece
from tests.strategies import networks

VOXEL = 1.5e-3
BLOCK = VoxelBlock(
    radius=0.03,
    top=0.02,
    bottom=-0.06,
    wall="solid",
    wall_thickness=1.5e-3,
    wall_density=7850.0,
    room=298.0,
)
START = VoxelStart(metal=1100 + ZERO, mould=550 + ZERO)


def sprig() -> Piece:
    """Thick stem, thin hairs, a berry on the stem."""
    return piece(
        part("stem", length=0.035, width=0.006),
        part("hair", "stem", count=3, length=0.012, width=0.0012, position=0.6, angle=70),
        part("berry", "stem", shape="lump", length=0.01, width=0.012, position=1.0),
        gate=0.007,
    )


def burnt_mould() -> VoxelMould:
    """Mould whose conductivity and specific heat change with temperature."""
    return VoxelMould(
        density=1240.0,
        temperature=np.array([20.0, 200.0, 400.0, 600.0, 800.0, 1000.0]) + ZERO,
        conductivity=np.array([0.5, 0.42, 0.4, 0.42, 0.52, 0.65]),
        specific_heat=np.array([733.0, 967.0, 1076.0, 1127.0, 1180.0, 1200.0]),
    )


def run(
    *,
    until: float = 120.0,
    threads: int = 1,
    start: VoxelStart = START,
    block: VoxelBlock = BLOCK,
    mould: VoxelMould | None = None,
    voxel: float = VOXEL,
    ask: VoxelAsk | None = None,
    progress: Callable[[float], bool] | None = None,
    memory_limit: int = 1_000_000_000,
) -> VoxelFields:
    """Freeze the sprig."""
    made = sprig()
    return solve_voxel(
        build(made),
        made.button,
        block,
        bronze(),
        mould or plain_mould(),
        start,
        voxel=voxel,
        until=until,
        ask=ask,
        progress=progress,
        threads=threads,
        memory_limit=memory_limit,
    )


@cache
def plain() -> VoxelFields:
    """Freeze the sprig as it comes."""
    return run(until=300.0)


def test_heat_is_accounted_for() -> None:
    """Conservation: what is left and what was lost make what there was, to 1e-6.

    At every hundredth step, over all heat above the room at the start.  Found: 1e-8.
    """
    assert plain().energy_error < 1e-6
    assert plain().heat_lost > 0.0
    assert plain().stack_count > 0


def test_heat_is_accounted_for_with_a_mould_that_changes() -> None:
    """The same with conductivity and specific heat by table, in a vacuum, covered."""
    block = replace(BLOCK, in_vacuum=True, button_top="covered", wall="perforated", open_share=0.3)

    assert run(mould=burnt_mould(), block=block).energy_error < 1e-6


@pytest.mark.long
def test_heat_is_accounted_for_over_a_day_of_the_block() -> None:
    """The same over an hour, till the block is nearly cold."""
    assert run(until=3600.0, mould=burnt_mould()).energy_error < 1e-6


def test_result_does_not_depend_on_threads() -> None:
    """To the last bit, for one, two and four threads."""
    one = run(until=20.0)

    for threads in (2, 4):
        other = run(until=20.0, threads=threads)
        for name in (field.name for field in names_of(VoxelFields)):
            if name in ("sections", "curves", "hot_mould", "pools"):
                continue
            ours, theirs = getattr(one, name), getattr(other, name)
            if isinstance(ours, str):
                assert ours == theirs
            else:
                assert np.array_equal(np.asarray(ours), np.asarray(theirs), equal_nan=True), name
        for mine, its in zip(one.curves, other.curves, strict=True):
            assert np.array_equal(mine.temperature, its.temperature)


def test_stopped_run_keeps_what_there_is() -> None:
    """The caller answers False after a tenth of the time."""
    shares: list[float] = []

    def going(share: float) -> bool:
        shares.append(share)
        return share < 0.1

    fields = run(progress=going)

    assert fields.partial
    assert 0.1 <= shares[-1] < 0.3
    assert fields.time == pytest.approx(shares[-1] * 120.0)
    assert np.isnan(fields.freeze_time).any()
    assert np.isnan(fields.last_time)
    assert not plain().partial
    assert plain().time == pytest.approx(300.0)


def test_too_fine_cells_are_refused_with_a_size_that_fits() -> None:
    """The size that is told does fit, and half of it does not."""
    with pytest.raises(InputError, match=r"or more here") as refused:
        run(voxel=0.1e-3)
    told = 1e-3 * float(str(refused.value.must).split()[0])
    made = sprig()

    assert memory_needed(build(made), made.button, BLOCK, told) <= 1_000_000_000
    assert memory_needed(build(made), made.button, BLOCK, told / 2) > 1_000_000_000


def test_where_no_cell_fits_no_size_is_told() -> None:
    """A limit that not even one cell for the whole block would keep."""
    with pytest.raises(InputError, match="run with more memory"):
        run(memory_limit=1_000)


@pytest.mark.parametrize(
    ("changes", "must"),
    [
        ({"voxel": 0.0}, "greater than 0"),
        ({"until": -1.0}, "greater than 0"),
        ({"start": replace(START, metal=400.0)}, "over the mould's"),
        ({"start": replace(START, mould=100.0)}, "251 to 1600"),
        ({"start": replace(START, filled=np.ones(3))}, "of the shape"),
        ({"block": replace(BLOCK, wall_thickness=0.0)}, "greater than 0"),
        ({"block": replace(BLOCK, wall="bare")}, "0 without a wall"),
        ({"block": replace(BLOCK, room=0.0)}, "250 to 400"),
        ({"block": replace(BLOCK, open_share=1.0)}, "0 to 0.95"),
        ({"ask": VoxelAsk(stop_fraction=1.0)}, "0.05 to 0.99"),
    ],
)
def test_values_outside_their_limits_are_refused(changes: dict[str, object], must: str) -> None:
    with pytest.raises(InputError, match=must):
        run(**changes)  # type: ignore[arg-type]


def test_thin_parts_freeze_before_thick_ones() -> None:
    """Chvorinov 1940: the smaller modulus freezes first."""
    fields = plain()
    tips = np.sort(fields.stack_freeze_time)[:6]
    button = fields.freeze_time[fields.part == -1].max()
    stem = fields.freeze_time[fields.part == 0].max()

    assert tips.max() < 10.0 < stem < button
    assert fields.last_part == "button"
    assert fields.last_time == pytest.approx(button)


def test_covered_button_freezes_later() -> None:
    """Common practice, no source: a cover of fibre or powder keeps the button liquid."""
    covered = run(until=300.0, block=replace(BLOCK, button_top="covered"))

    assert covered.last_time > 1.02 * plain().last_time


def test_block_in_a_vacuum_keeps_its_heat_longer() -> None:
    """Without convection at side and bottom less is lost."""
    kept = run(until=300.0, block=replace(BLOCK, in_vacuum=True))

    assert kept.heat_lost < 0.95 * plain().heat_lost


def test_berry_on_a_stem_is_cut_off() -> None:
    """Common practice, no source: a thick end behind a thinner neck shrinks inside.

    It lacks no more than it shrinks from the stop on: 4.8 % of what is then liquid.
    """
    fields = plain()
    berry = [pool for pool in fields.pools if pool.part == "berry"]

    assert len(berry) == 1
    assert berry[0].cut_time < berry[0].last_time
    assert 0.0 < berry[0].lack < 0.048 * 0.01 * 0.012**2
    assert fields.loose_volume == 0.0


def test_part_that_came_cold_freezes_earlier() -> None:
    """A segment that the pour left half solid has half of the latent heat to give."""
    made = sprig()
    network = build(made)
    is_hair = network.member_part[network.member] == 1
    warm = np.where(is_hair, 960.0 + ZERO, 1100.0 + ZERO)
    solid = np.where(is_hair, 0.5, 0.0)
    cold = run(
        until=60.0,
        start=replace(START, segment_temperature=warm, segment_solid_fraction=solid),
    )

    assert np.nanmin(cold.stack_freeze_time) < 0.75 * plain().stack_freeze_time.min()


def test_curves_and_sections_are_kept() -> None:
    """Usual places, one more that is asked for, and two sections."""
    ask = VoxelAsk(section_times=(5.0, 30.0), places=np.array([[0.02, 0.0, -0.02]]))
    fields = run(until=60.0, ask=ask)
    curves = {curve.name: curve for curve in fields.curves}

    assert list(curves) == ["button", "stem", "hair", "berry", "place 1", "wall"]
    assert curves["button"].temperature[0] == pytest.approx(1100 + ZERO, abs=0.5)
    assert curves["hair"].temperature[0] == pytest.approx(1100 + ZERO, abs=0.5)
    assert curves["place 1"].temperature[0] == pytest.approx(550 + ZERO, abs=0.5)
    assert all(curve.temperature.size == fields.times.size for curve in fields.curves)
    assert [section.time for section in fields.sections] == pytest.approx([5.0, 30.0])
    assert np.nanmax(fields.sections[0].temperature) > np.nanmax(fields.sections[1].temperature)


def test_a_place_outside_the_block_has_no_temperature() -> None:
    """By definition: there is no block, a metre off on either side; the other curves stay."""
    away = np.array([[1.0, 0.0, -0.02], [-1.0, 0.0, -0.02], [0.0, 0.0, 1.0]])
    fields = run(until=1.0, ask=VoxelAsk(places=away))
    curves = {curve.name: curve.temperature for curve in fields.curves}

    assert all(np.isnan(curves[f"place {number}"]).all() for number in (1, 2, 3))
    assert np.isfinite(curves["stem"]).all()


def test_hot_mould_is_told() -> None:
    """Beside bronze every block passes 760 °C, at the surface of the button 900 °C."""
    over, far_over = plain().hot_mould

    assert over.volume > far_over.volume > 0.0
    assert over.volume >= over.largest
    assert 0.0 < far_over.until <= over.until < 300.0
    assert 900 + ZERO < plain().mould_peak < 1100 + ZERO


@pytest.mark.long
def test_freezing_time_settles_with_smaller_cells() -> None:
    """Convergence: the last time at 2, 1.5 and 1 mm.

    The volume of each part is kept, so what moves it is the surface in steps: of the first
    order.  Bound: 4 % between the two finest.
    """
    times = [run(until=300.0, voxel=voxel).last_time for voxel in (2e-3, 1.5e-3, 1e-3)]

    assert abs(times[2] / times[1] - 1) < 0.04


@given(network=networks(), seed=st.integers(0, 100))
@settings(max_examples=15, deadline=None)
def test_any_piece_freezes_and_keeps_its_heat(network: Network, seed: int) -> None:
    """Conservation, for drawn pieces of rods, blades and lumps, some of it misrun."""
    ends = np.concatenate([network.start_position, network.end_position])
    reach = float(np.hypot(ends[:, 0], ends[:, 1]).max())
    block = replace(
        BLOCK,
        radius=max(reach, 0.016) + 0.008,
        top=max(0.02, float(ends[:, 2].max())),
        bottom=float(ends[:, 2].min()) - 0.01,
    )
    button = Button(diameter=0.03, height=0.02, gate_diameter=0.008, material="casting")
    filled = np.random.default_rng(seed).choice([0.0, 1.0], network.length.size, p=[0.1, 0.9])

    fields = solve_voxel(
        network,
        button,
        block,
        bronze(),
        plain_mould(),
        replace(START, filled=filled),
        voxel=2.5e-3,
        until=15.0,
    )

    assert fields.energy_error < 1e-6
    assert np.nanmin(fields.freeze_time, initial=20.0) >= 0.0
    assert fields.metal_volume > 0.0
    assert all(np.isfinite(curve.temperature).all() for curve in fields.curves[:-1])
