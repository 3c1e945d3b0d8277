"""The table of outside numbers keeps what tests record."""

from pathlib import Path

import pytest

from tests.outside.record import Row, merged, read_rows, record, write_rows
from tests.outside.write_table import BEGIN, END, table, with_table


def _row(claim: str = "density", got: float = 1.0) -> Row:
    return Row(
        stage="mould", claim=claim, source="book", got=got, want=1.0, unit="kg", tolerance=0.5
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

    assert line == "| mould | density | 1 kg | 0.7 kg | -30.0 % | 0.5 kg | book |"


def test_only_the_part_between_the_markers_changes() -> None:
    text = with_table(f"top\n{BEGIN}\nold\n{END}\nend\n", [_row()])

    assert text.startswith("top\n")
    assert text.endswith("\nend\n")
    assert "old" not in text
    assert "| density |" in text


@pytest.mark.parametrize("text", ["", BEGIN, END + BEGIN, BEGIN + BEGIN + END])
def test_a_readme_without_its_markers_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="must hold"):
        with_table(text, [_row()])


def test_a_number_that_is_not_finite_is_refused() -> None:
    with pytest.raises(ValueError, match="not finite"):
        record("mould", "density", "book", float("nan"), 1.0, "kg", 0.1)
