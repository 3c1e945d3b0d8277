"""A kiln that nobody has logged, against what potters read on theirs."""

import math

import numpy as np
import pytest

from pourcast import units as si
from pourcast.burnout.kiln import air_of
from pourcast.day.kilns import plain_kiln
from pourcast.materials import library
from tests.outside.record import record

ROOM = si.to_si(20.0, "degC")
CONE_6 = si.to_si(1222.0, "degC")
"""Cone 6, from memory: 2232 °F in an electric kiln."""


def test_kiln_falls_in_its_first_hour_as_a_potter_read() -> None:
    """Measured: "about 400 °F in the first hour" after an electric kiln of cone 6 was shut off.

    Source: one potter on a potters' mailing list, 11 January 1999; a studio kiln, its load not
    told.  Tolerance 25 %: "about", one kiln of many, and the records hold near 700 °C, with
    radiation left out that makes the first hour faster.  Found: 7 % high.
    """
    kiln = plain_kiln(library().kiln, 5, ROOM).body

    air = air_of(kiln, np.array([0.0, 3600.0]), np.zeros(2), CONE_6)

    got, want = float(air[0] - air[1]), 400.0 / 1.8
    record("day", "fall of a kiln of cone 6 in the first hour with the power off",
           "one potter, mailing list, January 1999", got, want, "K", 0.25 * want,
           kind="measured")  # fmt: skip
    assert got == pytest.approx(want, rel=0.25)


def test_kiln_of_cone_6_takes_more_than_half_a_day_to_cool() -> None:
    """Measured: "it takes longer than 12 hours to cool" to the 130 °F at which it is unloaded.

    Source: one potter's diary, 25 June 2010; a studio kiln full of bowls, from cone 6.
    Tolerance 12 h, upwards only, for "longer than 12": such a kiln is unloaded on the day
    after, common practice, no source.  Found: 16.2 h.
    """
    kiln = plain_kiln(library().kiln, 5, ROOM).body
    cool = si.to_si(54.4, "degC")

    hours = np.arange(0.0, 40.0, 0.1)
    air = air_of(kiln, 3600.0 * hours, np.zeros(hours.size), CONE_6)

    got = float(hours[np.flatnonzero(air < cool)[0]])
    record("day", "hours in which a kiln of cone 6 cools to 130 °F (outside: longer than)",
           "one potter's diary, June 2010", got, 12.0, "h", 12.0, kind="measured")  # fmt: skip
    assert 12.0 < got < 24.0
    assert got == pytest.approx(math.log((CONE_6 - ROOM) / (cool - ROOM)) / kiln.loss / 3600.0,
                                abs=0.11)  # fmt: skip
