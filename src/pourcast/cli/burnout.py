"""Burnout on the command line: read sheet and logs, call one function, write what it says."""

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pourcast import units as si
from pourcast.cli.files import read_kiln_log, read_piece, write_page
from pourcast.cli.learn import calibration_from, last_kiln
from pourcast.cli.run import as_text
from pourcast.cli.signs import write_out
from pourcast.errors import InputError

if TYPE_CHECKING:
    from pourcast.burnout.dial import DialPlan
    from pourcast.burnout.model import Curve
    from pourcast.forecast.burnout_study import BurnoutStudy, CurveName


def run_burnout(
    file: str,
    *,
    which: "CurveName",
    log: str | None,
    kiln_log: str | None,
    calibration: str | None = None,
    start: str | None,
    draws: int,
    seed: int,
    threads: int,
    as_json: bool,
    page: Path | None,
) -> None:
    """Write what a burnout comes to.

    Raises
    ------
    PourcastError
        If a file is bad or the work could not be done.
    """
    from pourcast.forecast.burnout_study import study

    plan = read_piece(file)
    begun = _clock(start)
    day = _logged(log) if log else None
    learnt = calibration_from(calibration, plan)
    found = study(
        plan,
        learnt,
        which=which,
        log=day,
        draws=draws,
        rng=seed,
        threads=threads,
        progress=_progress,
    )
    dial = None
    if kiln_log:
        if begun is None:
            raise InputError(
                "start", "not given", "", "a time of day for a dial plan", "Add --start 07:30."
            )
        dial = _dial(kiln_log, found, begun)
    elif begun is not None and plan.kiln.control == "hand":
        dial = _dial_of_book(calibration, found, begun)
    if page is not None:
        write_page(page, _page(found, begun, dial))
    if as_json:
        write_out(as_text(_tree(found, dial)))
    else:
        _show(found, begun, dial)
        if page is not None:
            write_out(f"Page: {page}\n")


def _show(found: "BurnoutStudy", start: si.Second | None, dial: "DialPlan | None") -> None:
    from pourcast.cli.show import terminal, write
    from pourcast.cli.show_burn import blocks

    write(blocks(found, start=start, dial=dial), terminal(sys.stdout, os.environ))
    sys.stdout.flush()


def _page(found: "BurnoutStudy", start: si.Second | None, dial: "DialPlan | None") -> str:
    from pourcast.forecast.burnout_study import middle_section
    from pourcast.page.burnout_page import render_burnout

    return render_burnout(found, middle_section(found), start=start, dial=dial)


def _tree(found: "BurnoutStudy", dial: "DialPlan | None") -> dict[str, Any]:
    from pourcast import __version__
    from pourcast.forecast.study_document import study_document

    return study_document(found, version=__version__, dial=dial)


def _logged(file: str) -> "Curve":
    from pourcast.burnout.curves import curve_of_log
    from pourcast.burnout.log import without_doubles

    log = without_doubles(read_kiln_log(file))
    return curve_of_log(log.time, log.temperature)


def _dial(file: str, found: "BurnoutStudy", start: si.Second) -> "DialPlan":
    """Return the turns that keep the kiln of a log near the curve of a study."""
    from pourcast.forecast.dial_study import dial_study

    _, plan = dial_study(read_kiln_log(file), found.burnout.curve, start)
    return plan


def _dial_of_book(asked: str | None, found: "BurnoutStudy", start: si.Second) -> "DialPlan | None":
    """Return the turns that keep the kiln of the last kept day near the curve of a study."""
    from pourcast.forecast.dial_study import dial_of_kiln

    fit = last_kiln(asked)
    return None if fit is None else dial_of_kiln(fit, found.burnout.curve, start)


def _clock(text: str | None) -> si.Second | None:
    """Return a time of day such as "07:30" in seconds since midnight."""
    if text is None:
        return None
    hours, _, minutes = text.partition(":")
    if hours.isdigit() and minutes.isdigit() and int(hours) < 24 and int(minutes) < 60:
        return 3600.0 * int(hours) + 60.0 * int(minutes)
    raise InputError("start", text, "", "a time of day such as 07:30")


def _progress(asked: int, most: int, least: si.Second) -> None:
    if sys.stderr.isatty():
        hours = si.from_si(least, "h")
        end = "\n" if asked >= most else "\r"
        sys.stderr.write(
            f"{asked} of at most {most} curves tried; shortest so far {hours:.2f} h{end}"
        )
        sys.stderr.flush()
