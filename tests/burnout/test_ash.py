"""Ash: how much room it takes, where it slides to, and where a puff reaches it."""

import numpy as np
import pytest
from hypothesis import given, settings

from pourcast.burnout.ash import AIR_WAY, BRIDGES, AshPlaces, ash_mass, ash_places, ash_volume
from pourcast.errors import InputError
from pourcast.materials import library
from pourcast.piece.model import Network
from tests.burnout.fate_cases import matter, values
from tests.outside.record import record
from tests.pour.cases import Builder
from tests.strategies import networks
from tests.strategies_fate import ashes

WIDE, NARROW = 6e-3, 1e-3  # m


def places(network: Network, ash: float = 1e-3) -> AshPlaces:
    """Return where a gram of ash of each member lies."""
    members = network.member_part.size
    return ash_places(network, np.full((1, members), ash), values(1, 300.0))


def test_ash_of_a_leafy_original_takes_the_room_that_was_worked_out() -> None:
    """Computed by another hand: 15 g of dry leaf leave 3 to 22 cm³ of loose ash.

    Middle of our values; a range, so no tolerance.  Found: 4.5 cm³.
    """
    leaf, general = library().plants["leaf"], library().plants["general"]

    mass = ash_mass(matter(dry=15e-3, organ="leaf"))
    volume = float(ash_volume(mass.sum(axis=1), values(1, general["ash_bulk_density"].si))[0])

    record("burnout", "loose ash of 15 g of dry leaf", "estimate of ash and bulk density",
           1e6 * volume, 4.5, "cm³", 0.5, kind="by construction")  # fmt: skip
    assert 3e-6 <= volume <= 22e-6
    assert mass.sum() == pytest.approx(15e-3 * leaf["ash"].si)


def test_ash_of_a_straight_wide_stem_falls_out_of_the_gate() -> None:
    """Common practice, no source: gate down, the ash of a plain stem drops out."""
    build = Builder()
    build.add(build.add(0, 0.03, WIDE), 0.03, WIDE)

    found = places(build.network())

    assert found.fallen[0] == pytest.approx(1e-3)
    assert found.ash.sum() == 0.0
    assert not found.pocket.any()
    assert found.blown.all()


def test_ash_of_a_level_or_a_narrow_branch_stays_in_it() -> None:
    """Rule of the module: repose and bridging.  Volumes share the ash of a member."""
    build = Builder()
    fork = build.add(0, 0.03, WIDE)
    build.add(fork, 0.02, WIDE, rise=0.0, member=1)
    build.add(fork, 0.02, 0.9 * BRIDGES, rise=-1.0, member=2)

    found = places(build.network())

    assert found.ash[0].tolist() == pytest.approx([0.0, 1e-3, 1e-3])
    assert found.fallen[0] == pytest.approx(1e-3)
    assert found.blown.tolist() == [True, True, False]
    assert AIR_WAY >= BRIDGES


def test_tip_that_points_up_at_the_pour_is_a_pocket_in_the_kiln() -> None:
    """Common practice, no source: ash lies in low pockets as they lay in the kiln (sign F13).

    A stem that hangs, and from its end an arch back up to a blind tip: gate down, the
    tip is the lowest place that does not drain.
    """
    build = Builder()
    bend = build.add(0, 0.05, WIDE)
    top = build.add(bend, 0.02, WIDE, rise=0.9, member=1)
    build.add(top, 0.02, WIDE, rise=0.9, member=1)

    found = places(build.network())

    assert found.fallen[0] == pytest.approx(1e-3)
    assert found.ash[0].tolist() == pytest.approx([0.0, 0.0, 1e-3])
    assert found.pocket.tolist() == [False, False, True]
    assert found.blown.tolist() == [True, False, False]
    cavity = 0.02 * np.pi / 4.0 * WIDE**2
    assert found.fill[0, 2] == pytest.approx(1e-3 / 300.0 / cavity)


def test_ash_from_above_stops_at_a_narrow_way() -> None:
    """Rule of the module: a wide tip over a thin neck keeps its ash."""
    build = Builder()
    neck = build.add(0, 0.02, NARROW)
    build.add(neck, 0.02, WIDE, member=1)

    found = places(build.network())

    assert found.ash[0].tolist() == pytest.approx([1e-3, 1e-3])
    assert not found.blown.any()


@given(network=networks())
@settings(max_examples=40, deadline=None)
def test_no_ash_is_lost(network: Network) -> None:
    """Conservation: what lies and what fell is what there was.  Tolerance: rounding."""
    members = network.member_part.size
    ash = np.linspace(1e-5, 1e-3, 2 * members).reshape(2, members)

    found = ash_places(network, ash, values(2, 250.0))

    together = found.ash.sum(axis=1) + found.fallen
    assert together == pytest.approx(ash.sum(axis=1), rel=1e-12)
    assert (found.ash >= 0.0).all()
    assert (found.fill >= 0.0).all()


def test_rounds_of_a_loop_end() -> None:
    """A ring of passages has a lowest place and drains to it: no endless slide."""
    build = Builder()
    fork = build.add(0, 0.02, WIDE)
    left = build.add(fork, 0.02, WIDE, rise=-0.8)
    build.add(left, 0.02, WIDE, rise=0.8, end=fork)
    looped = build.network()

    found = places(looped)

    assert found.ash.sum() + found.fallen.sum() == pytest.approx(1e-3)


def test_ash_of_other_members_is_refused() -> None:
    build = Builder()
    build.add(0, 0.02, WIDE)
    with pytest.raises(InputError, match="shape of the ash"):
        ash_places(build.network(), np.zeros((1, 3)), values(1, 300.0))
    with pytest.raises(InputError, match="ash_bulk_density"):
        ash_volume(np.array([1e-3]), np.array([0.0]))
    with pytest.raises(InputError, match="mass of ash"):
        ash_volume(np.array([-1e-3]), np.array([300.0]))


def test_heavier_ash_takes_less_room() -> None:
    """Property: volume falls with the bulk density and grows with the mass."""
    build = Builder()
    build.add(0, 0.02, WIDE, rise=0.0)
    network = build.network()

    light = ash_places(network, np.full((1, 1), 1e-3), values(1, 100.0))
    heavy = ash_places(network, np.full((1, 1), 1e-3), values(1, 600.0))

    assert light.fill[0, 0] == pytest.approx(6.0 * heavy.fill[0, 0])


@given(places=ashes())
@settings(max_examples=20, deadline=None)
def test_each_segment_has_its_ash_its_pocket_and_its_puff(places: AshPlaces) -> None:
    """Property: shapes agree and nothing is below 0."""
    assert places.ash.shape[1] == places.pocket.size == places.blown.size
    assert (places.fallen >= 0.0).all()
