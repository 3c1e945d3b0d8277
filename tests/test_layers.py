"""What may use what: imports point backwards, and stages are pure.

The rules are those of the house, so no outside number is held against them.
Each rule is shown to bite on a source text that breaks it.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "src" / "pourcast"

ORDER = (
    "errors",
    "units",
    "findings",
    "speech",
    "kernels",
    "execute",
    "trade_units",
    "materials",
    "piece",
    "mould",
    "burnout",
    "melt",
    "pour",
    "freeze",
    "finish",
    "sheet",
    "scan",
    "photo",
    "forecast",
    "gating",
    "change",
    "sweep",
    "learn",
    "signs",
    "day",
    "book",
    "probe",
    "runsheet",
    "page",
    "notebook",
    "plot",
    "app",
    "cli",
)
"""A name may import the names before it."""

PURE = (
    "materials",
    "piece",
    "mould",
    "burnout",
    "melt",
    "pour",
    "freeze",
    "finish",
    "sheet",
    "scan",
    "photo",
    "forecast",
    "gating",
    "change",
    "sweep",
    "learn",
    "signs",
    "day",
    "runsheet",
)
"""No files, clock, network, printing, logging or global state of their own;
`materials` reads the data of its own package through importlib.resources."""

DOORS = ("app", "cli")
"""Nothing imports them, but the program's own start."""

OPENS = {("cli", "app")}
"""But the command line opens the pages."""

START = ("__init__", "__main__")
"""Top of the package and start of the program; they stand outside the order."""

OPEN_TO_ALL = (
    "errors",
    "units",
    "findings",
    "speech",
    "kernels",
    "execute",
    "trade_units",
    "materials",
)
"""Of these more than `model` may be imported."""

PUTS_TOGETHER = (
    "forecast",
    "gating",
    "change",
    "sweep",
    "learn",
    "day",
    "book",
    "probe",
    "runsheet",
    "page",
    "notebook",
    "plot",
    "app",
    "cli",
)
"""Not stages: these may call more of what comes before them than records."""

WORLD = frozenset(
    {
        "asyncio",
        "datetime",
        "glob",
        "http",
        "io",
        "logging",
        "os",
        "pathlib",
        "random",
        "shutil",
        "socket",
        "sqlite3",
        "subprocess",
        "sys",
        "tempfile",
        "threading",
        "time",
        "urllib",
    }
)
"""Modules of the world outside; a pure folder imports none of them."""

OUTSIDE_CALLS = frozenset({"open", "print", "input", "exec", "eval"})

MAY_IMPORT = {
    # The package is called like a function; a module can change its own class only there.
    "forecast/__init__.py": frozenset({"sys"}),
    # The mesh and package libraries read from a file object; bytes are made one in memory.
    "photo/load.py": frozenset({"io"}),
    "photo/picture.py": frozenset({"io"}),
    "scan/beside.py": frozenset({"io"}),
    "scan/guard.py": frozenset({"io"}),
    "scan/paint.py": frozenset({"io"}),
    "scan/read.py": frozenset({"io"}),
}
"""File: modules of the world outside that it may import, and why."""

MAY_USE = {
    # What a scan comes to is written as parts of a piece file: their solids have one home.
    "scan/measure.py": frozenset({"pourcast.piece.solids"}),
    "scan/poses.py": frozenset({"pourcast.piece.lumps"}),
    "scan/solids.py": frozenset({"pourcast.piece.lumps", "pourcast.piece.solids"}),
}
"""File: modules of another stage that it may import beside its records, and why."""

OF_SCANS = frozenset(
    {"defusedxml", "embreex", "igl", "lxml", "networkx", "scipy", "skimage", "trimesh"}
)
"""Libraries of the extra ``scan``: a plain installation has none of them."""

MOST_LINES = 300
LONG_FILES: dict[str, str] = {
    "book/tables.py": "tables only; most lines name a column and its limits",
    "burnout/model.py": "records only; most lines say what a field is and in which unit",
    "forecast/model.py": "records only, as above",
    "mould/model.py": "records only, as above",
    "photo/model.py": "records only, as above",
    "piece/model.py": "records, and the order of segments that all stages rest on, as above",
    "scan/model.py": "records only, as above",
}
"""File of more than 300 lines: the reason."""

FORBIDDEN_FOLDERS = frozenset({"utils", "common", "helpers", "core", "misc"})


def faults(file: str, source: str) -> list[str]:
    """Return what a file of ``src/pourcast`` breaks, one line for each fault."""
    tree = ast.parse(source)
    owner = _owner(file)
    found = [
        f"{file}:{line}: {fault}"
        for line, name, module in _imports(tree, file)
        if module not in MAY_IMPORT.get(file, frozenset()) | MAY_USE.get(file, frozenset())
        for fault in _import_faults(owner, name, module)
    ]
    if owner in PURE:
        found += [
            f"{file}:{node.lineno}: {owner} is pure and calls {node.func.id}"
            for node in ast.walk(tree)
            if isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in OUTSIDE_CALLS
        ]
        found += [
            f"{file}:{node.lineno}: {owner} is pure and declares something global"
            for node in ast.walk(tree)
            if isinstance(node, ast.Global)
        ]
    lines = source.count("\n")
    if lines > MOST_LINES and file not in LONG_FILES:
        found.append(f"{file}: {lines} lines, over {MOST_LINES} without a reason")
    found += [
        f"{file}: a folder or file may not be called {part}"
        for part in Path(file).with_suffix("").parts
        if part in FORBIDDEN_FOLDERS
    ]
    return found


def _owner(file: str) -> str:
    """Return the name in ``ORDER`` that a file belongs to."""
    return Path(file).with_suffix("").parts[0]


def _imports(tree: ast.Module, file: str) -> Iterator[tuple[int, str, str]]:
    """Yield line, top name and whole dotted name of each import of a file."""
    package = ("pourcast", *Path(file).parent.parts)
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name.partition(".")[0], alias.name
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                start = package[: len(package) - node.level + 1]
                base = ".".join((*start, base)).rstrip(".")
            names = [f"{base}.{alias.name}" for alias in node.names]
            # "from pourcast import units" names a module, "from x.model import Y" does not.
            bare = base == "pourcast" or (base.count(".") == 1 and _is_package(base))
            for whole in names if bare else [base]:
                yield node.lineno, whole.partition(".")[0], whole


def _is_package(dotted: str) -> bool:
    return dotted.startswith("pourcast.") and (ROOT / dotted.split(".")[1]).is_dir()


def _import_faults(owner: str, name: str, module: str) -> Iterator[str]:
    if name != "pourcast":
        if name in OF_SCANS and owner not in ("scan", "photo"):
            yield f"{owner} imports {module}, which a plain installation has not"
        if owner in PURE and name in WORLD:
            yield f"{owner} is pure and imports {module}"
        return
    parts = module.split(".")[1:]
    if not parts or owner in START:
        return
    target = parts[0]
    if target == owner or target.startswith("__"):
        return
    if owner not in ORDER:
        yield f"{owner} is not in the order of the work"
        return
    if target not in ORDER:
        yield f"{owner} imports {module}, which is not in the order of the work"
        return
    if target in DOORS and (owner, target) not in OPENS:
        yield f"{owner} imports {module}; nothing imports a door"
    if ORDER.index(target) > ORDER.index(owner):
        yield f"{owner} imports {module}, which comes after it"
    if target in OPEN_TO_ALL or owner in PUTS_TOGETHER:
        return
    if len(parts) < 2 or parts[1] != "model":
        yield f"{owner} imports {module}; of another stage only model is open"


def _files() -> list[str]:
    return sorted(str(path.relative_to(ROOT)) for path in ROOT.rglob("*.py"))


@pytest.mark.parametrize("file", _files())
def test_file_keeps_the_order_and_the_purity_of_its_stage(file: str) -> None:
    """House rule: imports point backwards, stages are pure, files are short."""
    assert faults(file, (ROOT / file).read_text(encoding="utf-8")) == []


def test_every_file_is_looked_at() -> None:
    """The list of files holds those that are known to be there."""
    assert {"units.py", "errors.py", "mould/solve.py", "melt/checks.py"} <= set(_files())


def test_no_forbidden_folder_stands_in_the_tree() -> None:
    names = {path.name for path in ROOT.rglob("*") if path.is_dir()}

    assert not names & FORBIDDEN_FOLDERS


def test_exceptions_name_files_that_are_there() -> None:
    """A reason without its file is a leftover."""
    assert set(LONG_FILES) | set(MAY_USE) <= set(_files())


@pytest.mark.parametrize(
    ("file", "source", "fault"),
    [
        ("piece/place.py", "from pourcast.mould.model import Flask", "comes after it"),
        ("units.py", "from pourcast import findings", "comes after it"),
        ("errors.py", "import pourcast.units", "comes after it"),
        ("melt/solve.py", "from pourcast.piece.measure import measure", "only model is open"),
        ("melt/solve.py", "from pourcast.piece import measure", "only model is open"),
        ("melt/solve.py", "from pourcast import piece", "only model is open"),
        ("melt/solve.py", "from ..piece import measure", "only model is open"),
        ("melt/solve.py", "def f():\n    from pourcast.pour.model import Metal", "comes after it"),
        ("page/render.py", "from pourcast.cli.show import show", "nothing imports a door"),
        ("forecast/solve.py", "from pourcast.app import pages", "nothing imports a door"),
        ("gadget/solve.py", "from pourcast.units import Metre", "not in the order"),
        ("melt/solve.py", "from pourcast.gadget import x", "not in the order"),
        ("melt/solve.py", "import os.path", "pure and imports os.path"),
        ("melt/solve.py", "from datetime import datetime", "pure and imports datetime"),
        ("sheet/read.py", "from pathlib import Path", "pure and imports pathlib"),
        ("gating/share.py", "from scipy.optimize import brentq", "plain installation has not"),
        ("melt/solve.py", "print(1)", "calls print"),
        ("melt/solve.py", "def f():\n    return open('x')", "calls open"),
        ("melt/solve.py", "def f():\n    global x\n    x = 1", "declares something global"),
        ("melt/solve.py", "x = 1\n" * 301, "over 300"),
        ("melt/utils.py", "x = 1", "may not be called utils"),
        ("core/solve.py", "x = 1", "may not be called core"),
    ],
)
def test_rule_bites_on_a_text_that_breaks_it(file: str, source: str, fault: str) -> None:
    """Made to fail: each text breaks one rule."""
    assert any(fault in found for found in faults(file, source))


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("melt/solve.py", "from pourcast import units as si"),
        ("melt/solve.py", "from pourcast.piece.model import Measures"),
        ("melt/solve.py", "from pourcast.melt.charge import make_up"),
        ("melt/solve.py", "from .charge import make_up"),
        ("melt/solve.py", "from pourcast.materials import Material"),
        ("forecast/solve.py", "from pourcast.melt.checks import findings"),
        ("cli/app.py", "import sys\nprint(1)"),
        ("__main__.py", "from pourcast.cli.app import run"),
    ],
)
def test_rule_lets_a_good_text_pass(file: str, source: str) -> None:
    assert faults(file, source) == []
