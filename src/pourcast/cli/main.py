"""The command ``pourcast``: its commands and options, and how it ends.

Exit status: 0 done (whatever the forecast says), 1 the work could not be done,
2 wrong use or a bad file, 3 the chance lies below ``--fail-below``.

Everything heavy is imported inside the commands, so that ``--help`` is quick.
"""

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from pourcast.cli.about import about
from pourcast.cli.book import book_app
from pourcast.cli.castings import test_app
from pourcast.cli.change import change
from pourcast.cli.compare import compare
from pourcast.cli.day import day
from pourcast.cli.diagnose import diagnose
from pourcast.cli.flasks import flasks
from pourcast.cli.gating import gating
from pourcast.cli.learn import learn
from pourcast.cli.open import open_pages
from pourcast.cli.outcome import outcome
from pourcast.cli.plain_help import PlainGroup
from pourcast.cli.process import own_process
from pourcast.cli.queue import queue
from pourcast.cli.stages import (
    AsJson,
    Cluster,
    Draws,
    ManyDraws,
    PieceFile,
    Seed,
    Threads,
    burnout,
    freeze,
    runsheet,
)
from pourcast.cli.sweep import sweep
from pourcast.cli.take import take

app = typer.Typer(
    name="pourcast",
    cls=PlainGroup,
    help="Will a one-off bronze come out? Told before the original is burnt.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

app.add_typer(book_app, name="book")
app.add_typer(test_app, name="test")

BELOW = 3


@app.callback()
def everywhere(
    book: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="Of a shared book, such as postgresql://name@host/book; left out: "
            "what POURCAST_BOOK or the folder says.",
        ),
    ] = None,
) -> None:
    """Will a one-off bronze come out? Told before the original is burnt."""
    if book is not None:
        os.environ["POURCAST_BOOK"] = book


@app.command()
def new(
    name: Annotated[str, typer.Argument(help="Name of the piece, or the file NAME.toml.")],
    out: Annotated[Path | None, typer.Option(help="File to write; - writes to the output.")] = None,
) -> None:
    """Write a sheet of measures to fill in, with a line on each measure."""
    import shlex

    from pourcast.cli.files import sheet_name, write_new
    from pourcast.cli.signs import write_out
    from pourcast.sheet import new_sheet

    if name.lower().endswith(".toml"):
        out, name = out or Path(name), Path(name).stem
    if str(out) == "-":
        write_out(new_sheet(name))
        return
    path = out or Path(sheet_name(name))
    write_new(path, new_sheet(name))
    asked = shlex.quote(str(path))
    write_out(f"Wrote {path}. Fill it in, then: pourcast forecast {asked}\n")


@app.command()
def forecast(
    file: PieceFile,
    json: AsJson = False,
    full: Annotated[
        bool, typer.Option("--full", help="Say all of it, not what fits one screen.")
    ] = False,
    draws: ManyDraws = 400,
    seed: Seed = 0,
    page: Annotated[
        Path | None, typer.Option(help="Write the forecast as one HTML page as well.")
    ] = None,
    fail_below: Annotated[
        float | None,
        typer.Option(
            min=0.0, max=1.0, help="Exit with 3 if the chance of the whole piece is lower."
        ),
    ] = None,
    calibration: Annotated[
        str | None,
        typer.Option(
            metavar="FOLDER",
            help='Take what the book of this folder has learnt ("book": that of the system); '
            "off or left out: the values alone.",
        ),
    ] = None,
    changes: Annotated[
        bool, typer.Option("--changes", help="Say what to change first as well; takes longer.")
    ] = False,
    threads: Threads = None,
    cluster: Cluster = None,
) -> None:
    """Forecast how a hundred pours of a piece would end."""
    from pourcast.cli.run import run_forecast

    chance = run_forecast(
        file,
        as_json=json,
        full=full,
        draws=draws,
        seed=seed,
        page=page,
        calibration=calibration,
        changes=changes,
        threads=threads or os.cpu_count() or 1,
        cluster=cluster,
    )
    if fail_below is not None and chance < fail_below:
        typer.echo(
            f"The chance of the whole piece, {chance:.3f}, is below {fail_below:g}.", err=True
        )
        raise typer.Exit(BELOW)


app.command()(burnout)
app.command()(freeze)
app.command()(runsheet)
app.command()(change)
app.command()(compare)
app.command()(sweep)
app.command()(day)
app.command()(queue)
app.command()(outcome)
app.command()(take)
app.command()(learn)
app.command()(flasks)
app.command()(gating)
app.command()(diagnose)
app.command()(about)
app.command("open")(open_pages)


@app.command()
def weigh(file: PieceFile, json: AsJson = False, draws: Draws = 400, seed: Seed = 0) -> None:
    """Say what metal, powder and water to weigh out."""
    from pourcast.cli.run import run_weigh

    run_weigh(file, as_json=json, draws=draws, seed=seed)


@app.command()
def values(
    key: Annotated[
        str | None,
        typer.Argument(metavar="KEY", help="A key, or a part of one; left out: what there is."),
    ] = None,
) -> None:
    """Show a value with its range, its kind and its source."""
    from pourcast.cli.values import run_values

    run_values(key)


@app.command()
def schema() -> None:
    """Write the JSON Schema of the forecast."""
    import json

    from pourcast.cli.signs import write_out
    from pourcast.forecast.document import schema as read_schema

    write_out(json.dumps(read_schema(), indent=1) + "\n")


def main() -> None:
    """Run the command and end with its exit status."""
    from pourcast.errors import InputError, PourcastError, SourceError

    own_process()
    try:
        app(prog_name="pourcast", standalone_mode=True)
    except SystemExit as end:
        if not isinstance(end.__context__, BrokenPipeError):
            raise
        # The reader has seen enough: nothing is wrong, and nothing more is written.
        raise SystemExit(0) from None
    except PourcastError as fault:
        sys.stderr.write(f"{fault}\n")
        # What the caster can mend in a file or an option is wrong use.
        raise SystemExit(2 if isinstance(fault, (InputError, SourceError)) else 1) from None
    except OSError as fault:
        sys.stderr.write(f"{fault}\n")
        raise SystemExit(1) from None
