"""The table of outside numbers keeps what tests record."""

from dataclasses import replace
from pathlib import Path

import pytest

from tests.outside.checks_page import LEAST_MEASURED, page, stages, summary, table
from tests.outside.looked import LOOKED
from tests.outside.record import (
    KINDS,
    Kind,
    Row,
    kept_rows,
    merged,
    read_rows,
    record,
    write_rows,
)
from tests.outside.write_checks import BEGIN, END, KEPT, PAGE, joined, with_summary

ROOT = Path(__file__).parents[2]


def _row(
    claim: str = "density",
    got: float = 1.0,
    *,
    kind: Kind = "table",
    slow: bool = False,
    file: str = "tests/mould/test_mix.py",
) -> Row:
    return Row(
        stage="mould",
        claim=claim,
        source="book",
        got=got,
        want=1.0,
        unit="kg",
        tolerance=0.5,
        kind=kind,
        slow=slow,
        file=file,
    )


def test_rows_come_back_from_the_file_as_written(tmp_path: Path) -> None:
    rows = [_row("a", 1.25), _row("b", 0.1)]

    write_rows(tmp_path / "out" / "checks.json", rows)

    assert read_rows(tmp_path / "out" / "checks.json") == rows


def test_of_two_rows_with_one_claim_the_larger_miss_is_kept() -> None:
    kept = merged([_row(got=1.1), _row(got=0.7), _row(got=1.2)])

    assert kept == [_row(got=0.7)]


def test_the_order_of_the_rows_does_not_matter() -> None:
    rows = [_row("b"), _row("a"), _row("c")]

    assert merged(rows) == merged(reversed(rows))


def test_table_shows_both_numbers_and_the_miss_with_its_sign() -> None:
    line = table([_row(got=0.7)]).splitlines()[2]

    told = "| mould | density | 1 kg | 0.7 kg | -30.0 % | 0.5 kg | yes | table | book "
    assert line == told + "| mould/test_mix |"


def test_a_miss_stands_first_on_the_page() -> None:
    told = page([_row("a"), _row("b", 2.0)])

    assert "## Not held" in told
    assert "| b | 1 kg | 2 kg | +100.0 % | 0.5 kg | **no** |" in told


def test_what_was_looked_for_stands_beside_what_was_found() -> None:
    """Our own rule: measured rows do not hide what is still missing."""
    rows = [replace(_row(name, kind="measured"), stage="pour") for name in "abc"]

    assert LOOKED["pour"] in page(rows)


def test_counts_of_the_summary_are_those_of_the_rows() -> None:
    rows = [_row("a", kind="measured"), _row("b", kind="measured"), _row("c", 2.0)]

    line = next(line for line in summary(rows).splitlines() if line.startswith("| mould"))

    assert line == "| mould | 3 | 2 | 1 | – | – | – | – | 1 |"


def test_a_quick_run_leaves_the_rows_of_slow_studies() -> None:
    kept = [_row("old", slow=True), _row("gone")]

    assert joined(kept, [_row("new")], slow=False) == [_row("new"), _row("old", slow=True)]
    assert joined(kept, [_row("new")], slow=True) == [_row("gone")]


def test_a_slow_study_leaves_the_rows_of_other_files() -> None:
    kept = [_row("a", slow=True), _row("gone", slow=True, file="b.py"), _row("quick", file="b.py")]
    new = [_row("new", slow=True, file="b.py")]

    assert joined(kept, new, slow=True, files={"b.py"}) == [kept[0], new[0], kept[2]]


def test_a_row_knows_the_file_that_makes_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.outside.record._rows", [])
    record("mould", "density", "book", 1.0, 1.0, "kg", 0.1, kind="table")

    assert [row["file"] for row in kept_rows()] == ["tests/outside/test_record.py"]


def test_each_stage_has_two_measured_checks_or_says_where_was_looked() -> None:
    """Our own rule; the stages are those of the kept rows."""
    rows = read_rows(ROOT / KEPT)

    few = {
        stage
        for stage in stages(rows)
        if sum(row.kind == "measured" and row.stage == stage for row in rows) < LEAST_MEASURED
    }

    assert few <= set(LOOKED)


def test_book_of_checks_is_that_of_the_kept_rows() -> None:
    """Made by `make checks-table`: 60 rows or more, 15 of them measured by others."""
    rows = read_rows(ROOT / KEPT)

    assert len(rows) >= 60
    assert sum(row.kind == "measured" for row in rows) >= 15
    assert (ROOT / PAGE).read_text(encoding="utf-8") == page(rows)
    assert {row.kind for row in rows} <= set(KINDS)


def test_only_the_part_between_the_markers_changes() -> None:
    text = with_summary(f"top\n{BEGIN}\nold\n{END}\nend\n", [_row()])

    assert text.startswith("top\n")
    assert text.endswith("\nend\n")
    assert "old" not in text
    assert "| mould | 1 |" in text


@pytest.mark.parametrize("text", ["", BEGIN, END + BEGIN, BEGIN + BEGIN + END])
def test_a_readme_without_its_markers_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="must hold"):
        with_summary(text, [_row()])


def test_a_number_that_is_not_finite_is_refused() -> None:
    with pytest.raises(ValueError, match="not finite"):
        record("mould", "density", "book", float("nan"), 1.0, "kg", 0.1, kind="table")
