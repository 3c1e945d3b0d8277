"""Castings: the tests that a studio can make, each with its form, before and after."""

from typing import TYPE_CHECKING, Annotated

import typer

from pourcast.cli.casting_end import How, Keep, Note, end, how_to
from pourcast.cli.fan import fan
from pourcast.cli.outcome import Data
from pourcast.cli.plain_help import PlainGroup
from pourcast.cli.pull_down import pull_down
from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from pourcast.book.castings import KeptTest

test_app = typer.Typer(
    name="test",
    cls=PlainGroup,
    help="Tests that a studio can make: what each teaches, before and after.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
test_app.command("pull-down")(pull_down)
test_app.command()(fan)


@test_app.command()
def block(
    set_g: Annotated[
        float | None, typer.Option(min=1.0, max=1e6, help="Just after it has set.")
    ] = None,
    kiln_g: Annotated[
        float | None, typer.Option(min=1.0, max=1e6, help="As it goes into the kiln.")
    ] = None,
    powder_g: Annotated[
        float | None, typer.Option(min=1.0, max=1e6, help="Powder in the block.")
    ] = None,
    dry_g: Annotated[
        float | None, typer.Option(min=1.0, max=1e6, help="Dried below 60 °C to the end.")
    ] = None,
    flask_g: Annotated[
        float, typer.Option(min=0.0, max=1e6, help="Of the flask, if it was weighed with it.")
    ] = 0.0,
    water_to_powder: Annotated[float, typer.Option(min=0.2, max=1.0, help="As mixed.")] = 0.40,
    powder: Annotated[str | None, typer.Option(help="Key of the powder; left out: usual.")] = None,
    keep: Keep = False,
    note: Note = "",
    how: How = False,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Say how much of its free water a block still held, from its weighings."""
    from pourcast.errors import InputError
    from pourcast.learn.block import FREE_WATER_KEPT, fit
    from pourcast.learn.squeeze import range_by_the_book
    from pourcast.materials import library
    from pourcast.mould.solve import powder_of
    from pourcast.page.words_learn import block_told

    if how:
        how_to("block")
        return
    if set_g is None or kiln_g is None or powder_g is None:
        asked = "weighed: --set-g, --kiln-g and --powder-g"
        raise InputError("block", "not weighed", "", asked)
    book = library().investment
    held = powder_of(book, powder or library().powders[0])
    found = fit(
        1e-3 * (set_g - flask_g),
        1e-3 * (kiln_g - flask_g),
        powder=1e-3 * powder_g,
        water_to_powder=water_to_powder,
        bound_water=held.hemihydrate_fraction * held.hydration_water,
        dry_mass=None if dry_g is None else 1e-3 * (dry_g - flask_g),
    )
    inputs = {
        "set_g": set_g,
        "kiln_g": kiln_g,
        "powder_g": powder_g,
        "dry_g": dry_g,
        "flask_g": flask_g,
        "water_to_powder": water_to_powder,
    }
    before = range_by_the_book(library().find(FREE_WATER_KEPT)[0])
    end("block", inputs, found, block_told(found, before), keep, note, json, data)


@test_app.command()
def day(
    log: Annotated[str, typer.Argument(metavar="CSV", help="Time, temperature and dial of a day.")],
    keep: Keep = False,
    note: Note = "",
    how: How = False,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Say what a logged day teaches of the kiln; kept days before it count."""
    from pourcast.book.castings import castings_of
    from pourcast.book.store import FILE, default_folder, open_book
    from pourcast.burnout.log import read_log
    from pourcast.cli.files import read_kiln_log, read_text
    from pourcast.learn.kiln_day import fit
    from pourcast.page.words_learn import day_told

    if how:
        how_to("day")
        return
    earlier: tuple[KeptTest, ...] = ()
    if ((data or default_folder()) / FILE).is_file():
        with open_book(data) as book:
            earlier = castings_of(book, "day")
    before = read_log(earlier[-1].inputs["log"]) if earlier else None
    found = fit(read_kiln_log(log), before=before)
    end("day", {"log": read_text(log)}, found, day_told(found), keep, note, json, data)
