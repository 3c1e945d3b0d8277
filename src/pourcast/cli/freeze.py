"""Freezing in cells on the command line: progress, a clean stop, and what to write."""

import os
import signal
import sys
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any

from pourcast.cli.files import read_piece, write_page
from pourcast.cli.run import as_text
from pourcast.cli.signs import write_out
from pourcast.errors import InputError

if TYPE_CHECKING:
    from pourcast.forecast.voxel_study import VoxelStudy

_SHARE_OF_FREE = 0.8  # of the memory that is free, left to the cells; our own choice


def run_freeze(
    file: str,
    *,
    voxel: str,
    minutes: float,
    seed: int,
    threads: int,
    as_json: bool,
    save: Path | None,
    page: Path | None,
) -> None:
    """Write how the middle casting of a piece freezes in cells.

    Raises
    ------
    PourcastError
        If the file or an option is bad, or the work could not be done.
    """
    from pourcast.forecast.voxel_study import voxel_study
    from pourcast.trade_units import read

    plan = read_piece(file)
    side = read(voxel, "length", default_unit="mm")
    stop = _Stop()
    with stop:
        study = voxel_study(
            plan,
            voxel=side,
            until=60.0 * minutes,
            rng=seed,
            threads=threads,
            memory_limit=_memory(),
            progress=stop.goes_on,
        )
    if save is not None:
        _save(save, study)
    if page is not None:
        from pourcast.page.voxel_page import render_voxel

        write_page(page, render_voxel(study))
    if as_json:
        write_out(as_text(_tree(study)))
        return
    from pourcast.cli.show import terminal, write_lines
    from pourcast.page import cautions
    from pourcast.page.words_voxel import lines

    # Who reads when it is solid thinks of the bucket.
    care = " ".join(caution.text for caution in cautions.named("quench_steam"))
    told = [*lines(study), f"Take care. {care} {cautions.LAST_WORD}"]
    write_lines(told, terminal(sys.stdout, os.environ))
    for what, path in (("Fields", save), ("Page", page)):
        if path is not None:
            write_out(f"{what}: {path}\n")


class _Stop:
    """Ends a run on Ctrl-C at its next step, so that what there is can be kept."""

    def __init__(self) -> None:
        self._asked = False
        self._before: Any = None

    def __enter__(self) -> None:
        self._before = signal.signal(signal.SIGINT, self._ask)

    def __exit__(self, *_: object) -> None:
        signal.signal(signal.SIGINT, self._before)
        if sys.stderr.isatty():
            sys.stderr.write("\n")

    def _ask(self, _signal: int, _frame: FrameType | None) -> None:
        self._asked = True

    def goes_on(self, share: float) -> bool:
        """Show how far it is; say whether it goes on."""
        if sys.stderr.isatty():
            done = round(40 * share)
            sys.stderr.write(f"\r[{'#' * done}{'.' * (40 - done)}] {100 * share:3.0f} %")
            sys.stderr.flush()
        return not self._asked


def _memory() -> int:
    """Return how many bytes the cells may take."""
    try:
        free = os.sysconf("SC_AVPHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    except (AttributeError, OSError, ValueError):
        return 1_000_000_000
    return int(_SHARE_OF_FREE * free)


def _save(path: Path, study: "VoxelStudy") -> None:
    import numpy as np

    from pourcast.freeze.fields_pack import packed_arrays

    try:
        with path.open("wb") as opened:
            np.savez_compressed(opened, **packed_arrays(study.fields))  # type: ignore[arg-type]
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise InputError("fields", path, "", f"a file that can be written ({reason})") from None


def _tree(study: "VoxelStudy") -> dict[str, Any]:
    from pourcast import __version__
    from pourcast.forecast.voxel_document import voxel_document

    return voxel_document(study, version=__version__)
