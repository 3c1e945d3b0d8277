"""Kernels: a stale compiled kernel is never run, and each source of a kernel counts.

The traps are those of numba, so no outside number is held against them.  The
hashed folder is shown to matter: without it the old kernel is served.
"""

import importlib
import os
import subprocess
import sys
import typing
from pathlib import Path

import pytest

from pourcast.kernels import _WITHOUT_KERNELS, _WITHOUT_OWNERS, sources_hash
from pourcast.pour.cup import level_of

INNER = """from pourcast.kernels import kernel


@kernel
def inner(value):
    return value + {number}
"""

OUTER = """from pourcast.kernels import kernel
from kernels_here.inner import inner


@kernel
def outer(value):
    return 10.0 * inner(value)
"""

RUN = """import sys
from pathlib import Path

import pourcast.kernels

folder = Path(sys.argv[1])
sys.path.insert(0, str(folder.parent))
if sys.argv[2] == "hashed":
    pourcast.kernels.HASH = pourcast.kernels.sources_hash(folder)
else:
    pourcast.kernels.HASH = "one name for all"
from kernels_here.outer import outer

print(outer(1.0), sum(outer.stats.cache_hits.values()))
"""


def package(where: Path) -> Path:
    """Write a package in which a kernel of one file calls a kernel of another."""
    folder = where / "kernels_here"
    folder.mkdir()
    (folder / "__init__.py").write_text("")
    (folder / "inner.py").write_text(INNER.format(number=1.0))
    (folder / "outer.py").write_text(OUTER)
    return folder


def result(folder: Path, naming: str) -> tuple[float, int]:
    """Return what the outer kernel gives in a new process, and how often it was found compiled."""
    done = subprocess.run(
        [sys.executable, "-c", RUN, str(folder), naming],
        env={
            **os.environ,
            "NUMBA_CACHE_DIR": str(folder.parent / f"cache {naming}"),
            # Bytecode is told by its time and size, and the sources change within one second.
            "PYTHONDONTWRITEBYTECODE": "1",
        },
        capture_output=True,
        text=True,
        check=True,
    )
    value, hits = done.stdout.split()
    return float(value), int(hits)


def test_an_old_kernel_is_served_without_the_hash_and_not_with_it(tmp_path: Path) -> None:
    """The inner source changes; the outer file, whose time stamp numba keeps, does not."""
    folder = package(tmp_path)
    before = {naming: result(folder, naming) for naming in ("plain", "hashed")}
    (folder / "inner.py").write_text(INNER.format(number=2.0))
    after = {naming: result(folder, naming) for naming in ("plain", "hashed")}

    assert before == {"plain": (20.0, 0), "hashed": (20.0, 0)}
    assert after["plain"] == (20.0, 1), "numba has mended this: is the hash still needed?"
    assert after["hashed"] == (30.0, 0)


def test_a_kernel_that_did_not_change_is_found_compiled(tmp_path: Path) -> None:
    """Else each start of the program would compile for some ten seconds."""
    folder = package(tmp_path)

    assert result(folder, "hashed") == (20.0, 0)
    assert result(folder, "hashed") == (20.0, 1)


@pytest.mark.parametrize("name", ["inner.py", "outer.py"])
def test_the_hash_changes_with_each_source_of_a_kernel(tmp_path: Path, name: str) -> None:
    folder = package(tmp_path)
    before = sources_hash(folder)
    with (folder / name).open("a") as source:
        source.write("\n# One more line.\n")

    assert sources_hash(folder) != before


def test_the_hash_changes_when_a_kernel_moves(tmp_path: Path) -> None:
    folder = package(tmp_path)
    before = sources_hash(folder)
    (folder / "inner.py").rename(folder / "within.py")

    assert sources_hash(folder) != before


def test_the_hash_is_the_same_for_the_same_sources(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "other").mkdir()

    assert sources_hash(package(tmp_path / "one")) == sources_hash(package(tmp_path / "other"))


def test_the_hash_covers_each_file_of_the_program_that_holds_kernels() -> None:
    """A file with a kernel carries the line by which the hash knows it."""
    root = Path(__file__).parents[1] / "src" / "pourcast"
    holders = [path for path in root.rglob("*.py") if "\n@kernel\n" in path.read_text()]

    assert len(holders) > 10
    assert all(b"from pourcast.kernels import" in path.read_bytes() for path in holders)
    folders = {path.relative_to(root).parts[0] for path in holders}
    assert not folders & _WITHOUT_KERNELS, "a change there would leave a stale kernel"


def test_the_hash_changes_with_a_constant_that_a_kernel_takes_in(tmp_path: Path) -> None:
    """Numba writes a number of another module, a column or GRAVITY, into the compiled code.

    While only files with kernels were hashed, the old number went on being used.
    """
    folder = package(tmp_path)
    (folder / "numbers_of.py").write_text("STEP = 1.0\n")
    (folder / "inner.py").write_text(
        INNER.format(number="STEP").replace(
            "import kernel\n", "import kernel\nfrom kernels_here.numbers_of import STEP\n"
        )
    )
    assert result(folder, "hashed")[0] == 20.0
    (folder / "numbers_of.py").write_text("STEP = 2.0\n")

    assert result(folder, "hashed")[0] == 30.0


def test_a_change_in_one_stage_keeps_the_kernels_of_the_others(tmp_path: Path) -> None:
    """Else each change would compile for some ten seconds what it cannot touch."""
    folder = tmp_path / "stages"
    for stage in ("here", "there"):
        (folder / stage).mkdir(parents=True)
        for name in ("model.py", "work.py"):
            (folder / stage / name).write_text("STEP = 1.0\n")
    (folder / "top.py").write_text("")
    before = sources_hash(folder, "here")
    (folder / "there" / "work.py").write_text("STEP = 2.0\n")
    after_work = sources_hash(folder, "here")
    (folder / "there" / "model.py").write_text("STEP = 2.0\n")
    after_model = sources_hash(folder, "here")
    (folder / "top.py").write_text("STEP = 2.0\n")

    assert before == after_work
    assert len({before, after_model, sources_hash(folder, "here")}) == 3


def test_kernels_of_a_stage_draw_on_no_other_stage_but_its_records() -> None:
    """The hash of a stage rests on this rule; tests/test_layers.py holds it for all imports."""
    root = Path(__file__).parents[1] / "src" / "pourcast"
    stages = {path.parent.name for path in root.rglob("*.py") if "@kernel" in path.read_text()}
    stages.discard(root.name)

    for stage in stages:
        for path in (root / stage).glob("*.py"):
            for other in stages - {stage}:
                for line in path.read_text().splitlines():
                    if line.startswith(f"from pourcast.{other}"):
                        assert line.startswith(f"from pourcast.{other}.model import"), path


MAKES = """import numpy as np
from pourcast.kernels import kernel


@kernel
def makes(value):
    room = np.empty(3)
    room[0] = value
    return room[0]


@kernel
def hands_back(value):
    return np.full(3, value)
"""

RUN_MAKES = """import sys

import pourcast.kernels

if sys.argv[3] == "counted":
    pourcast.kernels._WITHOUT_OWNERS.clear()
sys.path.insert(0, sys.argv[1])
import makes

try:
    getattr(makes, sys.argv[2])(1.0)
except Exception as error:
    print("refused:", error)
else:
    print("compiled")
"""


@pytest.mark.parametrize("name", ["makes", "hands_back"])
def test_a_kernel_that_makes_an_array_does_not_compile(tmp_path: Path, name: str) -> None:
    """Owners of arrays are not counted: what a kernel made would never be freed, or too early.

    With the count the same function compiles, so that is why it is refused.
    """
    (tmp_path / "makes.py").write_text(MAKES)
    said = {}
    for owners in ("left out", "counted"):
        done = subprocess.run(
            [sys.executable, "-c", RUN_MAKES, str(tmp_path), name, owners],
            env={**os.environ, "NUMBA_CACHE_DIR": str(tmp_path / owners)},
            capture_output=True,
            text=True,
            check=True,
        )
        said[owners] = done.stdout.split(":")[0].strip()

    assert said == {"left out": "refused", "counted": "compiled"}


def test_numba_still_knows_the_option_that_leaves_owners_out() -> None:
    """Without it kernels are right but a third slower: this tells of it when numba changes."""
    assert _WITHOUT_OWNERS == {"_nrt": False}
    assert not level_of.targetoptions["_nrt"]  # type: ignore[attr-defined]


def test_no_kernel_gives_an_array_back() -> None:
    """An array that is handed through would come back without an owner.

    Every function of the package is annotated (mypy --strict), so the result is read there.
    """
    root = Path(__file__).parents[1] / "src" / "pourcast"
    seen = 0
    for path in root.rglob("*.py"):
        if "kernel\n" not in path.read_text():
            continue
        module = importlib.import_module(
            ".".join(("pourcast", *path.relative_to(root).with_suffix("").parts))
        )
        for made in vars(module).values():
            if not hasattr(made, "py_func") or made.__module__ != module.__name__:
                continue
            seen += 1
            result = typing.get_type_hints(made.py_func).get("return")
            parts = typing.get_args(result) if typing.get_origin(result) is tuple else (result,)
            assert not any("ndarray" in str(part) for part in parts), made.__name__
    assert seen > 150
