"""Fan: which strips and rods of wax, cast in this flask, tell most in one pour?

Strips and rods of many thicknesses stand round a short runner on the button, all as
long as the flask has room for.  Their pours are followed over the ranges of the
unknowns.  Of each candidate c the chance of each class of run (under a quarter, a
half, three quarters, short of the end, whole) is a smooth function of the unknowns
(`pourcast.learn.emulate`).  Candidates are taken one after another, each time the
one with which the set tells most (`pourcast.learn.information`): a thickness that
always fills, or never, tells nothing, and two alike tell little more than one.

Left out: that strips next to each other warm the block between them, and that taking
one candidate at a time may miss the best set by a little.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import Kiln
from pourcast.errors import InputError
from pourcast.learn.bank import bank_of
from pourcast.learn.fan_choice import choose, classes_of_run
from pourcast.mould.model import Flask
from pourcast.piece.model import Button, Part
from pourcast.sheet.model import Plan

FAN = "Fan of strips"
"""How the name of a fan begins; its outcome counts as a test."""

THICKNESSES = (0.3e-3, 0.4e-3, 0.5e-3, 0.6e-3, 0.8e-3, 1.0e-3, 1.3e-3, 1.6e-3, 2.0e-3)
"""Of candidates, m; wax is rolled and drawn to such steps; our choice."""

STRIP_WIDTH = 5e-3  # m; our choice
RUNNER = "runner"
RUNNER_DIAMETER, RUNNER_LENGTH = 5e-3, 15e-3  # m; our choice
ANGLE = np.deg2rad(30.0)  # of a strip away from the runner; our choice
COVER = 12e-3  # m of block between a tip and the wall or the end; our choice
SHORTEST, LONGEST = 15e-3, 80e-3  # m
LENGTH_STEP = 5e-3  # m, to which a length is cut
_BANK = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One strip or rod of wax.

    Parameters
    ----------
    name : str
    round : bool
        A rod; else a strip `STRIP_WIDTH` wide.
    thickness : float [m]
    length : float [m]
        To cut.
    chance_whole : float [-]
        That it fills to its end, by the book of values.
    run : tuple of float [m]
        How far the metal runs in 10, 50 and 90 of 100 pours, by the book.
    gain : float [-]
        What the set tells more with it than without, in bits.
    """

    name: str
    round: bool
    thickness: si.Metre
    length: si.Metre
    chance_whole: si.Ratio
    run: tuple[si.Metre, si.Metre, si.Metre]
    gain: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Fan:
    """A set of strips and rods for one flask.

    Parameters
    ----------
    strips : tuple of Strip
        In the order in which they were taken: the one that tells most first.
    information : float [-]
        That one pour of it is expected to give, in bits.
    room : float [m]
        Longest strip that the flask has room for.
    """

    strips: tuple[Strip, ...]
    information: si.Ratio
    room: si.Metre


def design(
    plan: Plan, *, strips: int = 8, seed: int = 0, draws: int = _BANK, threads: int = 1
) -> Fan:
    """Return the fan that tells most in the flask, metal and vacuum of a plan.

    Parameters
    ----------
    plan : Plan
        Its parts are of no matter.
    strips : int
        2 to 12.
    seed : int
    draws : int
        Pours to follow; 100 or more.
    threads : int

    Returns
    -------
    Fan

    Raises
    ------
    InputError
        If the flask has no room for a fan, or a number is outside its limits.
    """
    if not 2 <= strips <= 12:
        raise InputError("strips", strips, "", "2 to 12")
    if draws < 100:
        raise InputError("draws", draws, "", "100 or more")
    room = room_for(plan.flask, plan.piece.button)
    names = [(name(t, rod), t, rod) for t in THICKNESSES for rod in (False, True)]
    parts = fan_parts([(*each, room) for each in names])
    bank = bank_of(fan_plan(plan, parts), draws, seed=seed, day_seed=seed + 1, threads=threads)
    tables = [classes_of_run(bank, bank.parts.index(each[0])) for each in names]
    taken, gains = choose(tables, strips, np.random.default_rng([seed, 3]))
    found = []
    for number, gain in zip(taken, gains, strict=True):
        title, thickness, rod = names[number]
        part = bank.parts.index(title)
        low, middle, high = (room * np.percentile(bank.share[:, part], [10, 50, 90])).tolist()
        found.append(
            Strip(
                name=title,
                round=rod,
                thickness=thickness,
                length=_cut(high, room),
                chance_whole=float(bank.full[:, part].mean()),
                run=(low, middle, high),
                gain=gain / np.log(2.0),
            )
        )
    return Fan(strips=tuple(found), information=sum(gains) / np.log(2.0), room=room)


def name(thickness: si.Metre, rod: bool) -> str:
    """Return what a strip or rod is called.

    Parameters
    ----------
    thickness : float [m]
    rod : bool
    """
    return f"{'rod' if rod else 'strip'} {1e3 * thickness:.1f}"


def room_for(flask: Flask, button: Button) -> si.Metre:
    """Return the longest strip that a flask has room for [m].

    Parameters
    ----------
    flask : Flask
    button : Button

    Raises
    ------
    InputError
        If it is shorter than `SHORTEST`.
    """
    across = (0.5 * flask.inside_diameter - COVER - 0.5 * RUNNER_DIAMETER) / np.sin(ANGLE)
    down = flask.height - button.height - RUNNER_LENGTH - COVER
    longest = min(across, down / np.cos(ANGLE), LONGEST)
    room = float(np.floor(longest / LENGTH_STEP + 1e-9)) * LENGTH_STEP
    if room < SHORTEST:
        raise InputError(
            "room for a fan",
            f"{1e3 * room:.0f}",
            "mm",
            f"{1e3 * SHORTEST:.0f} or more",
            "Take a larger flask.",
        )
    return room


def fan_parts(strips: Sequence[tuple[str, si.Metre, bool, si.Metre]]) -> tuple[Part, ...]:
    """Return the runner and the strips round it.

    Parameters
    ----------
    strips : sequence of (str, float, bool, float) [m]
        Name, thickness, whether it is a rod, length.
    """
    wide = (RUNNER_DIAMETER, RUNNER_DIAMETER)
    made = [_part(RUNNER, "button", "rod", RUNNER_LENGTH, wide, wide, 0.0, 0.0)]
    for number, (title, thickness, rod, length) in enumerate(strips):
        thick = (thickness, thickness)
        across = thick if rod else (STRIP_WIDTH, STRIP_WIDTH)
        turn = 2.0 * np.pi * number / len(strips)
        shape = "rod" if rod else "blade"
        made.append(_part(title, RUNNER, shape, length, across, thick, float(ANGLE), turn))
    return tuple(made)


def fan_plan(plan: Plan, parts: tuple[Part, ...]) -> Plan:
    """Return a plan with the parts of a fan, clean and without its burnout.

    Parameters
    ----------
    plan : Plan
    parts : tuple of Part
    """
    piece = replace(
        plan.piece, name=FAN, parts=parts, vents=(), displaced_volume=None, weighed_mass=None
    )
    charge = replace(plan.charge, on_hand=None, returns=None, poured=None)
    return replace(plan, piece=piece, charge=charge, kiln=Kiln())


def _part(
    title: str,
    parent: str,
    shape: str,
    length: float,
    width: tuple[float, float],
    thickness: tuple[float, float],
    angle: float,
    turn: float,
) -> Part:
    return Part(
        name=title,
        parent=parent,
        shape=shape,  # type: ignore[arg-type]
        count=1,
        length=length,
        width=width,
        thickness=thickness,
        position=(1.0, 1.0),
        angle=angle,
        turn=turn,
        turn_step=1.0,
        bend=0.0,
        coat=0.0,
        material="casting",
    )


def _cut(run: si.Metre, room: si.Metre) -> si.Metre:
    """Return a length that the metal comes to the end of in few pours, in whole steps."""
    return float(min(max(np.ceil(run / LENGTH_STEP + 0.5) * LENGTH_STEP, SHORTEST), room))
