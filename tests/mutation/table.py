"""docs/mutation.md: how many mutants each stage let through, and which.

What a survivor means is judged by people, in judged.toml beside this file, under its key.
The state of a run is not kept with the sources, so that of a stage which the state does not know
the page keeps what it says already, with what was judged since.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from tests.mutation.mutants import STAGES, TESTS_OF_VALUES
from tests.mutation.trial import GREEN, RED, STOPPED

PAGE = Path("docs") / "mutation.md"
JUDGED = Path("tests") / "mutation" / "judged.toml"
_PACKAGE = "src/pourcast/"
_COUNTS = re.compile(r"\| ([\w/]+) \| (\d+) \| (\d+) \| (\d+) \| (\d+) \|")
_SURVIVOR = re.compile(r"\| ([\w/]+\.\w+) \| `(.*)` \| (.*) \|")
FOUND_SINCE = "Found since"
"""How the judgement of a survivor begins that was tried by hand and turns a newer check red."""

_SLOW = "Kernels ran as plain Python, which these test files are too slow for:"

_COMPILED = " (with kernels compiled what survived was tried on it)"

_HEAD = """\
# A wrong constant, and whether a test sees it

`make mutation` makes one thing in the program wrong at a time, in a copy, and runs the quick tests
of that stage. In an equation it takes a number 1.3 times as large, turns + into -, × into ÷, a
least into a greatest, a comparison around, drops a sign or raises a power; of a
material value it makes the number and both ends of its range 1.3 times as large. The choice is
drawn with a fixed seed. A mutant that turns a test red is found; one that lets all pass survives.

A mutant is tried on the test files that call the function it stands in, or read the value: in any
other file the wrong place is never come by, so that no test there could see it. For a number that
stands in no function these are all files of the stage.

This says how sharp the tests are. It does not say that the numbers are right: that is
what the [checks](checks.md) are for. A found mutant of a value may have been found by a plain
reading of the table, and a survivor may be one that no result depends on.
"""


def write_table(root: Path, state: dict[str, Any], chosen: Sequence[str]) -> None:
    """Write the page from the state of a run, and from the page as it is.

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
    now = {one["group"] for one in tried.values()}
    judged = tomllib.loads((root / JUDGED).read_text(encoding="utf-8"))
    page = root / PAGE
    before = page.read_text(encoding="utf-8").splitlines() if page.exists() else []
    kept = [line for line in before if _group(line) and _group(line) not in now]
    survivors = list(_survivors(tried, kept, judged))
    lines = [_HEAD, *_counts(tried, kept), *_found_since(survivors), "", *survivors, ""]
    lines += _left_out(state["baseline"], before)
    page.write_text("\n".join(lines).rstrip() + "\n", encoding="utf-8")


def _group(line: str) -> str:
    """Return the stage that a line of the page is of; empty: it is of none."""
    if found := _COUNTS.fullmatch(line):
        return found.group(1)
    if found := _SURVIVOR.fullmatch(line):
        file = Path(found.group(1))
        return f"materials/{file.stem}" if file.suffix == ".toml" else file.parts[0]
    return ""


def _counts(tried: Mapping[str, dict[str, Any]], kept: Sequence[str]) -> Iterator[str]:
    old = [found for line in kept if (found := _COUNTS.fullmatch(line))]
    rows = {found.group(1): [int(one) for one in found.groups()[1:]] for found in old}
    earlier = sorted(rows)
    for group in {one["group"] for one in tried.values()}:
        of_group = [one for one in tried.values() if one["group"] == group]
        red = [one for one in of_group if one["end"] != GREEN]
        added = sum(one["survived_once"] for one in red)
        rows[group] = [len(of_group), len(red), added, len(of_group) - len(red)]
    count, right, _, wrong = (sum(row[column] for row in rows.values()) for column in range(4))
    yield f"Of {count} mutants {right} were found and {wrong} survived."
    yield ""
    yield "| stage | tried | found | of these by a check that was added for it | survived |"
    yield "| --- | ---: | ---: | ---: | ---: |"
    for group, row in sorted(rows.items()):
        yield f"| {group} | {' | '.join(map(str, row))} |"
    if earlier:
        yield ""
        yield f"From an earlier run, on the sources of its day: {', '.join(earlier)}."
    all_groups = [*STAGES, *(f"materials/{name}" for name in TESTS_OF_VALUES)]
    missing = [group for group in all_groups if group not in rows]
    if missing:
        yield ""
        yield f"Not tried yet: {', '.join(missing)}. A further run goes on from here."


def _found_since(survivors: Sequence[str]) -> Iterator[str]:
    since = sum(f"| {FOUND_SINCE}" in line for line in survivors)
    if since:
        yield ""
        yield f"Of the survivors {since} were tried again by hand and are found now, by newer"
        yield "checks or with kernels compiled: see the judgement. The columns count as they did."


def _survivors(
    tried: Mapping[str, dict[str, Any]], kept: Sequence[str], judged: Mapping[str, str]
) -> Iterator[str]:
    yield "## Survivors"
    yield ""
    yield "| file | what was made wrong | judgement |"
    yield "| --- | --- | --- |"
    lines = []
    for found in (found for line in kept if (found := _SURVIVOR.fullmatch(line))):
        file, name, before = found.groups()
        key = f"{_PACKAGE}{file} {name}".replace("\\|", "|")
        lines.append(f"| {file} | `{name}` | {judged.get(key, before)} |")
    for key in (key for key, one in tried.items() if one["end"] == GREEN):
        file, _, name = key.partition(" ")
        short = file.removeprefix(_PACKAGE)
        escaped = name.replace("|", "\\|")
        lines.append(f"| {short} | `{escaped}` | {judged.get(key, 'not judged yet')} |")
    yield from sorted(lines)


def _left_out(baseline: Mapping[str, dict[str, Any]], before: Sequence[str]) -> Iterator[str]:
    slow = {
        name + (_COMPILED if one.get("compiled", {}).get("end") == GREEN else "")
        for name, one in baseline.items()
        if one["end"] == STOPPED
    }
    if _SLOW in before:
        listed = {line.removeprefix("- ") for line in before[before.index(_SLOW) + 2 :]}
        slow |= {line for line in listed if line.removesuffix(_COMPILED) not in baseline}
    red = sorted(one["first"] or name for name, one in baseline.items() if one["end"] == RED)
    yield "## Left out"
    yield ""
    if red:
        yield "Red with nothing made wrong, so that it can tell nothing; its file was left out:"
        yield ""
        yield from (f"- {name}" for name in red)
        yield ""
    if not slow:
        yield "No test file was left out as too slow."
        return
    yield _SLOW
    yield ""
    yield from (f"- {name}" for name in sorted(slow))
