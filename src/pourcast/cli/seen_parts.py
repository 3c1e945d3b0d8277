"""Seen parts: a piece file that names a scan or photographs, with the parts found in them.

The files lie beside the piece file.  They are only read, and so is the piece
file; corrections that stand beside it are put in as by `pourcast take`.
"""

import re
import sys
from collections.abc import Callable
from pathlib import Path

from pourcast.errors import InputError
from pourcast.sheet.seen import Seen, read_seen, with_parts

_MAY_NAME_ONE = re.compile(r"^[ \t]*\[?[ \t]*(?:scan|photo)\b", re.MULTILINE)

_OPTION = re.compile(r"--(unit|gate|scale|leaf)")
"""Of `pourcast take`; in a piece file the same words are keys."""


def with_seen_parts(text: str, *, file: str, folder: Path) -> str:
    """Return a piece file with the parts of the scan or the photographs that it names.

    Parameters
    ----------
    text : str
        The whole file; one that names neither comes back as it is.
    file : str
        Its name, for the messages.
    folder : Path
        Where it lies.

    Raises
    ------
    SheetError
        With every fault of the section.
    InputError
        If the scan or a photograph cannot be read.
    """
    if not _MAY_NAME_ONE.search(text):
        return text
    seen = read_seen(text, file=file)
    if seen is None:
        return text
    read: Callable[[Seen, Path, str], str] = _of_scan if seen.kind == "scan" else _of_photographs
    try:
        parts = read(seen, folder, file)
    except InputError as fault:
        what, must, hint = (
            _OPTION.sub(r"the key \1", words) for words in (fault.what, fault.must, fault.hint)
        )
        where = f"{file}: {seen.kind}: {what}"
        raise InputError(where, fault.value, fault.unit, must, hint) from None
    return with_parts(text, seen.kind, parts)


def _of_scan(seen: Seen, folder: Path, file: str) -> str:
    from pourcast.cli.take import read_corrections_of, read_gate, read_scan
    from pourcast.scan.read import in_metres, read_mesh

    reading = read_mesh(read_scan(folder / seen.file))
    mesh = in_metres(reading, seen.unit)
    at = read_gate(seen.gate, seen.unit or reading.unit or "mm")

    # What works with the mesh is loaded only once the file has been let in.
    import numpy as np

    from pourcast.scan.colours import coloured
    from pourcast.scan.corrections import corrected
    from pourcast.scan.paper import parts_written
    from pourcast.scan.solve import solve

    sys.stderr.write(f"{seen.file}: {len(mesh.faces)} faces; finding the parts.\n")
    scanned = solve(mesh, gate=at, cell=seen.cell, rng=np.random.default_rng(0))
    scanned = coloured(scanned, mesh, reading.colours)
    scanned, materials, _ = corrected(scanned, read_corrections_of(folder / Path(file).name))
    return parts_written(scanned, source=seen.file, materials=materials)


def _of_photographs(seen: Seen, folder: Path, file: str) -> str:
    from pourcast.cli.files import read_photograph
    from pourcast.cli.take_photo import read_leaf, read_scale
    from pourcast.photo.load import MOST_BYTES
    from pourcast.photo.model import Asked
    from pourcast.photo.paper import parts_written
    from pourcast.photo.solve import solve

    del file
    names = [seen.file] if seen.second is None else [seen.file, seen.second]
    scales = [read_scale(scale) for scale in seen.scales]
    asked = Asked(
        name=seen.name,
        scales=tuple(scales if len(scales) == len(names) else scales[:1] * len(names)),
        leaf=read_leaf(None if seen.leaf is None else f"{1e3 * seen.leaf!r} mm"),
        camera=seen.camera,
        flat=seen.flat,
    )
    sys.stderr.write(f"{' and '.join(names)}: finding the parts.\n")
    reading = solve([read_photograph(folder / name, MOST_BYTES) for name in names], asked)
    return parts_written(reading)
