"""Errors: the tree, what the messages say, and what the checks refuse."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from pourcast import errors
from pourcast.errors import (
    Fault,
    InputError,
    PourcastError,
    SheetError,
    SolveError,
    SourceError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)

Check = Callable[[str, Any, str], None]


def within(what: str, value: Any, unit: str) -> None:
    require_between(what, value, unit, 1.0, 2.0)


@pytest.mark.parametrize(
    ("error", "parents"),
    [
        (InputError, (PourcastError, ValueError)),
        (SheetError, (InputError,)),
        (SourceError, (PourcastError, LookupError)),
        (SolveError, (PourcastError, RuntimeError)),
    ],
)
def test_tree_is_as_drawn(error: type[Exception], parents: tuple[type[Exception], ...]) -> None:
    """By definition: the tree at the top of the module, so that one `except` holds them all."""
    assert error.__bases__ == parents
    assert error.__name__ in (errors.__doc__ or "")


def test_bad_casting_is_no_error() -> None:
    """By definition: the module holds these five errors and no others."""
    found = {
        name
        for name, thing in vars(errors).items()
        if isinstance(thing, type) and issubclass(thing, Exception)
    }

    assert found == {"PourcastError", "InputError", "SheetError", "SourceError", "SolveError"}


def test_input_error_keeps_its_parts_and_says_them() -> None:
    """By definition: the sentence of the style page, "density is -1 kg/m³; it must be ..."."""
    error = InputError("density", -1, "kg/m³", "greater than 0", "Look at the alloy.")

    assert (error.what, error.value, error.unit) == ("density", -1, "kg/m³")
    assert (error.must, error.hint) == ("greater than 0", "Look at the alloy.")
    assert str(error) == "density is -1 kg/m³; it must be greater than 0. Look at the alloy."


def test_input_error_without_unit_and_hint_has_no_loose_ends() -> None:
    """By definition: no space before the semicolon, no point at the end."""
    assert str(InputError("count", 0, "", "1 or more")) == "count is 0; it must be 1 or more"


def test_sheet_error_lists_all_faults_by_line() -> None:
    """By definition: ``file:line: key: text; hint``, in the order of the file."""
    late = Fault(line=9, key="metal", text="unknown parent", hint="did you mean stem?")
    early = Fault(line=2, key="part", text="missing")

    error = SheetError("teasel.toml", (late, early))

    assert error.faults == (early, late)
    assert str(error) == (
        "teasel.toml:2: part: missing\nteasel.toml:9: metal: unknown parent; did you mean stem?"
    )
    assert "found 2" in error.must


def test_source_error_says_its_text_without_quotes() -> None:
    """By definition; a bare LookupError of the KeyError kind would print quotes."""
    assert str(SourceError("no alloy named x;", "did you mean y?")) == (
        "no alloy named x; did you mean y?"
    )


def test_solve_error_keeps_steps_and_residual() -> None:
    """By definition: the sentence names the steps and what was left over."""
    error = SolveError("fill front", 50, 0.01234)

    assert (error.what, error.iterations, error.residual) == ("fill front", 50, 0.01234)
    assert str(error) == "fill front: no answer after 50 steps (left over 0.0123)"


GOOD: list[tuple[Check, Any]] = [
    (require_finite, -1.0),
    (require_finite, np.array([[0.0, 1.0], [2.0, -3.0]])),
    (require_positive, 1),
    (require_positive, np.array([1e-300, 1.0])),
    (require_not_negative, 0.0),
    (require_not_negative, [0, 1]),
    (require_not_negative, np.array([])),
    (within, 1.0),
    (within, np.array([1.0, 1.5, 2.0])),
]


@pytest.mark.parametrize(("check", "value"), GOOD)
def test_value_within_limits_passes(check: Check, value: Any) -> None:
    """By definition: the limits themselves belong to "0 or more" and to a range."""
    check("width", value, "m")


BAD: list[tuple[Check, Any, str, str]] = [
    (require_finite, math.nan, "nan", "a finite number"),
    (require_finite, -math.inf, "-inf", "a finite number"),
    (require_finite, np.array([1.0, math.inf]), "inf", "a finite number"),
    (require_positive, 0.0, "0", "greater than 0"),
    (require_positive, -1, "-1", "greater than 0"),
    (require_positive, math.nan, "nan", "greater than 0"),
    (require_positive, math.inf, "inf", "greater than 0"),
    (require_positive, np.array([1.0, -2.5, -3.0]), "-2.5", "greater than 0"),
    (require_positive, np.array([[1.0, 2.0], [math.nan, 4.0]]), "nan", "greater than 0"),
    (require_not_negative, -1e-9, "-1e-09", "0 or more"),
    (require_not_negative, math.nan, "nan", "0 or more"),
    (require_not_negative, [0.0, math.inf], "inf", "0 or more"),
    (within, 0.999, "0.999", "1 to 2"),
    (within, 2.001, "2.001", "1 to 2"),
    (within, math.nan, "nan", "1 to 2"),
    (within, np.array([1.0, 3.0]), "3", "1 to 2"),
]


@pytest.mark.parametrize(("check", "value", "shown", "must"), BAD)
def test_value_outside_limits_is_named_with_the_first_bad_number(
    check: Check, value: Any, shown: str, must: str
) -> None:
    """By definition: the message holds the first number that breaks the limit."""
    with pytest.raises(InputError) as caught:
        check("width", value, "m")

    assert str(caught.value) == f"width is {shown} m; it must be {must}"
    assert (caught.value.what, caught.value.unit) == ("width", "m")
