"""docs/mutation.md: how many mutants each stage let through, and which.

What a survivor means is judged by people, in judged.toml beside this file, under its key.
"""

import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from tests.mutation.mutants import STAGES, TESTS_OF_VALUES
from tests.mutation.trial import GREEN

PAGE = Path("docs") / "mutation.md"
JUDGED = Path("tests") / "mutation" / "judged.toml"

_HEAD = """\
# A wrong constant, and whether a test sees it

`make mutation` makes one thing in the program wrong at a time, in a copy, and runs the quick tests
of that stage. In an equation it takes a number 1.3 times as large, turns + into -, × into ÷, a
least into a greatest, a comparison around, drops a sign or raises a power; of a
material value it makes the number and both ends of its range 1.3 times as large. The choice is
drawn with a fixed seed. A mutant that turns a test red is found; one that lets all pass survives.

This says how sharp the tests are. It does not say that the numbers are right: that is
what the [checks](checks.md) are for. A found mutant of a value may have been found by a plain
reading of the table, and a survivor may be one that no result depends on.
"""


def write_table(root: Path, state: dict[str, Any], chosen: Sequence[str]) -> None:
    """Write the page from the state of a run.

    Parameters
    ----------
    root : Path
        Of the repository.
    state : dict
        As `tests.mutation.run` keeps it.
    chosen : sequence of str
        Keys of the mutants that count; those of older sources are left out.
    """
    tried = {key: state["mutants"][key] for key in chosen if key in state["mutants"]}
    judged = tomllib.loads((root / JUDGED).read_text(encoding="utf-8"))
    lines = [_HEAD, *_counts(tried), "", *_survivors(tried, judged), "", *_left_out(state)]
    (root / PAGE).write_text("\n".join(lines).rstrip() + "\n", encoding="utf-8")


def _counts(tried: dict[str, dict[str, Any]]) -> Iterator[str]:
    found = sum(one["end"] != GREEN for one in tried.values())
    yield f"Of {len(tried)} mutants {found} were found and {len(tried) - found} survived."
    yield ""
    yield "| stage | tried | found | of these by a check that was added for it | survived |"
    yield "| --- | ---: | ---: | ---: | ---: |"
    for group in sorted({one["group"] for one in tried.values()}):
        of_group = [one for one in tried.values() if one["group"] == group]
        red = [one for one in of_group if one["end"] != GREEN]
        added = sum(one["survived_once"] for one in red)
        survived = len(of_group) - len(red)
        yield f"| {group} | {len(of_group)} | {len(red)} | {added} | {survived} |"
    all_groups = [*STAGES, *(f"materials/{name}" for name in TESTS_OF_VALUES)]
    seen = {one["group"] for one in tried.values()}
    missing = [group for group in all_groups if group not in seen]
    if missing:
        yield ""
        yield f"Not tried yet: {', '.join(missing)}. A further run goes on from here."


def _survivors(tried: dict[str, dict[str, Any]], judged: dict[str, str]) -> Iterator[str]:
    yield "## Survivors"
    yield ""
    yield "| file | what was made wrong | judgement |"
    yield "| --- | --- | --- |"
    for key in sorted(key for key, one in tried.items() if one["end"] == GREEN):
        file, _, name = key.partition(" ")
        short = file.removeprefix("src/pourcast/")
        escaped = name.replace("|", "\\|")
        yield f"| {short} | `{escaped}` | {judged.get(key, 'not judged yet')} |"


def _left_out(state: dict[str, Any]) -> Iterator[str]:
    slow = sorted(name for name, one in state["baseline"].items() if one["end"] != GREEN)
    yield "## Left out"
    yield ""
    if not slow:
        yield "No test file was left out."
        return
    yield "Kernels ran as plain Python, which these test files are too slow for:"
    yield ""
    yield from (f"- {name}" for name in slow)
