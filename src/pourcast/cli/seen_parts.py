"""Seen parts: a piece file that names a scan or photographs, with the parts found in them.

The files lie beside the piece file.  They are only read, and so is the piece
file; corrections that stand beside it are put in as by `pourcast take`.
"""

import re
import sys
from pathlib import Path

from pourcast.errors import InputError
from pourcast.sheet.seen import Seen, read_seen, with_parts

_MAY_NAME_ONE = re.compile(r"^[ \t]*\[?[ \t]*(?:scan|photo)\b", re.MULTILINE)

_OPTION = re.compile(r"--(unit|gate|scale|leaf|foot)")
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
    try:
        scanned = seen.kind == "scan"
        parts = _of_scan(seen, folder, file) if scanned else _of_photographs(seen, folder, file)
    except InputError as fault:
        what, must, hint = (
            _OPTION.sub(r"the key \1", words) for words in (fault.what, fault.must, fault.hint)
        )
        where = f"{file}: {seen.kind}: {what}"
        raise InputError(where, fault.value, fault.unit, must, hint) from None
    return with_parts(text, seen.kind, parts)


def _of_scan(seen: Seen, folder: Path, file: str) -> str:
    from pourcast.cli.take_scan import parts_of_scan
    from pourcast.scan.paper import parts_written

    scanned, materials, _, _ = parts_of_scan(
        folder / seen.file,
        unit=seen.unit,
        gate=seen.gate,
        cell=seen.cell,
        piece=folder / Path(file).name,
        made_of=dict(seen.materials),
        tell=lambda said: sys.stderr.write(f"{seen.file}: {said}"),
    )
    return parts_written(scanned, source=seen.file, materials=materials)


def _of_photographs(seen: Seen, folder: Path, file: str) -> str:
    from pourcast.cli.files import read_photograph
    from pourcast.cli.take_photo import leaf_of, put_right, read_foot, read_scale
    from pourcast.photo.load import MOST_BYTES
    from pourcast.photo.model import Asked
    from pourcast.photo.paper import parts_written
    from pourcast.photo.solve import solve
    from pourcast.piece.model import USUAL_MATERIALS

    names = [seen.file] if seen.second is None else [seen.file, seen.second]
    scales = [read_scale(scale) for scale in seen.scales]
    made_of = {**USUAL_MATERIALS, **dict(seen.materials)}
    asked = Asked(
        name=seen.name,
        scales=tuple(scales if len(scales) == len(names) else scales[:1] * len(names)),
        leaf=leaf_of(seen.leaf, made_of["blade"]),
        stalk=made_of["rod"],
        bud=made_of["lump"],
        foot=tuple(read_foot(text) for text in seen.feet) or None,
        camera=seen.camera,
        flat=seen.flat,
    )
    sys.stderr.write(f"{' and '.join(names)}: finding the parts.\n")
    reading = solve([read_photograph(folder / name, MOST_BYTES) for name in names], asked)
    reading, _, _ = put_right(reading, folder / Path(file).name)
    return parts_written(reading)
