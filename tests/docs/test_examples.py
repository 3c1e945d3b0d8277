"""What a page tells the reader to type works.

A block of ``python`` is run, all of a page in one go.  A block of ``console`` is run in a
folder of its own with the examples in it; lines under a command must come in its answer.
Every other line that begins with ``pourcast`` must name a command and options that are
there.
"""

import functools
import importlib.util
import re
import shlex
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from pourcast.cli.main import app
from tests.docs.conftest import DOCS, ROOT, of_site

PAGES = [
    ROOT / "README.md",
    ROOT / "CONTRIBUTING.md",
    *sorted(path for path in DOCS.rglob("*.md") if "_build" not in path.parts),
]
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.M | re.S)
LINE = re.compile(r"^\s*(?:\$ )?(?:\.venv/bin/)?(pourcast(?: .*)?)$", re.M)
CODE = re.compile(r"^```(?:sh|console)?\n[\s\S]*?^```$|^    .*$", re.M)
INLINE = re.compile(r"`(pourcast [^`]+)`")


def blocks(path: Path, kind: str) -> list[str]:
    found = BLOCK.findall(path.read_text(encoding="utf-8"))
    return [text for name, text in found if name == kind]


def having(kind: str) -> list[str]:
    return [str(path.relative_to(ROOT)) for path in PAGES if blocks(path, kind)]


def commands(path: Path) -> list[str]:
    """Return every command line of a page, joined where it goes on in the next line."""
    text = path.read_text(encoding="utf-8").replace("\\\n", " ")
    inline = [" ".join(found.split()) for found in INLINE.findall(text)]
    code = [line for block in CODE.findall(text) for line in LINE.findall(block)]
    return [*code, *inline]


@pytest.mark.parametrize("name", having("python"))
def test_python_of_a_page_runs(name: str) -> None:
    code = "\n".join(blocks(ROOT / name, "python"))

    exec(compile(code, name, "exec"), {"__name__": "example"})


@pytest.mark.parametrize("name", having("console"))
def test_commands_of_a_page_run_and_say_what_it_says(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))

    for block in blocks(ROOT / name, "console"):
        for piece in re.split(r"^\$ ", block, flags=re.M)[1:]:
            line, *expected = piece.rstrip().split("\n")
            program, *words = shlex.split(line)
            assert program == "pourcast"
            answer = CliRunner().invoke(app, words, prog_name="pourcast")
            assert (line, answer.exit_code) == (line, 0)
            said = " ".join(answer.output.split())
            assert [each for each in expected if " ".join(each.split()) not in said] == []


@pytest.mark.parametrize("name", [str(path.relative_to(ROOT)) for path in PAGES if commands(path)])
def test_command_lines_of_a_page_name_what_is_there(name: str) -> None:
    assert [fault for line in commands(ROOT / name) for fault in faults(line, helps())] == []


@functools.cache
def helps() -> dict[tuple[str, ...], str]:
    """Return what each command says of itself."""
    commands = of_site("made_commands")
    return {words: commands.asked(words) for words in commands.names()}


def faults(line: str, known: dict[tuple[str, ...], str]) -> list[str]:
    """Return what a line names that the program does not have."""
    words = [word.rstrip(".,;:)") for word in line.partition("#")[0].split()[1:]]
    command: tuple[str, ...] = ()
    while words and (*command, words[0]) in known:
        command = (*command, words.pop(0))
    groups = {each[:-1] for each in known if each}
    first = words[0] if words else ""
    if command in groups and re.fullmatch(r"[a-z][a-z-]*", first):
        return [f"{line}: no command {first}"]
    options = re.findall(r"(?<!\S)--[a-z][\w-]*", " ".join(words))
    held = re.findall(r"(?<![\w-])--[\w-]+", known[command])
    return [f"{line}: no option {option}" for option in options if option not in held]


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("pourcast frocast x.toml", "no command frocast"),
        ("pourcast forecast x.toml --pge y", "no option --pge"),
        ("pourcast test pulldown --open x", "no command pulldown"),
    ],
)
def test_a_slip_in_a_command_line_is_found(line: str, fault: str) -> None:
    """Made to fail: what a page might get wrong."""
    assert any(fault in each for each in faults(line, helps()))


def test_worked_example_of_the_readme_says_what_the_program_says_today() -> None:
    """The README promises real output; `python tools/demo_text.py` writes it."""
    place = importlib.util.spec_from_file_location("demo_text", ROOT / "tools" / "demo_text.py")
    assert place is not None
    assert place.loader is not None
    demo = importlib.util.module_from_spec(place)
    place.loader.exec_module(demo)

    assert demo.told((ROOT / "README.md").read_text(encoding="utf-8")) == demo.answer()
