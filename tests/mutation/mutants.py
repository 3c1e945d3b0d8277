"""What a mutant is, and which are tried: a seeded choice, the same on every machine.

A mutant is one file of the package with one thing in it made wrong.  The choice
shuffles all that a folder offers with one seed and takes from the front, so that a larger
choice holds the smaller one, and a run that was broken off goes on where it stood.
"""

import random
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.mutation.equations import places, with_wrong, wrong_equations
from tests.mutation.reach import function_at
from tests.mutation.values import wrong_values

SEED = 20
PACKAGE = Path("src") / "pourcast"
DATA = PACKAGE / "materials" / "data"

STAGES = (
    *("piece", "mould", "burnout", "melt", "pour", "freeze", "finish"),
    *("scan", "photo", "forecast", "gating", "change", "learn", "signs", "day"),
)
"""Folders whose equations are made wrong."""

TESTS_OF_VALUES: dict[str, tuple[str, ...]] = {
    "alloys": ("materials", "melt", "finish", "freeze", "pour"),
    "coatings": ("materials", "mould", "pour"),
    "elements": ("materials", "melt"),
    "finish": ("materials", "finish"),
    "freezing": ("materials", "freeze"),
    "investment": ("materials", "mould", "freeze", "pour", "burnout"),
    "kiln": ("materials", "burnout"),
    "plants": ("materials", "mould", "burnout"),
    "pouring": ("materials", "pour", "forecast"),
    "safety": ("materials", "melt"),
    "waxes": ("materials", "mould", "burnout"),
}
"""Data file, without its ending: the folders of tests that ought to notice a wrong value in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """One wrong file; ``name`` is kept in the state of a run and shown in the table.

    ``reach`` is what a test must call or read to notice it, as `tests.mutation.reach` notes it;
    "" where any test may.
    """

    group: str
    file: str
    name: str
    text: str
    tests: tuple[str, ...]
    reach: str

    @property
    def key(self) -> str:
        """What the state of a run knows it by."""
        return f"{self.file} {self.name}"


def mutants(root: Path, *, of_equations: int, of_values: int) -> list[Mutant]:
    """Return the chosen mutants, in the order in which they are tried.

    Parameters
    ----------
    root : Path
        Of the repository.
    of_equations, of_values : int
        How many of each stage, and of each data file.

    Returns
    -------
    list of Mutant
        Groups take turns, so that a run that is broken off has seen something of each.
    """
    groups = [_of_stage(root, stage, of_equations) for stage in STAGES]
    groups += [_of_data(root, name, of_values) for name in TESTS_OF_VALUES]
    longest = max(map(len, groups))
    return [group[turn] for turn in range(longest) for group in groups if turn < len(group)]


def gone(root: Path, keys: Collection[str]) -> list[str]:
    """Return the keys whose place the sources of today do not have: the line moved, or it is gone.

    Parameters
    ----------
    root : Path
        Of the repository.
    keys : collection of str
        Of mutants, as they are judged.
    """
    names: dict[str, set[str]] = {}
    for file in {key.partition(" ")[0] for key in keys}:
        text = (root / file).read_text(encoding="utf-8") if (root / file).exists() else ""
        data = file.endswith(".toml")
        names[file] = {name for name, _ in wrong_values(text)} if data else {*wrong_equations(text)}
    return [key for key in keys if key.partition(" ")[2] not in names[key.partition(" ")[0]]]


def _of_stage(root: Path, stage: str, count: int) -> list[Mutant]:
    sources = {
        path.relative_to(root).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted((root / PACKAGE / stage).glob("*.py"))
    }
    found = [(file, at) for file, source in sources.items() for at in range(len(places(source)))]
    # Only the files that were chosen from are named throughout: that is the dear part.
    chosen = _shuffled(stage, found)[:count]
    names = {file: wrong_equations(sources[file]) for file in {file for file, _ in chosen}}
    return [
        Mutant(
            group=stage,
            file=file,
            name=names[file][place],
            text=with_wrong(sources[file], place),
            tests=(stage,),
            reach=_function(root, file, sources[file], place),
        )
        for file, place in chosen
    ]


def _function(root: Path, file: str, source: str, place: int) -> str:
    name = function_at(source, *places(source)[place])
    return name and f"{(root / file).relative_to(root / PACKAGE).as_posix()}:{name}"


def _of_data(root: Path, group: str, count: int) -> list[Mutant]:
    path = root / DATA / f"{group}.toml"
    wrong = list(wrong_values(path.read_text(encoding="utf-8")))
    return [
        Mutant(
            group=f"materials/{group}",
            file=path.relative_to(root).as_posix(),
            name=name,
            text=text,
            tests=TESTS_OF_VALUES[group],
            reach=_key(group, name),
        )
        for name, text in _shuffled(group, wrong)[:count]
    ]


def _key(group: str, name: str) -> str:
    """Return the key of a value in the library; a file of one table names the group there."""
    short = name.partition(":")[0]
    section = short.partition(".")[0]
    one_table = section in {"coatings", "elements", "finish", "freeze", "kiln", "pour"}
    return short if one_table else f"{group}.{short}"


def _shuffled(name: str, found: Sequence[Any]) -> list[Any]:
    return random.Random(f"{SEED} {name}").sample(found, len(found))
