"""Pull-down on the command line: read the gauge, call one function, write what it taught."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from pourcast.cli.casting_end import How, Keep, Note, end, how_to
from pourcast.cli.outcome import Data
from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from pourcast.learn.pull_down_fit import Run


def pull_down(
    open_run: Annotated[
        Path | None,
        typer.Option("--open", metavar="CSV", help="Valve shut, block open: seconds, gauge."),
    ] = None,
    covered: Annotated[
        Path | None, typer.Option(metavar="CSV", help="Valve shut, block covered by a plate.")
    ] = None,
    pumping: Annotated[
        Path | None, typer.Option(metavar="CSV", help="Pump on, block open.")
    ] = None,
    chamber_l: Annotated[
        float | None, typer.Option(min=0.01, max=1000.0, help="Litres of chamber and hoses.")
    ] = None,
    flask_mm: Annotated[
        float, typer.Option(min=10.0, max=3000.0, help="Across the inside of the flask.")
    ] = 76.0,
    height_mm: Annotated[float, typer.Option(min=10.0, max=3000.0, help="Of the block.")] = 100.0,
    bore_mm: Annotated[
        float | None,
        typer.Option(min=0.5, max=500.0, help="Width of the bore; left out: a tight flask."),
    ] = None,
    bore_length_mm: Annotated[
        float | None, typer.Option(min=1.0, max=3000.0, help="Left out: the height of the block.")
    ] = None,
    gauge: Annotated[
        Literal["kPa", "mbar", "inHg", "mmHg"], typer.Option(help="Unit, below the air outside.")
    ] = "kPa",
    air_kPa: Annotated[  # noqa: N803 - the unit as the caster writes it
        float, typer.Option("--air-kPa", min=50.0, max=110.0, help="Air pressure of the day.")
    ] = 101.325,
    block_C: Annotated[  # noqa: N803 - as above
        float, typer.Option("--block-C", min=0.0, max=800.0, help="Of the block.")
    ] = 20.0,
    keep: Keep = False,
    note: Note = "",
    how: How = False,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Say how easily gas leaves through the block, from the gauge of a blank burnt flask."""
    from pourcast import units as si
    from pourcast.errors import InputError
    from pourcast.learn.pull_down import axial_shape, radial_shape
    from pourcast.learn.pull_down_fit import PERMEABILITY, fit
    from pourcast.learn.readings import run_tree
    from pourcast.learn.squeeze import range_by_the_book
    from pourcast.materials import library
    from pourcast.page.words_learn import pull_down_told

    if how:
        how_to("pull-down")
        return
    if open_run is None and pumping is None:
        raise InputError("readings", "not given", "", "given with --open or --pumping")
    if chamber_l is None:
        raise InputError("chamber-l", "not given", "", "the litres of the chamber and its hoses")
    radius, height = 0.5e-3 * flask_mm, 1e-3 * height_mm
    shape = axial_shape(radius, height)
    if bore_mm is not None:
        shape = radial_shape(radius, 0.5e-3 * bore_mm, 1e-3 * (bore_length_mm or height_mm))
    runs = [
        _run(path, gauge, pump_on=on, covered=shut)
        for path, on, shut in (
            (open_run, False, False),
            (covered, False, True),
            (pumping, True, False),
        )
        if path is not None
    ]
    found = fit(
        runs,
        volume=si.to_si(chamber_l, "l"),
        shape=shape,
        air=si.to_si(air_kPa, "kPa"),
        block_temperature=si.to_si(block_C, "C"),
    )
    inputs = {
        "runs": [run_tree(run) for run in runs],
        "chamber_l": chamber_l,
        "shape_m": shape,
        "air_kPa": air_kPa,
        "block_C": block_C,
    }
    before = range_by_the_book(library().find(PERMEABILITY)[0])
    end("pull-down", inputs, found, pull_down_told(found, before), keep, note, json, data)


def _run(path: Path, gauge: str, *, pump_on: bool, covered: bool) -> "Run":
    from pourcast.cli.files import read_text
    from pourcast.learn.readings import read_run

    return read_run(read_text(str(path)), str(path), gauge, pump_on=pump_on, covered=covered)
