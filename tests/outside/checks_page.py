"""The book of checks as a page: our numbers beside those from outside, stage by stage."""

from collections import Counter
from collections.abc import Iterable

from tests.outside.looked import LOOKED
from tests.outside.record import KINDS, Row

LEAST_MEASURED = 2
"""Checks of a stage against others' measurements, or the page says where was looked."""

_FEW = "Fewer than two checks against others' measurements were found."

_HEAD = """\
# The book of checks

Written by `make checks-table` and `make check-long` from what the tests found; not by hand. Each
row holds one number of ours against one from outside. Where several cases share a row, the one
with the largest miss stands here. A row that is not held is a known miss: its test says so and
fails on the day that it is held.

**Kinds.** *Measured*: others did the experiment. *Table*: a handbook, a standard or an assessed
data base. *Reference library*: an open library solves the same problem. *Closed form*: an exact or
textbook formula, on our solver. *Common practice*: what the trade says, no source. *By
construction*: a test object that was made so. *Slow*: the row comes from `make check-long`.
*Earlier run*: the last run of its study broke off before it came to this row.

The last column is the file under `tests/` that holds the row.
"""

_COLUMNS = """\
| what is compared | outside | ours | miss | may miss | held | kind | source | test |
|---|---|---|---|---|---|---|---|---|"""


def stages(rows: Iterable[Row]) -> list[str]:
    """Return the stages that have rows or a sentence, in the order of the alphabet."""
    return sorted({row.stage for row in rows} | set(LOOKED))


def summary(rows: Iterable[Row]) -> str:
    """Return the checks of each stage as counts by kind: the table of the README."""
    rows = list(rows)
    names = list(KINDS)
    lines = [
        "| stage | checks | " + " | ".join(names) + " | not held |",
        "|---|" + "---:|" * (len(names) + 2),
    ]
    for name, kept in [*((name, _of(rows, name)) for name in stages(rows)), ("all", rows)]:
        kinds = Counter(row.kind for row in kept)
        counts = [len(kept), *(kinds[kind] for kind in KINDS), sum(not row.held for row in kept)]
        lines.append(f"| {name} | " + " | ".join(str(count or "–") for count in counts) + " |")
    return "\n".join(lines)


def page(rows: Iterable[Row]) -> str:
    """Return the whole page."""
    rows = list(rows)
    parts = [_HEAD, summary(rows)]
    missed = [row for row in rows if not row.held]
    if missed:
        parts.append(f"\n## Not held\n\n{_table(missed, with_stage=True)}")
    for name in stages(rows):
        kept = _of(rows, name)
        parts.append(f"\n## {name}\n")
        few = sum(row.kind == "measured" for row in kept) < LEAST_MEASURED
        if name in LOOKED or few:
            parts.append(f"{LOOKED.get(name, _FEW)}\n")
        if kept:
            parts.append(_table(kept))
    return "\n".join(parts) + "\n"


def table(rows: Iterable[Row]) -> str:
    """Return rows as a Markdown table, with their stage."""
    return _table(list(rows), with_stage=True)


def _of(rows: list[Row], stage: str) -> list[Row]:
    """Return the rows of a stage, those measured by others first."""
    kept = [row for row in rows if row.stage == stage]
    return sorted(kept, key=lambda row: (KINDS.index(row.kind), row.claim))


def _table(rows: list[Row], *, with_stage: bool = False) -> str:
    head, rule = _COLUMNS.split("\n")
    lines = [f"| stage {head}", f"|---{rule}"] if with_stage else [head, rule]
    for row in rows:
        unit = f" {row.unit}" if row.unit else ""
        cells = (
            *((row.stage,) if with_stage else ()),
            row.claim,
            f"{_short(row.want)}{unit}",
            f"{_short(row.got)}{unit}",
            _miss(row),
            f"{row.tolerance:.2g}{unit}",
            "yes" if row.held else "**no**",
            row.kind + (", slow" if row.slow else "") + (", earlier run" if row.earlier else ""),
            row.source,
            row.file.removeprefix("tests/").removesuffix(".py"),
        )
        lines.append("| " + " | ".join(_plain(cell) for cell in cells) + " |")
    return "\n".join(lines)


def _plain(cell: str) -> str:
    """Return a text that neither a table nor an equation is read into."""
    return cell.replace("|", "/").replace("$", r"\$")


def _short(number: float) -> str:
    return f"{number:.4g}" if abs(number) < 1e4 else f"{number:.0f}"


def _miss(row: Row) -> str:
    signed = row.got - row.want
    if row.want == 0.0:
        return f"{signed:+.2g}"
    return f"{100.0 * signed / abs(row.want):+.1f} %"
