"""Casting forms: the tests that a studio makes, read from a form and worked out.

Each function takes the fields as they were typed and returns what the test says; the
same functions of `pourcast.learn` and the same sentences serve the terminal.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from pourcast import units as si
from pourcast.app.look import Look
from pourcast.app.reading import read_number
from pourcast.book.castings import castings_of, result_of
from pourcast.book.store import Book
from pourcast.burnout.log import read_log
from pourcast.errors import InputError
from pourcast.learn import block, kiln_day
from pourcast.learn.pull_down import axial_shape, radial_shape
from pourcast.learn.pull_down_fit import PERMEABILITY, fit
from pourcast.learn.readings import read_run, run_tree
from pourcast.learn.squeeze import range_by_the_book
from pourcast.materials import library
from pourcast.mould.solve import powder_of
from pourcast.page.words_learn import block_told, day_told, pull_down_told
from pourcast.speech import GAUGES

KINDS = ("pull-down", "fan", "block", "day")

_RUNS = (("open", False, False), ("covered", False, True), ("pumping", True, False))


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A test that was worked out.

    Parameters
    ----------
    said : tuple of str
    inputs, result : dict
        As the book keeps them.
    """

    said: tuple[str, ...]
    inputs: dict[str, Any]
    result: dict[str, Any]


def work_out(kind: str, fields: Mapping[str, str], look: Look, book: Book) -> Made:
    """Return what a test says.

    Parameters
    ----------
    kind : str
        "pull-down", "block" or "day".
    fields : mapping of str to str
    look : Look
    book : Book
        For the kiln days before.

    Raises
    ------
    PourcastError
        If a field is missing or cannot be, or the readings do not tell.
    """
    forms: dict[str, Callable[[Mapping[str, str], Look, Book], Made]] = {
        "pull-down": _pull_down,
        "block": _block,
        "day": _day,
    }
    return forms[kind](fields, look, book)


def _pull_down(fields: Mapping[str, str], look: Look, book: Book) -> Made:
    del book
    gauge = fields.get("gauge", "kPa")
    if gauge not in GAUGES:
        raise InputError("gauge", gauge[:20], "", "one of " + ", ".join(GAUGES))
    runs = [
        read_run(fields[name], name, gauge, pump_on=pump_on, covered=covered)
        for name, pump_on, covered in _RUNS
        if fields.get(name, "").strip()
    ]
    if not runs or all(run.covered for run in runs):
        raise InputError("readings", "not given", "", "given for the open run, or with the pump on")
    chamber = read_number("litres", fields.get("chamber_l", ""), look, low=0.01, high=1000.0)
    across = read_number("flask", fields.get("flask_mm", ""), look, low=10.0, high=3000.0)
    height = read_number("height", fields.get("height_mm", ""), look, low=10.0, high=3000.0)
    air = read_number("air", fields.get("air_kPa") or "101.325", look, low=50.0, high=110.0)
    shape = axial_shape(0.5e-3 * across, 1e-3 * height)
    if fields.get("bore_mm", "").strip():
        bore = read_number("bore", fields["bore_mm"], look, low=0.5, high=500.0)
        shape = radial_shape(0.5e-3 * across, 0.5e-3 * bore, 1e-3 * height)
    found = fit(
        runs,
        volume=si.to_si(chamber, "l"),
        shape=shape,
        air=si.to_si(air, "kPa"),
        block_temperature=si.to_si(20.0, "C"),
    )
    said = pull_down_told(found, range_by_the_book(library().find(PERMEABILITY)[0]))
    inputs = {
        "runs": [run_tree(run) for run in runs],
        "chamber_l": chamber,
        "shape_m": shape,
        "air_kPa": air,
        "block_C": 20.0,
    }
    return _made(said, inputs, found)


def _block(fields: Mapping[str, str], look: Look, book: Book) -> Made:
    del book

    def grams(name: str, *, needed: bool = True) -> float | None:
        text = fields.get(name, "")
        if not needed and not text.strip():
            return None
        return read_number(name.removesuffix("_g"), text, look, low=0.0, high=1e6)

    flask = grams("flask_g", needed=False) or 0.0
    set_g, kiln_g, powder_g = grams("set_g"), grams("kiln_g"), grams("powder_g")
    dry_g = grams("dry_g", needed=False)
    mixed = read_number("water", fields.get("water") or "0.4", look, low=0.2, high=1.0)
    kept = library()
    powder = powder_of(kept.investment, kept.powders[0])
    assert set_g is not None
    assert kiln_g is not None
    assert powder_g is not None
    found = block.fit(
        1e-3 * (set_g - flask),
        1e-3 * (kiln_g - flask),
        powder=1e-3 * powder_g,
        water_to_powder=mixed,
        bound_water=powder.hemihydrate_fraction * powder.hydration_water,
        dry_mass=None if dry_g is None else 1e-3 * (dry_g - flask),
    )
    said = block_told(found, range_by_the_book(library().find(block.FREE_WATER_KEPT)[0]))
    inputs = {
        "set_g": set_g,
        "kiln_g": kiln_g,
        "powder_g": powder_g,
        "dry_g": dry_g,
        "flask_g": flask,
        "water_to_powder": mixed,
    }
    return _made(said, inputs, found)


def _day(fields: Mapping[str, str], look: Look, book: Book) -> Made:
    del look
    text = fields.get("log", "")
    if not text.strip():
        raise InputError("log", "empty", "", "lines of time, temperature and dial")
    earlier = castings_of(book, "day")
    before = read_log(earlier[-1].inputs["log"]) if earlier else None
    found = kiln_day.fit(read_log(text), before=before)
    return _made(day_told(found), {"log": text}, found)


def _made(said: list[str], inputs: dict[str, Any], found: object) -> Made:
    return Made(said=tuple(said), inputs=inputs, result=result_of(said, found))
