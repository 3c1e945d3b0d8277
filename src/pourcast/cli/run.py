"""Run: read the piece file, call one function, write what it says."""

import json
import os
import sys
import time
from pathlib import Path

from pourcast import __version__
from pourcast.cli.files import read_piece, write_page


def run_forecast(
    file: str, *, as_json: bool, draws: int, seed: int, page: Path | None, threads: int
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
    read = time.perf_counter()
    said = forecast(plan, draws=draws, rng=seed, threads=threads)
    done = time.perf_counter()
    if page is not None:
        from pourcast.page.render import render

        write_page(page, render(said))
    if as_json:
        from pourcast.forecast.document import document

        timing = {"read": read - begun, "forecast": done - read}
        tree = document(said, version=__version__, timing=timing)
        sys.stdout.write(json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False) + "\n")
    else:
        from pourcast.cli.show import show, terminal

        show(said, terminal(sys.stdout, os.environ))
        if page is not None:
            sys.stdout.write(f"Page: {page}\n")
    sys.stdout.flush()
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
        sys.stdout.write(json.dumps(made, indent=1, allow_nan=False) + "\n")
    else:
        sys.stdout.write("\n".join(lines(ready.metal, ready.mould)) + "\n")
