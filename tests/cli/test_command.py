"""The forecast as it is typed: what it writes, where, and how it ends."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from rich.cells import cell_len

from pourcast.errors import SolveError
from pourcast.forecast.document import schema
from tests.cli.conftest import Said, Typed

EXAMPLE = Path(__file__).parents[2] / "examples" / "fern_crozier.toml"
FEW = ("--draws", "10", "--threads", "1")
"""Few pours: these tests look at how the answer is given, not at the answer."""


def _outside(*words: str, given: bytes = b"", **environment: str) -> Said:
    done = subprocess.run(
        [sys.executable, "-m", "pourcast", *words],
        input=given,
        capture_output=True,
        env={**os.environ, **environment},
        check=False,
    )
    return Said(done.returncode, done.stdout.decode(), done.stderr.decode())


def test_forecast_ends_well_whatever_it_says(typed: Typed) -> None:
    """House rule: exit status 0, forecast made."""
    said = typed("forecast", str(EXAMPLE), *FEW)

    assert said.status == 0
    assert said.out.startswith("Fern crozier  (invented demo)\n")
    assert said.err == ""


def test_low_chance_ends_with_3_when_asked(typed: Typed) -> None:
    """House rule: exit status 3 below --fail-below, and the forecast is written all the same."""
    far = EXAMPLE.read_text().replace("pour_temperature_C = ", "pour_temperature_C = 960 # ")
    cold = typed("forecast", "-", *FEW, "--fail-below", "0.5", given=far.encode())
    any_chance = typed("forecast", "-", *FEW, "--fail-below", "0", given=far.encode())

    assert (cold.status, any_chance.status) == (3, 0)
    assert cold.out == any_chance.out
    assert "is below 0.5" in cold.err
    assert any_chance.err == ""


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        (("forecast",), "FILE"),
        (("forecast", "not_there.toml"), "not_there.toml; it must be a file that can be read"),
        (("forecast", str(EXAMPLE), "--draws", "0"), "--draws"),
        (("forecast", str(EXAMPLE), "--fail-below", "80"), "--fail-below"),
        (("forecast", str(EXAMPLE), "--sneed", "1"), "--sneed"),
        (("forecast", str(EXAMPLE), *FEW, "--page", "not/there.html"), "not/there.html"),
        (("weigh", "not_there.toml"), "not_there.toml"),
        (("values", "no_such_value"), "no_such_value"),
        (("new", "two\nlines"), "one line"),
        (("pour",), "pour"),
    ],
)
def test_wrong_use_ends_with_2_and_says_what(
    typed: Typed, words: tuple[str, ...], wanted: str
) -> None:
    """House rule: exit status 2, wrong use or bad file; the output stays empty."""
    said = typed(*words)

    assert said.status == 2
    assert wanted in said.err
    assert "Traceback" not in said.err
    assert said.out == ""


def test_work_that_fails_ends_with_1(typed: Typed, monkeypatch: pytest.MonkeyPatch) -> None:
    """House rule: exit status 1, the work could not be done; made to fail."""

    def fail(*_: Any, **__: Any) -> None:
        raise SolveError("the pour", 7, 0.5)

    monkeypatch.setattr("pourcast.forecast.solve.forecast", fail)

    said = typed("forecast", str(EXAMPLE), *FEW)

    assert said.status == 1
    assert "the pour" in said.err
    assert said.out == ""


def test_json_is_all_that_is_written_and_keeps_its_schema(typed: Typed, tmp_path: Path) -> None:
    """JSON Schema, draft 2020-12, by an outside library; RFC 8259 for the text."""
    said = typed("forecast", str(EXAMPLE), *FEW, "--json", "--page", "x.html")
    tree = json.loads(said.out)

    jsonschema.Draft202012Validator.check_schema(schema())
    jsonschema.validate(tree, schema(), cls=jsonschema.Draft202012Validator)
    assert said.err == ""
    assert tree["draws"] == 10
    assert (tmp_path / "x.html").read_text(encoding="utf-8").startswith("<!doctype html>")
    assert not (tmp_path / "x.html.part").exists()


def test_link_where_the_half_written_page_goes_is_not_written_through(
    typed: Typed, tmp_path: Path
) -> None:
    """CWE-59, common practice: in a folder that others may write to, a link points elsewhere."""
    own = tmp_path / "own.txt"
    own.write_text("mine", encoding="utf-8")
    (tmp_path / "x.html.part").symlink_to(own)

    said = typed("forecast", str(EXAMPLE), *FEW, "--page", "x.html")

    assert said.status == 0
    assert own.read_text(encoding="utf-8") == "mine"
    assert not (tmp_path / "x.html").is_symlink()


@pytest.mark.usefixtures("anew")
def test_same_seed_gives_the_same_json_on_any_number_of_threads(typed: Typed) -> None:
    """House rule: same input, same output; only the time that it took differs."""
    trees = []
    for seed, threads in (("3", "1"), ("3", "1"), ("3", "2"), ("4", "1")):
        asked = ("--draws", "16", "--seed", seed, "--threads", threads, "--json")
        tree = json.loads(typed("forecast", str(EXAMPLE), *asked).out)
        assert tree.pop("timing_s")
        trees.append(tree)

    first, again, two, other = trees
    assert first == again == two
    assert first != other


@pytest.mark.parametrize("width", ["40", "60", "80"])
def test_no_line_is_wider_than_the_terminal(
    typed: Typed, monkeypatch: pytest.MonkeyPatch, width: str
) -> None:
    """COLUMNS of POSIX; cells as terminals count them (Unicode annex 11)."""
    monkeypatch.setenv("COLUMNS", width)

    for more in ((), ("--full",)):
        for line in typed("forecast", str(EXAMPLE), *FEW, *more).out.splitlines():
            assert cell_len(line) <= int(width), line


@pytest.mark.parametrize("piece", sorted(EXAMPLE.parent.glob("*.toml")), ids=lambda path: path.stem)
def test_forecast_fills_about_one_screen(
    typed: Typed, monkeypatch: pytest.MonkeyPatch, piece: Path
) -> None:
    """House rule: about 45 lines at 80 columns; 54 leaves room for what stops the caster.

    Found with 400 pours: 42 to 53 lines for the four examples.
    """
    monkeypatch.setenv("COLUMNS", "80")

    said = typed("forecast", str(piece), *FEW).out
    full = typed("forecast", str(piece), *FEW, "--full").out

    assert len(said.splitlines()) <= 54
    assert len(full.splitlines()) > 60


def test_pipe_gets_no_escape(typed: Typed) -> None:
    """ECMA-48: escapes begin with 0x1b; a pipe is no terminal, whatever TERM says."""
    assert "\x1b" not in typed("forecast", str(EXAMPLE), *FEW, "--full").out


def test_bad_file_lists_every_fault_with_its_line(typed: Typed, tmp_path: Path) -> None:
    """House rule: file:line: key: what, what it must be, did you mean; all faults at once."""
    text = EXAMPLE.read_text(encoding="utf-8")
    text = text.replace("pour_temperature_C", "pour_temperatur_C", 1)
    text = text.replace('wall = "', 'wall = "x', 1)
    (tmp_path / "bad.toml").write_text(text, encoding="utf-8")
    lines = text.splitlines()
    key = 1 + next(k for k, line in enumerate(lines) if line.startswith("pour_temperatur_C"))
    wall = 1 + next(k for k, line in enumerate(lines) if line.startswith("wall = "))

    said = typed("forecast", "bad.toml", *FEW)

    assert said.status == 2
    assert said.out == ""
    assert f"bad.toml:{key}: metal.pour_temperatur_C: " in said.err
    assert "did you mean pour_temperature_C?" in said.err
    assert f"bad.toml:{wall}: flask.wall: " in said.err


def test_sheet_is_read_from_the_input(typed: Typed) -> None:
    """POSIX utility guideline 13: - stands for the input; faults name it so."""
    whole = typed("forecast", "-", *FEW, "--json", given=EXAMPLE.read_bytes())
    bad = typed("forecast", "-", given=b"\xff")

    assert json.loads(whole.out)["piece"]["name"] == "Fern crozier"
    assert bad.status == 2
    assert bad.err.startswith("input:1: ")


def test_nothing_that_is_written_promises(typed: Typed) -> None:
    """House rule: the word that nobody may promise stands nowhere, nor a solver's words."""
    short = typed("forecast", str(EXAMPLE), *FEW).out.casefold()
    full = typed("forecast", str(EXAMPLE), *FEW, "--full").out.casefold()

    assert not re.search(r"\bsafe(ly)?\b", short + full)
    for word in ("seed", "rank correlation", "segment", "simulat", "monte", "kernel"):
        assert word not in short


@pytest.mark.parametrize(("letters", "times"), [(5, 100), (0, 1)])
def test_reader_that_stops_early_is_no_fault(letters: int, times: int) -> None:
    """POSIX pipes: `| head -c 5`, with more than the 64 KiB that a Linux pipe holds; `| true`.

    Unbuffered, Python drops the rest of a broken write without a word, so that is taken off.
    """
    environment = {name: kept for name, kept in os.environ.items() if name != "PYTHONUNBUFFERED"}
    code = (
        "import sys; from pourcast.cli import signs, main; sys.stdin.read(); "
        f"real = signs.write_out; signs.write_out = lambda said: real(said * {times}); "
        "sys.argv = ['pourcast', 'values']; main.main()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment,
    ) as started:
        assert started.stdin is not None
        assert started.stdout is not None
        assert started.stderr is not None
        if letters:
            started.stdin.close()
            assert len(started.stdout.read(letters)) == letters
        started.stdout.close()
        started.stdin.close()
        err = started.stderr.read()

    assert started.returncode == 0
    assert err == b""


def test_old_locale_gets_near_signs() -> None:
    """C locale of POSIX: ASCII only; -m pourcast is the command."""
    old = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    text = EXAMPLE.read_text(encoding="utf-8").replace("Fern crozier", "Fougère “crosse”", 1)

    said = _outside("forecast", "-", *FEW, "--full", given=text.encode(), **old)
    tree = _outside("forecast", "-", *FEW, "--json", given=text.encode(), **old)

    assert (said.status, said.err) == (0, "")
    assert said.out.isascii()
    assert said.out.startswith('Foug?re "crosse"')
    assert json.loads(tree.out)["piece"]["name"] == "Fougère “crosse”"
