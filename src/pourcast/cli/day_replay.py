"""Day replay: a logged day, or a made-up kiln, at many times its speed, for practice."""

import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from pourcast import units as si
from pourcast.cli.day_lines import typed_in
from pourcast.cli.day_run import next_line
from pourcast.cli.files import read_text
from pourcast.cli.signs import write_out

if TYPE_CHECKING:
    from pourcast.cli.show_day import DayView

MADE_UP = "made-up"
EVERY = 900.0
"""s, between two looks at the made-up kiln; common practice, no source."""

LATEST = 6.0 * 3600.0
"""s, after the planned end, at which a late made-up day is broken off; our own choice."""


def replay(view: "DayView", which: str, speed: float) -> None:
    """Go through a day at a speed; it ends with the log, or with the plan.

    Raises
    ------
    PourcastError
        If the log cannot be read.
    """
    write_out("Practice: nothing here is a day that is burning now.\n")
    if which == MADE_UP:
        _made_up(view, speed)
    else:
        _logged(view, Path(which), speed)


def wait_until(moment: float, begun: float, speed: float) -> None:
    """Sleep until a moment of a replay is due."""
    due = begun + moment / speed
    rest = due - time.monotonic()
    if rest > 0.0:
        time.sleep(rest)


def _logged(view: "DayView", path: Path, speed: float) -> None:
    from pourcast.book.days import keep_reading
    from pourcast.book.kiln_days import day_log, keep_event
    from pourcast.burnout.log import read_log

    log = read_log(read_text(str(path)), str(path))
    for told in log.told:
        sys.stderr.write(f"{path}:{told.line}: {told.text}\n")
    start = datetime.fromtimestamp(day_log(view.book, view.pour_id).start, UTC)
    begun, before = time.monotonic(), None
    for place, moment in enumerate(log.time.tolist()):
        wait_until(moment, begun, speed)
        at = start + timedelta(seconds=moment)
        value = round(si.from_si(float(log.temperature[place]), "degC"), 4)
        keep_reading(view.book, view.pour_id, "kiln_C", value, taken=at)
        if log.dial is not None and log.dial[place] != before:
            before = float(log.dial[place])
            keep_event(
                view.book,
                view.pour_id,
                "turned",
                at=at,
                entered=at,
                setting=before,
                key=f"log {at.isoformat()}",
            )
        _say(view, at)


def _made_up(view: "DayView", speed: float) -> None:
    """Let the made-up kiln run.

    One that is turned by hand follows the advice until the caster turns the dial; one with a
    controller follows the plan.
    """
    from pourcast.book.kiln_days import day_log, keep_event
    from pourcast.day.simulated import made_up_kiln, moved_on
    from pourcast.day.solve import advice
    from pourcast.day.turns import OVER

    kiln = made_up_kiln()
    rng = np.random.default_rng(0)
    start = datetime.fromtimestamp(day_log(view.book, view.pour_id).start, UTC)
    length = float(view.case.planned.time[-1])
    air = bricks = kiln.body.room
    setting, made = 0.0, 1
    begun = time.monotonic()
    programmed = view.case.plan.kiln.control != "hand"
    planned = view.case.planned
    keep_event(view.book, view.pour_id, "turned", at=start, entered=start, setting=0.0, key="first")
    for moment in np.arange(0.0, length + LATEST + 1.0, EVERY).tolist():
        wait_until(moment, begun, speed)
        at = start + timedelta(seconds=moment)
        while (line := next_line(0.0)) not in (None, ""):
            if not typed_in(view, str(line), at):
                return
        turned = [e for e in view.log().events if e.act == "turned"]
        # A turn that the advice did not make is the caster's, who goes on alone from there.
        by_hand = len(turned) != made
        if by_hand:
            last = max((event.at, event.setting or 0.0) for event in turned)[1]
            setting = min(last, float(kiln.body.settings[-1]))
        if programmed:
            air = float(np.interp(moment, planned.time, planned.temperature))
        read = view.speech.exact(air + kiln.noise * float(rng.standard_normal()))
        typed_in(view, f"{read:.1f} {view.speech.degrees}", at)
        turns, reason = advice(view.case, view.log())
        if (programmed or reason == OVER) and moment >= length:
            write_out("The made-up day is over: what comes now is the pour.\n")
            return
        if not by_hand and turns and turns[0].time <= moment + 60.0:
            setting = min(turns[0].setting, float(kiln.body.settings[-1]))
            typed_in(view, f"turned to {setting:g}", at)
            made += 1
        air, bricks = moved_on(kiln, air, bricks, setting, EVERY)


def _say(view: "DayView", at: datetime) -> None:
    from pourcast.page.words_day import clock

    write_out(f"-- {clock(view.wall, at.timestamp())}\n")
    view.say(at)
