"""Readers: everything that takes in what somebody else wrote, with good inputs to spoil.

A reader is a call that takes bytes.  It may return or raise a `PourcastError`; whatever
else comes out is a fault of ours.
"""

import hashlib
import io
import json
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import get_args

import trimesh
from PIL import Image, ImageDraw

from pourcast.book.export import HEAD, export_book
from pourcast.book.store import open_book
from pourcast.book.take_in import import_book
from pourcast.burnout.log import read_log
from pourcast.day.typed import typed
from pourcast.errors import InputError
from pourcast.gating.shelf import read_flask
from pourcast.learn.readings import read_run
from pourcast.photo.load import load as load_photograph
from pourcast.scan.corrections import read_corrections
from pourcast.scan.read import read_mesh
from pourcast.sheet import read_plan
from pourcast.sheet.edit import Edit, edited
from pourcast.trade_units import Quantity, read
from pourcast.trade_units.quantities import symbols
from tests.book.conftest import kept

EXAMPLES = Path(__file__).parents[2] / "examples"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """A call that takes bytes, good inputs, and its share of a million."""

    name: str
    share: int
    seeds: tuple[bytes, ...]
    call: Callable[[bytes], object]


def _text(content: bytes) -> str:
    """Return what a file of the caster says; bytes that are no text are refused earlier."""
    return content.decode("utf-8", errors="replace")


QUANTITIES: tuple[Quantity, ...] = get_args(Quantity)
MEASURES = tuple(
    text.encode()
    for text in (
        *("3/16 in", "1 3/16 in", "2 ft 3 in", "7 lb 4 oz", "1400 F", "760 °C", "12 C/min"),
        *("2 h 30 min", "27 inHg", "40:100", "50 %", "1,5 mm", "12 dwt", "3 ozt", "85 kPa"),
        *("-5 K", "90 deg", "1.2 kW", "½ in", "6' 2\"", "07:30", "1e-3 m", "380"),
    )
)


def _measure(content: bytes) -> None:
    """Read the text as each quantity; a plain number is one of each."""
    text = _text(content)
    faults = []
    for quantity in QUANTITIES:
        try:
            read(text, quantity, default_unit=symbols(quantity)[0])
        except InputError as fault:
            faults.append(fault)
    if len(faults) == len(QUANTITIES):
        raise faults[0]


def _sheet(content: bytes) -> object:
    return read_plan(_text(content))


def _edit(content: bytes) -> object:
    change = Edit(path=("flask", "temperature_C"), value=640)
    return edited(_text(content), (change,))


def _corrections(content: bytes) -> object:
    return read_corrections(_text(content))


def _log(content: bytes) -> object:
    return read_log(_text(content))


def _run(content: bytes) -> object:
    return read_run(_text(content), "pull-down", "kPa", pump_on=True, covered=False)


def _typed(content: bytes) -> object:
    return typed(_text(content), unit="C")


def _flask(content: bytes) -> object:
    return read_flask(_text(content), wall="solid")


LOGS = (
    b"time,temperature_C,dial\n18:30,20,2\n19:00,95,2\n20:15,150.5,3\n23:50,410,4\n00:40,520,\n",
    b"time_min;temperature_C\n0;20,5\n15;88,0\n30;140,5\n",
    b"time_min\ttemp_F\tdial\n0\t70\t1\n60\t300\t2\n120\t700\t0\n",
)
RUNS = (
    b"# seconds, gauge kPa\n0,0\n5,40.5\n10,61\n20,80\n40,84.5\n",
    b"s;kPa\n0;84\n30;60\n60;41\n",
)
LINES = tuple(
    line.encode()
    for line in (
        *("1250 F", "672", "flask 540 C", "core 300 C", "metal 1120 C", "turned to 3", "off"),
        *("took out", "blew out 5 min ago", "poured 16:40", "back in at 7:05", "undo", "wrong"),
    )
)
FLASKS = (
    b"4 x 7 in",
    b"100 mm x 180 mm",
    b"5 x 8 in perforated",
    b"76 x 127",
    b"9 cm x 20 cm solid",
)
CORRECTIONS = (
    b'[[part]]\nat_mm = [1.5, -2, 30]\nname = "spine"\ndiameter_mm = [1.2, 0.6]\n',
    b"[[part]]\nat_mm = [0, 0, 1]\ndrop = true\n\n[[part]]\nat_mm = [4.0, 1, 9]\n"
    b'material = "leaf"\nwidth_mm = 8\nthickness_mm = 0.4\nlength_mm = 31\njoin = false\n',
)


def meshes() -> tuple[bytes, ...]:
    """Return a small solid in every kind of file that is read."""
    solid = trimesh.creation.cylinder(radius=2.0, height=30.0, sections=8)
    kinds = ("stl", "stl_ascii", "ply", "obj", "3mf", "glb")
    files = [solid.export(file_type=kind) for kind in kinds]
    return tuple(each.encode() if isinstance(each, str) else each for each in files)


def photographs() -> tuple[bytes, ...]:
    """Return a small picture in every kind of file that is read."""
    picture = Image.new("RGB", (220, 220), "white")
    ImageDraw.Draw(picture).line((110, 20, 110, 200), fill="black", width=6)
    out = []
    for kind in ("PNG", "JPEG", "WEBP"):
        stream = io.BytesIO()
        picture.save(stream, kind)
        out.append(stream.getvalue())
    return tuple(out)


def readers(folder: Path) -> tuple[Reader, ...]:
    """Return all readers but the pages; shares add up to 960 000.

    Parameters
    ----------
    folder : Path
        Empty; the book that exports are taken into is made there.
    """
    sheets = tuple(path.read_bytes() for path in sorted(EXAMPLES.glob("*.toml")))
    rows, take = _book(folder)
    return (
        Reader(name="measure", share=400_000, seeds=MEASURES, call=_measure),
        Reader(name="typed line", share=200_000, seeds=LINES, call=_typed),
        Reader(name="flask", share=40_000, seeds=FLASKS, call=_flask),
        Reader(name="kiln log", share=100_000, seeds=LOGS, call=_log),
        Reader(name="pull-down", share=80_000, seeds=RUNS, call=_run),
        Reader(name="sheet", share=40_000, seeds=sheets, call=_sheet),
        Reader(name="edit", share=20_000, seeds=sheets, call=_edit),
        Reader(name="corrections", share=40_000, seeds=CORRECTIONS, call=_corrections),
        Reader(name="export of a book", share=15_000, seeds=rows, call=take),
        Reader(name="scan", share=20_000, seeds=meshes(), call=read_mesh),
        Reader(name="photograph", share=5_000, seeds=photographs(), call=load_photograph),
    )


def _book(folder: Path) -> tuple[tuple[bytes, ...], Callable[[bytes], object]]:
    """Return the rows of an export, and a call that takes one spoiled file of it back in."""
    source = open_book(folder / "source")
    kept(source)
    export = folder / "export"
    export_book(source, export, at=datetime(2026, 3, 2, tzinfo=UTC))
    book = open_book(folder / "target")
    files = [path for path in sorted(export.glob("*.jsonl")) if path.stat().st_size]
    seeds = tuple(path.name.encode() + b"\0" + path.read_bytes() for path in files)
    head = json.loads((export / HEAD).read_text("utf-8"))
    tried = folder / "tried"
    shutil.copytree(export, tried)

    def take(content: bytes) -> object:
        name, _, body = content.partition(b"\0")
        hit = next((path for path in files if path.name.encode() == name), files[0])
        sums = head["sha256"] | {hit.name: hashlib.sha256(body).hexdigest()}
        (tried / hit.name).write_bytes(body)
        (tried / HEAD).write_text(json.dumps(head | {"sha256": sums}), "utf-8")
        try:
            return import_book(book, tried, merge=True)
        finally:
            shutil.copyfile(hit, tried / hit.name)

    return seeds, take
