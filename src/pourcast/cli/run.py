"""Run: read the piece file, call one function, write what it says."""

import json
import os
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pourcast import __version__
from pourcast.cli.files import read_piece, read_sheet, shown_name, write_page
from pourcast.cli.signs import on_one_line, write_out
from pourcast.sheet import read_plan

if TYPE_CHECKING:
    from rich.console import Console

    from pourcast.change.model import Ranking
    from pourcast.forecast.model import Forecast

_BEST = 5
"""Changes shown beside a forecast; `pourcast change` shows more."""


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
    changes: bool = False,
    cluster: str | None = None,
) -> float:
    """Write a forecast and return the chance of the whole piece.

    Raises
    ------
    PourcastError
        If the file is bad or the work could not be done.
    """
    from pourcast.cli.hands import hands_of
    from pourcast.cli.learn import calibration_from
    from pourcast.forecast.solve import forecast

    begun = time.perf_counter()
    text = read_sheet(file)
    plan = read_plan(text, file=shown_name(file))
    learnt = calibration_from(calibration, plan)
    read = time.perf_counter()
    with hands_of(cluster, threads) as hands:
        said = forecast(plan, learnt, draws=draws, rng=seed, executor=hands, progress=tell_progress)
    done = time.perf_counter()
    ranking = _ranking(said, text, threads) if changes else None
    if page is not None:
        from pourcast.page.render import render

        write_page(page, render(said, ranking))
    if as_json:
        from pourcast.execute.made_with import made_with
        from pourcast.forecast.document import document

        timing = {"read": read - begun, "forecast": done - read}
        tree = document(said, version=__version__, timing=timing, made_with=made_with())
        if ranking is not None:
            from pourcast.change.document import changes_tree

            tree["changes"] = changes_tree(ranking)
        write_out(as_text(tree))
    else:
        from pourcast.cli.show import show, terminal

        console = terminal(sys.stdout, os.environ)
        show(said, console, full=full)
        if ranking is not None:
            _show_changes(ranking, console)
        sys.stdout.flush()
        if page is not None:
            write_out(f"Page: {page}\n")
    return said.chance_all


def _ranking(said: "Forecast", text: str, threads: int) -> "Ranking":
    """Return what to change first, of the draws of the forecast up to the usual number."""
    from pourcast.change.rank import DRAWS, rank
    from pourcast.gating.solve import proposals

    return rank(
        said.plan,
        said.learnt,
        text=text,
        proposals=proposals(said),
        draws=min(said.draws, DRAWS),
        rng=said.seed,
        threads=threads,
    )


def _show_changes(ranking: "Ranking", console: "Console") -> None:
    from pourcast.cli.change import blocks
    from pourcast.cli.show import heading, write

    write([heading("What to change first"), *blocks(ranking, _BEST)], console)


def tell_progress(done: int, of: int) -> None:
    """Show how many pours are counted."""
    on_one_line("" if done >= of else f"{done} of {of} pours")


def run_weigh(file: str, *, as_json: bool, draws: int, seed: int) -> None:
    """Write what to weigh out.

    Raises
    ------
    PourcastError
        If the file is bad or the work could not be done.
    """
    from pourcast.cli.weigh import lines, tree
    from pourcast.forecast.before_the_pour import mould_told
    from pourcast.forecast.prepare import prepare

    plan = read_piece(file)
    ready = prepare(plan, None, draws, seed)
    if as_json:
        made = tree(ready.metal, ready.mould)
        write_out(as_text(made))
        return
    from pourcast.cli.show import terminal, write_lines

    told = lines(ready.metal, ready.mould, mould_told(plan, ready), plan.speech)
    write_lines(told, terminal(sys.stdout, os.environ))


def as_text(tree: dict[str, Any]) -> str:
    """Return a tree as JSON that the output can hold."""
    # An output that cannot hold a sign of a name gets its escape, which JSON reads the same.
    plain = not (sys.stdout.encoding or "").lower().replace("-", "").startswith("utf")
    return json.dumps(tree, ensure_ascii=plain, indent=1, allow_nan=False) + "\n"
