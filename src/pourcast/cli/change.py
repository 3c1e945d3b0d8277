"""What to change first, on the command line: rows as they come, then all of it."""

import os
import sys
from typing import TYPE_CHECKING, Annotated

import typer

from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from rich.console import RenderableType

    from pourcast.change.at_hand import AtHand
    from pourcast.change.model import Change, Ranking
    from pourcast.sheet.model import Plan

_NO_PUMP = "Poured by gravity, and no pump was named: --vacuum 80kPa says what one would buy."

_PROPOSED_FROM = 100
"""Draws of the forecast that feeders, vents and leans are proposed from."""


def change(
    file: Annotated[str, typer.Argument(metavar="FILE", help="Piece file (TOML).")],
    draws: Annotated[int, typer.Option(min=4, max=100_000, help="Pours for each change.")] = 400,
    seed: Annotated[int, typer.Option(min=0, help="The same number gives the same ranking.")] = 0,
    threads: Annotated[
        int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
    ] = None,
    json: AsJson = False,
    best: Annotated[int, typer.Option(min=1, max=100, help="Changes to show.")] = 8,
    alloy: Annotated[
        list[str] | None, typer.Option(help="At hand too; such as CuSn10. May be repeated.")
    ] = None,
    flask: Annotated[
        list[str] | None,
        typer.Option(metavar='"76 x 127 perforated"', help="On the shelf; may be repeated."),
    ] = None,
    vacuum: Annotated[
        str | None, typer.Option(metavar="80kPa", help="What the pump draws at most.")
    ] = None,
    specimen: Annotated[
        list[str] | None,
        typer.Option(metavar="FILE", help="Piece file of another original; may be repeated."),
    ] = None,
    twin: Annotated[
        bool, typer.Option("--twin", help="There is a second original like this one.")
    ] = False,
) -> None:
    """Say what to change first: what each change buys and what it costs."""
    from pourcast.change.rank import rankings
    from pourcast.cli.files import read_sheet, shown_name
    from pourcast.cli.signs import on_one_line
    from pourcast.forecast.solve import forecast
    from pourcast.gating.solve import proposals
    from pourcast.sheet import read_plan

    text = read_sheet(file)
    plan = read_plan(text, file=shown_name(file))
    at_hand = _at_hand(plan, alloy, flask, vacuum, specimen, twin=twin)
    cores = threads or os.cpu_count() or 1
    said = forecast(plan, draws=min(draws, _PROPOSED_FROM), rng=seed, threads=cores)
    last = None
    for last in rankings(
        plan,
        text=text,
        at_hand=at_hand,
        proposals=proposals(said),
        draws=draws,
        rng=seed,
        threads=cores,
    ):
        _tell(last)
    assert last is not None  # the first ranking is that of the plan alone
    on_one_line("")
    _write(last, as_json=json, best=best)


def _at_hand(
    plan: "Plan",
    alloys: list[str] | None,
    flasks: list[str] | None,
    vacuum: str | None,
    specimens: list[str] | None,
    *,
    twin: bool,
) -> "AtHand":
    from pourcast.change.at_hand import AtHand, Specimen
    from pourcast.cli.files import read_piece
    from pourcast.gating.shelf import read_flask
    from pourcast.materials import library
    from pourcast.mould.model import Flask
    from pourcast.trade_units import read

    others = [read_piece(name) for name in specimens or ()]
    shelf = [read_flask(name, wall=plan.flask.wall) for name in flasks or ()]
    return AtHand(
        alloys=tuple(library().alloy(name).key for name in alloys or ()),
        flasks=tuple(
            Flask(
                inside_diameter=each.inside_diameter,
                height=each.height,
                wall=each.wall,
                wall_thickness=each.wall_thickness,
                temperature=None,
            )
            for each in shelf
        ),
        vacuum=None if vacuum is None else read(vacuum, "vacuum", default_unit="kPa"),
        specimens=tuple(Specimen(name=other.piece.name, plan=other) for other in others),
        twin=twin,
    )


def _tell(ranking: "Ranking") -> None:
    from pourcast.cli.signs import on_one_line
    from pourcast.page.words_change import as_told, first

    ranking = as_told(ranking)
    done = sum(made.draws == ranking.draws for made in ranking.changes)
    on_one_line(f"{done} of {len(ranking.changes)} changes poured. {first(ranking)}"[:78])


def _write(ranking: "Ranking", *, as_json: bool, best: int) -> None:
    from pourcast import __version__
    from pourcast.change.document import ranking_document
    from pourcast.cli.run import as_text
    from pourcast.cli.show import terminal, write
    from pourcast.cli.signs import write_out
    from pourcast.page.words_change import first

    if as_json:
        write_out(as_text(ranking_document(ranking, version=__version__, first=first(ranking))))
        return
    write(blocks(ranking, best), terminal(sys.stdout, os.environ))
    sys.stdout.flush()


def blocks(ranking: "Ranking", best: int) -> "list[RenderableType]":
    """Return what to change first as blocks of a console: the answer, then the table."""
    from rich.text import Text

    from pourcast.cli.show import heading, plain_text
    from pourcast.page import words_change as words

    ranking = words.as_told(ranking)
    together, shown = words.together(ranking), ranking.changes[:best]
    told: list[RenderableType] = [Text(words.first(ranking), style="bold")]
    if together:
        told.append(plain_text(f"Together: {together}"))
    idle = words.idle(shown)
    rows = tuple(each for each in shown if each not in idle)
    if rows:
        told += [Text(), _table(rows)]
    if idle:
        told += [Text(), plain_text(words.moves_nothing(idle))]
    left = len(ranking.changes) - len(shown)
    if left > 0:
        told.append(plain_text(f"{left} more changes with --best {len(ranking.changes)}."))
    heed = [(each, words.warnings_of(each)) for each in shown if each.gain > 0.0]
    heed = [(each, said) for each, said in heed if said and each.beyond_noise]
    mends = [each for each in shown if words.mended(each)]
    mends = [each for each in mends if words.mended(each) not in words.first(ranking)]
    if mends:
        told.append(heading("Mends what is wrong with the plan"))
        told += [plain_text(f"{words.acts(each)}: {words.mended(each)}") for each in mends]
    if heed:
        told.append(heading("Mind"))
        told += [plain_text(f"{words.acts(each)}: {said}") for each, said in heed]
    if ranking.refused:
        told.append(heading("Not offered"))
        told += [plain_text(said) for said in words.refused(ranking)]
    if _asks_for_a_pump(ranking):
        told += [Text(), plain_text(_NO_PUMP)]
    if ranking.trials:
        told += [Text(), *(plain_text(words.trial(each)) for each in ranking.trials)]
    return [*told, Text(), plain_text(words.rests_on(ranking))]


def _asks_for_a_pump(ranking: "Ranking") -> bool:
    """Return whether a piece that is poured by gravity comes short and no pump was named."""
    from pourcast.page.words_change import NEARLY_ALL

    tried = (*(each.levers[0] for each in ranking.changes), *(no.lever for no in ranking.refused))
    named = any(lever.kind == "assist" for lever in tried)
    return ranking.chance < NEARLY_ALL and ranking.plan.assist.kind == "gravity" and not named


def _table(changes: "tuple[Change, ...]") -> "RenderableType":
    from rich.text import Text

    from pourcast.cli.show import plain_table, plain_text
    from pourcast.findings import in_100_draws
    from pourcast.page import words_change as words

    table = plain_table()
    table.add_column("change", overflow="fold", ratio=3)
    table.add_column("whole in 100", justify="right", max_width=9)
    table.add_column("gain", justify="right", max_width=12)
    table.add_column("costs", overflow="fold", ratio=4)
    for each, note in words.rows(changes):
        table.add_row(
            Text(words.acts(each), style="bold" if words.stands_out(each) else ""),
            in_100_draws(each.chance_after),
            words.gain(each),
            plain_text(note),
        )
    return table
