"""Run: read the piece file, call one function, write what it says."""

import json
import os
import sys
import time
from pathlib import Path
from typing import Any

from pourcast import __version__
from pourcast.cli.files import read_piece, write_page
from pourcast.cli.signs import write_out


def run_forecast(
    file: str,
    *,
    as_json: bool,
    full: bool,
    draws: int,
    seed: int,
    page: Path | None,
    threads: int,
    calibration: str | None = None,
) -> float:
    """Write a forecast and return the chance of the whole piece.

    Raises
    ------
    PourcastError
        If the file is bad or the work could not be done.
    """
    from pourcast.forecast.solve import forecast

    begun = time.perf_counter()
    plan = read_piece(file)
    learnt = None
    if calibration not in (None, "off"):
        from pourcast.cli.learn import calibration_from

        learnt = calibration_from(calibration, plan)
    read = time.perf_counter()
    said = forecast(plan, learnt, draws=draws, rng=seed, threads=threads)
    done = time.perf_counter()
    if page is not None:
        from pourcast.page.render import render

        write_page(page, render(said))
    if as_json:
        from pourcast.forecast.document import document

        timing = {"read": read - begun, "forecast": done - read}
        tree = document(said, version=__version__, timing=timing)
        write_out(as_text(tree))
    else:
        from pourcast.cli.show import show, terminal

        show(said, terminal(sys.stdout, os.environ), full=full)
        sys.stdout.flush()
        if page is not None:
            write_out(f"Page: {page}\n")
    return said.chance_all


def run_weigh(file: str, *, as_json: bool, draws: int, seed: int) -> None:
    """Write what to weigh out.

    Raises
    ------
    PourcastError
        If the file is bad or the work could not be done.
    """
    from pourcast.cli.weigh import lines, tree
    from pourcast.forecast.prepare import prepare

    ready = prepare(read_piece(file), None, draws, seed)
    if as_json:
        made = tree(ready.metal, ready.mould)
        write_out(as_text(made))
    else:
        write_out("\n".join(lines(ready.metal, ready.mould)) + "\n")


def as_text(tree: dict[str, Any]) -> str:
    """Return a tree as JSON that the output can hold."""
    # An output that cannot hold a sign of a name gets its escape, which JSON reads the same.
    plain = not (sys.stdout.encoding or "").lower().replace("-", "").startswith("utf")
    return json.dumps(tree, ensure_ascii=plain, indent=1, allow_nan=False) + "\n"
