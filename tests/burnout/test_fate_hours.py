"""Hours of a burnout: those that were found before, those of the trade, and what it says."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.burnout.days import heat_days
from pourcast.burnout.fate import fates
from pourcast.burnout.model import BlockCase, Curve, Matter, Wall
from tests.burnout.fate_cases import FLASKS, HOUR, block, burning, matter, values

FOUND: dict[Wall, tuple[float, float, float]] = {
    "solid": (9.3, 9.75, 10.2),
    "perforated": (7.3, 7.1, 7.5),
    "bare": (7.0, 6.6, 6.55),
}
"""Hours to under 1 % of the char; 15 g of dry plant, 6 h ramp to 730 °C, then held."""


def curve(*points: tuple[float, float]) -> Curve:
    hours, celsius = np.array(points, dtype=float).T
    return Curve(name="as written", time=hours * HOUR, temperature=celsius + si.ZERO_CELSIUS)


RAMP = curve((0.0, 20.0), (6.0, 730.0), (18.0, 730.0))


def hours_to_a_hundredth(flask: BlockCase, own: Matter) -> float:
    """Return when less than 1 % of all the char that there will be is left [h]."""
    fate = fates(flask, own, burning(), heat_days(flask, RAMP))
    share = own.char_yield - own.ash_fraction
    whole = float((own.dry_mass * share).sum())
    left = (fate.char[0] + fate.dry_mass[0] * share[0, 0]) / whole
    return float(np.interp(-0.01, -left, fate.time)) / HOUR


@pytest.mark.parametrize(
    ("wall", "size", "want"),
    [
        (wall, size, want)
        for wall, hours in FOUND.items()
        for size, want in zip(FLASKS, hours, strict=True)
        if (wall, size) != ("solid", "75x100")
    ],
)
def test_regression_hours_agree_with_those_that_were_found_before(
    wall: Wall, size: str, want: float
) -> None:
    """Not outside: an earlier working model of this project, with another law for char.

    Middle of our records, wood.  Tolerance 15 %: that model is not kept; it had char of
    15 to 30 % where ours has 24.5 %, which alone is 0.3 to 0.9 h.  Found: solid 10
    to 15 % earlier, perforated 1 to 11 % earlier, bare 0 to 2 % later.
    """
    got = hours_to_a_hundredth(block(size=size, wall=wall), matter())

    assert got == pytest.approx(want, rel=0.15)


def test_regression_hours_of_the_small_solid_flask_are_missed_until_there_is_as_much_char() -> None:
    """Not outside, as above: 10.2 h; ours is 17 % earlier, outside the 15 %.

    With char of 30 %, the upper end of what that model had, it is 8 % earlier, and all nine
    are within 10 %.  Tolerance there 10 %, here a miss of 15 to 20 %.
    """
    flask, own = block(size="75x100", wall="solid"), matter()

    plain = hours_to_a_hundredth(flask, own)
    more = hours_to_a_hundredth(flask, replace(own, char_yield=own.ash_fraction + 0.30))

    assert 0.80 * 10.2 < plain < 0.85 * 10.2
    assert more == pytest.approx(10.2, rel=0.10)


@pytest.mark.parametrize("size", FLASKS)
def test_regression_older_law_of_char_moves_hours_in_solid_flasks_little(size: str) -> None:
    """Judgement of another hand, not run before: oxygen rules in solid flasks.

    E 125 kJ/mol, A 5.3·10⁵ per bar^0.53 (Janse et al. 1998, from memory).  Tolerance
    15 minutes.  Found: 4 to 6 minutes later.
    """
    flask, own = block(size=size, wall="solid"), matter()
    heat = heat_days(flask, RAMP)
    older = replace(
        burning(),
        char_activation=values(1, 125e3),
        char_log10_rate=values(1, float(np.log10(5.3e5 * 0.20**0.53))),
        char_order=values(1, 0.53),
    )

    moved = fates(flask, own, older, heat).clean_at - fates(flask, own, burning(), heat).clean_at

    assert 0.0 < moved[0] < 900.0


@pytest.mark.parametrize("grams", [10.0, 20.0])
@pytest.mark.parametrize("changes", [0.5, 8.0])
def test_hand_turned_day_of_the_trade_comes_out_clean(grams: float, changes: float) -> None:
    """Common practice, no source: 6 h by hand to about 760 °C, 6 h held, perforated flask.

    A woody flower head of 10 to 20 g came out clean.  A verdict: clean by 12 h, over the
    span of air changes of a closed kiln.  Found: clean at 6.6 to 9.8 h.
    """
    flask = block(size="100x150", wall="perforated")
    day = curve((0.0, 20.0), (6.0, 760.0), (12.0, 760.0))
    own = matter(dry=1e-3 * grams, wax=25e-3, half=(8e-3, 2e-3))

    fate = fates(flask, own, burning(changes=changes), heat_days(flask, day))

    assert 6.0 * HOUR < fate.clean_at[0] < 12.0 * HOUR
    assert fate.char_left.sum() < 1e-6


def test_long_soak_at_260_degrees_burns_no_char() -> None:
    """Practice disagrees: a trade article soaks long at 260 °C for its oxygen.

    By the measured law of char (MaCFP pine) it burns next to nothing there.  Found: ten
    hours burn 0.1 % of it.
    """
    flask = block()
    soak = curve((0.0, 20.0), (3.0, 260.0), (13.0, 260.0))
    own = matter(dry=5e-3)

    fate = fates(flask, own, burning(), heat_days(flask, soak))

    share = own.char_yield - own.ash_fraction
    made = (5e-3 - fate.dry_mass[0, -1]) * share[0, 0]
    assert made > 2e-4
    assert fate.char[0, -1] > 0.99 * made


def test_482_degrees_are_enough_where_there_is_time() -> None:
    """Practice disagrees: one sculptor burns out plaster moulds at 482 °C, for days.

    A verdict: chemistry does not forbid it; a small perforated flask is clean in a day.
    Found: at 6.7 h, of which 6 are the ramp.
    """
    flask = block()
    low = curve((0.0, 20.0), (6.0, 482.0), (24.0, 482.0))

    fate = fates(flask, matter(dry=5e-3), burning(), heat_days(flask, low))

    assert fate.clean_at[0] < 24.0 * HOUR


def test_white_gate_does_not_prove_a_white_core() -> None:
    """Common practice, no source, signs F12: thick parts near the middle are black last.

    A solid flask at the hour when a thin part is clean: the thick part is not.
    """
    flask = block(size="100x150", wall="solid")
    own = matter(dry=15e-3, half=(3e-4, 6e-3))
    to = curve((0.0, 20.0), (6.0, 730.0), (7.0, 730.0))

    fate = fates(flask, own, burning(), heat_days(flask, to))

    thin, thick = fate.char_left[0]
    assert thin < 0.01 * thick
    assert thick > 1e-4


def test_more_flasks_in_a_closed_kiln_come_out_later() -> None:
    """Trend, common practice, no source (sign F12): smaller kiln load, more air.

    One flask against six in 60 litres whose air changes once an hour.
    """
    flask, own = block(), matter(dry=15e-3, wax=25e-3)
    heat = heat_days(flask, RAMP)

    alone = fates(flask, own, burning(changes=1.0), heat)
    six = fates(flask, own, burning(changes=1.0, flasks=6), heat)

    assert six.clean_at[0] > alone.clean_at[0] + HOUR
    assert six.kiln_oxygen[0].min() == pytest.approx(0.0, abs=1e-4)
