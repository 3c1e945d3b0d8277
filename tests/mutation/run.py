"""Make one thing wrong at a time, and see whether a test goes red.

``make mutation`` runs this; nothing in the working tree is changed but docs/mutation.md and
the state, out/mutation.json.  All happens in a copy of the repository under out/mutation, with its
own kernels.  A run that is broken off goes on where it stood; a mutant is tried anew once its
file has changed, a survivor with ``--again`` too.

A mutant is tried on the test files of its stage that call its function or read its value
(`tests.mutation.reach`): what the others do does not hang on it.

Kernels run as plain Python here, since a wrong kernel would have to be compiled for up
to a minute.  Test files that take too long that way are left out of the run, and the
table says which: ``--compiled`` tries the survivors of their stages with those files as well.
What is found so was not found by a check that was added for it, and does not count as that; what
takes too long even so stays a survivor.  Of a compiled kernel nothing is noted, so a mutant of a
module that holds kernels is tried on all of them, any other on those that reach it.
``--page`` tries nothing, writes the page with what was judged since, and names what was judged of
a place that is not there any more.
"""

import argparse
import hashlib
import json
import os
import shutil
import sys
import tomllib
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from tests.mutation.mutants import DATA, PACKAGE, Mutant, gone, mutants
from tests.mutation.table import JUDGED, write_table
from tests.mutation.trial import GREEN, RED, STOPPED, Outcome, looked_through, tried

STATE = Path("out") / "mutation.json"
COPY = Path("out") / "mutation"
LEFT_BEHIND = (".git", ".venv", "out", "_build", ".hypothesis", ".mypy_cache", ".ruff_cache")
LIMIT = 12.0
"""Seconds of processor time: a test file that needs more as plain Python is left out [s]."""

LIMIT_COMPILED = 300.0
PRELOADED = ("numpy", "scipy.special", "numba", "hypothesis")


def main(arguments: Sequence[str] | None = None) -> int:
    """Try the chosen mutants that are not in the state yet, and write the table."""
    asked = _parser().parse_args(arguments)
    root = Path.cwd()
    chosen = mutants(root, of_equations=asked.equations, of_values=asked.values)
    if asked.page:
        write_table(root, _state(root), [mutant.key for mutant in chosen])
        judged = tomllib.loads((root / JUDGED).read_text(encoding="utf-8"))
        for key in gone(root, judged):
            print(f"judged, but no longer there: {key}")
        return 0
    copy = (root / COPY).resolve()
    _make_copy(root, copy)
    os.environ["NUMBA_CACHE_DIR"] = str(copy / "kernels")
    if not asked.compiled:
        os.environ["NUMBA_DISABLE_JIT"] = "1"
    for name in PRELOADED:
        __import__(name)
    sys.dont_write_bytecode = False
    state = _state(root)
    now = [one for one in chosen if not asked.only or one.group in asked.only]
    folders = sorted({folder for one in now for folder in one.tests})
    if asked.compiled:
        files = _slow_ones(root, copy, folders, state)
    else:
        files = _baseline(root, copy, folders, state)
    sys.dont_write_bytecode = True
    for number, mutant in enumerate(now, 1):
        if not _wanted(mutant, state, again=asked.again, compiled=asked.compiled):
            continue
        outcome = _try(copy, mutant, files, compiled=asked.compiled)
        if outcome is None or (asked.compiled and outcome.end == STOPPED):
            # Compiled files are many and slow: to be stopped says nothing of the mutant.
            continue
        once = state["mutants"].get(mutant.key, {}).get("survived_once", False)
        state["mutants"][mutant.key] = {
            "group": mutant.group,
            "hash": _hash(mutant.text),
            "survived_once": outcome.end == GREEN or (once and not asked.compiled),
            **asdict(outcome),
        }
        _keep(root, state)
        print(f"{number}/{len(now)} {outcome.end} {outcome.seconds:.0f} s {mutant.key}")
    write_table(root, state, [mutant.key for mutant in chosen])
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation.run", description=__doc__)
    parser.add_argument("--equations", type=int, default=14, help="of each stage")
    parser.add_argument("--values", type=int, default=8, help="of each data file")
    parser.add_argument("--only", nargs="*", default=[], help="stages, or materials/NAME")
    parser.add_argument("--again", action="store_true", help="try survivors again")
    parser.add_argument("--compiled", action="store_true", help="survivors, with the slow tests")
    parser.add_argument("--page", action="store_true", help="write the page only, judged anew")
    return parser


def _wanted(mutant: Mutant, state: dict[str, Any], *, again: bool, compiled: bool) -> bool:
    kept = state["mutants"].get(mutant.key)
    if kept is None or kept["hash"] != _hash(mutant.text):
        return not compiled
    return (again or compiled) and kept["end"] == GREEN


def _try(
    copy: Path, mutant: Mutant, files: dict[str, dict[str, Any]], *, compiled: bool
) -> Outcome | None:
    """Return how the tests of a mutant end; None: there is none to run."""
    place = copy / mutant.file
    right, times = place.read_bytes(), place.stat()
    # A file of bytecode is told by the second of its source, so that second is given back.
    place.write_text(mutant.text, encoding="utf-8")
    try:
        names = [
            name
            for name, kept in files.items()
            if name.split("/")[1] in mutant.tests
            and ((compiled and _holds_kernels(right)) or _reaches(name, kept, mutant))
        ]
        names.sort(key=lambda name: (not _names_it(copy / name, mutant), files[name]["seconds"]))
        limit = LIMIT_COMPILED if compiled else LIMIT * 15.0
        if not names:
            return None if compiled else Outcome(end=GREEN, seconds=0.0, first="")
        return tried(copy, names, limit=limit)
    finally:
        place.write_bytes(right)
        os.utime(place, ns=(times.st_atime_ns, times.st_mtime_ns))


def _reaches(name: str, kept: dict[str, Any], mutant: Mutant) -> bool:
    """Return whether a green test file calls the function, or reads the value, of a mutant.

    The tests of the library read data files by themselves, which is not noted.
    """
    by_itself = not mutant.reach or name.split("/")[1] == "materials"
    return kept["end"] == GREEN and (by_itself or mutant.reach in kept["reached"])


def _holds_kernels(source: bytes) -> bool:
    """Return whether a module has kernels, of which nothing is noted once they are compiled."""
    return b"\n@kernel" in source or b"\n@small_kernel" in source


def _names_it(test: Path, mutant: Mutant) -> bool:
    """Return whether a test speaks of the module or the value of a mutant."""
    if mutant.file.endswith(".toml"):
        word = mutant.name.partition(":")[0].rpartition(".")[2]
    else:
        word = f"{mutant.group}.{Path(mutant.file).stem}"
    return word in test.read_text(encoding="utf-8")


def _baseline(
    root: Path, copy: Path, folders: Sequence[str], state: dict[str, Any]
) -> dict[str, dict[str, Any]]:
    """Return how each test file ends where nothing is wrong, and what it reaches.

    It is run until it is not red, and anew once it or the package has changed.

    A red one is left out, since it would find every mutant; the page names it.
    """
    found: dict[str, dict[str, Any]] = {}
    package = _text_of(*sorted((copy / PACKAGE).rglob("*.py")), *sorted((copy / DATA).glob("*")))
    for folder in folders:
        paths = sorted((copy / "tests" / folder).glob("*.py"))
        helpers = [path for path in paths if not path.name.startswith("test_")]
        for path in (path for path in paths if path not in helpers):
            name = path.relative_to(copy).as_posix()
            known = state["baseline"].get(name, {"end": RED, "hash": ""})
            now = _hash(package + _text_of(path, *helpers))
            if known["end"] == RED or known["hash"] != now:
                outcome = looked_through(copy, name, limit=LIMIT)
                state["baseline"][name] = {"hash": now, **asdict(outcome)}
                _keep(root, state)
                print(f"as it is: {outcome.end} {outcome.seconds:.0f} s {outcome.first or name}")
            found[name] = state["baseline"][name]
    return found


def _slow_ones(
    root: Path, copy: Path, folders: Sequence[str], state: dict[str, Any]
) -> dict[str, dict[str, Any]]:
    """Return what the test files that are too slow as plain Python reach with kernels compiled.

    Only those that are green so.
    """
    found: dict[str, dict[str, Any]] = {}
    package = _text_of(*sorted((copy / PACKAGE).rglob("*.py")), *sorted((copy / DATA).glob("*")))
    for name, kept in sorted(state["baseline"].items()):
        if kept["end"] != STOPPED or name.split("/")[1] not in folders:
            continue
        now = _hash(package + _text_of(copy / name))
        if kept.get("compiled", {}).get("hash") != now:
            outcome = looked_through(copy, name, limit=LIMIT_COMPILED)
            kept["compiled"] = {"hash": now, **asdict(outcome)}
            _keep(root, state)
            print(f"compiled: {outcome.end} {outcome.seconds:.0f} s {outcome.first or name}")
        if kept["compiled"]["end"] == GREEN:
            found[name] = kept["compiled"]
    return found


def _text_of(*paths: Path) -> str:
    return "".join(path.read_text(encoding="utf-8") for path in paths)


def _make_copy(root: Path, copy: Path) -> None:
    """Bring the copy up to the working tree; its kernels stay."""
    copy.mkdir(parents=True, exist_ok=True)
    for old in copy.iterdir():
        if old.name != "kernels":
            shutil.rmtree(old) if old.is_dir() else old.unlink()
    shutil.copytree(
        root, copy, ignore=shutil.ignore_patterns(*LEFT_BEHIND), dirs_exist_ok=True, symlinks=True
    )


def _state(root: Path) -> dict[str, Any]:
    file = root / STATE
    if file.exists():
        return dict(json.loads(file.read_text(encoding="utf-8")))
    return {"baseline": {}, "mutants": {}}


def _keep(root: Path, state: dict[str, Any]) -> None:
    text = json.dumps(state, ensure_ascii=False, indent=1)
    (root / STATE).write_text(text + "\n", encoding="utf-8")


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]


if __name__ == "__main__":
    raise SystemExit(main())
