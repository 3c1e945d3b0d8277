"""What a run of tests reaches: which functions of the package it calls, and which values it reads.

A test file that never calls a function, in any of its tests, goes the same way whatever stands in
that function; so does one that never reads a value.  A mutant is tried on the files that reach it,
and what it did not try could not have seen it.  Where a place stands in no function, as a constant
at the top of a module does, every file of the stage counts as reaching it.

Calls in threads are seen too; those in further processes are not.
"""

import ast
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from cProfile import Profile
from pathlib import Path
from types import CodeType
from typing import Any

_READ = ("value", "low", "high")


@contextmanager
def noted(package: Path) -> Iterator[set[str]]:
    """Note what is called and read within; the set is filled at the end.

    Parameters
    ----------
    package : Path
        Folder whose functions are noted, as "pour/flow.py:name"; a value is noted by its key.
    """
    reached: set[str] = set()
    profiles = [Profile(subcalls=False, builtins=False)]
    run = threading.Thread.run

    def run_noted(self: threading.Thread) -> None:
        with Profile(subcalls=False, builtins=False) as profile:
            profiles.append(profile)
            run(self)

    threading.Thread.run = run_noted  # type: ignore[method-assign]
    profiles[0].enable()
    try:
        with _reading_noted(reached):
            yield reached
    finally:
        profiles[0].disable()
        threading.Thread.run = run  # type: ignore[method-assign]
    for entry in (entry for profile in profiles for entry in profile.getstats()):
        code = entry.code
        if isinstance(code, CodeType) and Path(code.co_filename).is_relative_to(package):
            file = Path(code.co_filename).relative_to(package).as_posix()
            reached.add(f"{file}:{code.co_qualname}")


@contextmanager
def _reading_noted(reached: set[str]) -> Iterator[None]:
    """Let each number of a value note that it is read."""
    # Imported late: it is the package of the copy, in the process that is split off.
    from pourcast.materials.model import Value

    slots = {name: getattr(Value, name) for name in _READ}
    for name, slot in slots.items():

        def read(value: Value, slot: Any = slot) -> object:
            reached.add(value.key)
            return slot.__get__(value)

        setattr(Value, name, property(read, slot.__set__))
    try:
        yield
    finally:
        for name, slot in slots.items():
            setattr(Value, name, slot)


def function_at(source: str, line: int, column: int) -> str:
    """Return the innermost function that a place stands in, by its qualified name; "": none.

    Parameters
    ----------
    source : str
        Of the module.
    line, column : int
        As `ast` counts them.  The default of an argument and a decorator belong to what is around
        their function.
    """
    found = ""

    def look(node: ast.AST, name: str) -> None:
        nonlocal found
        for child in ast.iter_child_nodes(node):
            inner = name
            if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
                inner = f"{name}{child.name}"
                if any(_holds(part, line, column) for part in child.body):
                    found = inner
                inner += ".<locals>."
            elif isinstance(child, ast.ClassDef):
                inner = f"{name}{child.name}."
                if any(_holds(part, line, column) for part in child.body):
                    found = ""
            look(child, inner)

    look(ast.parse(source), "")
    return found


def _holds(node: ast.stmt, line: int, column: int) -> bool:
    assert node.end_lineno is not None
    assert node.end_col_offset is not None
    start, end = (node.lineno, node.col_offset), (node.end_lineno, node.end_col_offset)
    return start <= (line, column) < end
