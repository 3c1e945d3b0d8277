"""Every number of a stage states its unit twice, in its type and in its docstring.

A house rule, so no outside number is held against it.  It is shown to bite on
functions and records that break it.
"""

import dataclasses
import importlib
import inspect
import re
import types
import typing
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Annotated, Any, get_args, get_origin, get_type_hints

import numpy as np
import pytest

from pourcast import units as si

ROOT = Path(__file__).parents[1] / "src" / "pourcast"

FOLDERS = (
    "materials",
    "piece",
    "mould",
    "burnout",
    "melt",
    "pour",
    "freeze",
    "finish",
    "sheet",
    "forecast",
    "signs",
    "change",
    "sweep",
    "execute",
    "gating",
    "photo",
    "scan",
    "learn",
    "day",
    "probe",
)

BORDER: dict[str, str] = {
    "forecast.model.Override": "carries the unit of the record it overrides",
    "forecast.model.Spread": "its owner says the unit of all three",
    "forecast.model.Unknown": "carries its unit as a word beside it",
    "forecast.model.PartForecast.causes": "shares by cause; an alias inside a dict reads badly",
}
"""Record, function, or one field of it, that may hold a bare float: the reason."""

_ENTRY = re.compile(r"^(?P<names>\*{0,2}\w+(?:, \*{0,2}\w+)*) :(?P<text>.*)$")
_UNIT = re.compile(r"\[([^\]]+)\]")


def faults(owner: str, thing: Any) -> list[str]:
    """Return what a function or record says wrongly of its units."""
    if inspect.isclass(thing):
        return list(_record_faults(owner, thing))
    return list(_function_faults(owner, thing))


def _record_faults(owner: str, record: type) -> Iterator[str]:
    if dataclasses.is_dataclass(record):
        hints = get_type_hints(record, include_extras=True)
        names = [field.name for field in dataclasses.fields(record)]
        yield from _compared(owner, {name: hints[name] for name in names}, record.__doc__)
    for name, member in vars(record).items():
        function = member.fget if isinstance(member, property) else member
        if not name.startswith("_") and inspect.isfunction(function):
            yield from _function_faults(f"{owner}.{name}", function)


def _function_faults(owner: str, function: Callable[..., Any]) -> Iterator[str]:
    hints = get_type_hints(function, include_extras=True)
    returned = hints.pop("return", None)
    yield from _compared(owner, hints, function.__doc__)
    if returned is not None and owner not in BORDER:
        if _is_bare(returned):
            yield f"{owner}: returns a bare number; give it a unit of pourcast.units"
        lines = _section(function.__doc__, "Returns").splitlines()
        typed = "\n".join(line for line in lines if not line.startswith(" "))
        for unit in set(_UNIT.findall(typed)) - _units(returned):
            yield f"{owner}: says it returns [{unit}], its type does not"


def _compared(owner: str, hints: dict[str, Any], docstring: str | None) -> Iterator[str]:
    if owner in BORDER:
        return
    stated = dict(_entries(_section(docstring, "Parameters")))
    for name, hint in hints.items():
        if f"{owner}.{name}" in BORDER:
            continue
        if _is_bare(hint):
            yield f"{owner}: {name} is a bare number; give it a unit of pourcast.units"
            continue
        for unit in _units(hint):
            if name not in stated:
                yield f"{owner}: {name} [{unit}] is not in the docstring"
            elif unit not in _UNIT.findall(stated[name]):
                yield f"{owner}: {name} is [{unit}] in its type, not in the docstring"


def _section(docstring: str | None, title: str) -> str:
    """Return the lines of a section of a NumPy docstring."""
    text = inspect.cleandoc(docstring or "")
    found = re.search(rf"^{title}\n-+\n(.*?)(?=^\w[\w ]*\n-+\n|\Z)", text, re.M | re.S)
    return found.group(1) if found else ""


def _entries(section: str) -> Iterator[tuple[str, str]]:
    for line in section.splitlines():
        entry = _ENTRY.match(line)
        if entry:
            for name in entry["names"].split(", "):
                yield name.lstrip("*"), entry["text"]


def _units(hint: Any) -> set[str]:
    """Return the unit symbols anywhere in a type."""
    if get_origin(hint) is Annotated:
        own = {extra.symbol for extra in get_args(hint)[1:] if isinstance(extra, si.Unit)}
        return own or _units(get_args(hint)[0])
    return set().union(*(_units(part) for part in _parts(hint)))


def _is_bare(hint: Any) -> bool:
    """Return whether a number with a unit could hide in a type that states none."""
    if get_origin(hint) is Annotated:
        if any(isinstance(extra, si.Unit) for extra in get_args(hint)[1:]):
            return False
        return _is_bare(get_args(hint)[0])
    if hint in (float, complex, np.ndarray):
        return True
    if inspect.isclass(hint) and issubclass(hint, np.floating):
        return True
    return any(_is_bare(part) for part in _parts(hint))


def _parts(hint: Any) -> tuple[Any, ...]:
    if get_origin(hint) is typing.Literal:
        return ()
    if get_origin(hint) is Callable or get_origin(hint) is types.FunctionType:
        return ()
    parts: list[Any] = []
    for part in get_args(hint):
        parts.extend(part if isinstance(part, list) else [part])
    return tuple(parts)


def _modules() -> list[str]:
    return sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for folder in FOLDERS
        for path in (ROOT / folder).rglob("*.py")
        if path.name != "__init__.py"
    )


def _public(module: types.ModuleType) -> Iterator[tuple[str, Any]]:
    for name, thing in vars(module).items():
        # A compiled kernel keeps the function that it was made from.
        plain = inspect.unwrap(getattr(thing, "py_func", thing)) if callable(thing) else None
        own = getattr(plain, "__module__", "") == module.__name__
        if (
            own
            and not name.startswith("_")
            and (inspect.isclass(plain) or inspect.isroutine(plain))
        ):
            yield name, plain


@pytest.mark.parametrize("module", _modules())
def test_numbers_of_a_module_state_their_unit(module: str) -> None:
    """House rule: unit in the type and, the same, in the docstring."""
    loaded = importlib.import_module(f"pourcast.{module}")

    found = [
        fault for name, thing in _public(loaded) for fault in faults(f"{module}.{name}", thing)
    ]

    assert found == []


def test_modules_that_are_known_to_be_there_are_looked_at() -> None:
    assert {"mould.block", "melt.charge", "piece.model", "pour.model"} <= set(_modules())


def test_functions_and_records_of_a_module_are_found() -> None:
    """The search finds what `mould.block` and `mould.model` are known to hold."""
    block = dict(_public(importlib.import_module("pourcast.mould.block")))
    model = dict(_public(importlib.import_module("pourcast.mould.model")))

    assert {"depth", "far_cover", "wall_gap", "fill_volume"} <= set(block)
    assert {"Flask", "Mix", "Mould"} <= set(model)


def test_exceptions_name_things_that_are_there() -> None:
    """A reason without its record is a leftover."""
    for owner in BORDER:
        module, _, name = owner.partition(".model.")
        record = getattr(importlib.import_module(f"pourcast.{module}.model"), name.split(".")[0])
        assert record.__doc__


def good(width: si.Metre, heat: si.Kelvins | None, ratio: tuple[si.Ratio, ...]) -> si.Metres:
    """Return something.

    Parameters
    ----------
    width : float [m]
        Of a thing.
    heat : array or None [K], shape (draws,)
    ratio : tuple of float [-]

    Returns
    -------
    array [m]
    """
    raise NotImplementedError


def bare_number(width: float) -> None:
    """Do nothing.

    Parameters
    ----------
    width : float [m]
    """


def bare_array(width: si.Floats | None) -> None:
    """Do nothing.

    Parameters
    ----------
    width : array [m]
    """


def bare_return(width: si.Metre) -> list[float]:
    """Do nothing.

    Parameters
    ----------
    width : float [m]
    """
    raise NotImplementedError


def wrong_unit(width: si.Metre) -> None:
    """Do nothing.

    Parameters
    ----------
    width : float [mm]
    """


def wrong_return(width: si.Metre) -> si.Metre:
    """Do nothing.

    Parameters
    ----------
    width : float [m]

    Returns
    -------
    float [m²]
    """
    raise NotImplementedError


def unit_left_out(width: si.Ratio) -> None:
    """Do nothing.

    Parameters
    ----------
    width : float
    """


def not_described(width: si.Metre) -> None:
    """Do nothing."""


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class WrongRecord:
    """Hold two numbers.

    Parameters
    ----------
    width, height : float [m]
    """

    width: si.Metre
    height: si.Kelvin

    def doubled(self) -> float:
        """Return twice the width."""
        return 2.0 * self.width


def test_good_function_has_no_fault() -> None:
    assert faults("here.good", good) == []


@pytest.mark.parametrize(
    ("thing", "fault"),
    [
        (bare_number, "width is a bare number"),
        (bare_array, "width is a bare number"),
        (bare_return, "returns a bare number"),
        (wrong_unit, r"width is \[m\] in its type"),
        (wrong_return, r"says it returns \[m²\]"),
        (unit_left_out, r"width is \[-\] in its type"),
        (not_described, r"width \[m\] is not in the docstring"),
        (WrongRecord, r"height is \[K\] in its type"),
        (WrongRecord, "doubled: returns a bare number"),
    ],
)
def test_rule_bites_on_what_breaks_it(thing: Any, fault: str) -> None:
    """Made to fail: each of these breaks one rule."""
    assert any(re.search(fault, found) for found in faults("here.thing", thing))
