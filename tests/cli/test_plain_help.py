"""Plain help: no word of a programmer, no sentence that is cut off.

House rules, so no outside number is held against them.
"""

import re

import pytest
from typer.testing import CliRunner

from pourcast.cli.main import app
from pourcast.cli.plain_help import plain


def asked(*words: str, columns: int = 80) -> str:
    env = {"COLUMNS": str(columns), "NO_COLOR": "1"}
    answer = CliRunner().invoke(app, [*words, "--help"], env=env, prog_name="pourcast")
    assert answer.exit_code == 0
    return answer.output


def commands() -> list[tuple[str, ...]]:
    found: list[tuple[str, ...]] = [()]
    for name in _listed():
        found.append((name,))
        if "Commands:" in asked(name):
            found += [(name, each) for each in _listed(name)]
    return found


def _listed(*words: str) -> list[str]:
    return re.findall(r"^  ([a-z][a-z-]*)  ", asked(*words).partition("Commands:")[2], re.M)


def test_no_help_speaks_as_a_programmer_does() -> None:
    found = commands()

    assert len(found) > 40
    for words in found:
        said = asked(*words)
        assert re.findall(r"<\w+(?: range)?>|<list|x[<>]=|=x<|\bINTEGER\b|\bFLOAT\b", said) == []
        assert re.findall(r"\w\.\.\.$", said, re.M) == [], words


@pytest.mark.parametrize("columns", [60, 80, 120])
def test_every_command_is_told_by_its_whole_sentence(columns: int) -> None:
    said = " ".join(asked(columns=columns).split())

    assert "with a line on each measure." in said
    assert "what it costs." in said


def test_columns_stay_where_they_are() -> None:
    text = "  --draws <int range>  Pours.  [4<=x<=100]\n  --page <path>        One.  [x>=0.0]\n"

    assert plain(text) == (
        "  --draws NUMBER       Pours.  [4 to 100]\n  --page FILE          One.  [0 or more]\n"
    )


def test_an_argument_is_told_by_its_name_alone() -> None:
    assert plain("  FILE <str>  Piece file.") == "  FILE        Piece file."
