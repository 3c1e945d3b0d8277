"""Own values: what this studio puts in the place of a value of the book of values.

Each has a range and a note that says where it comes from.  A forecast takes
those that its plan draws; the others have no part in it.
"""

import json
import math
import threading
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from pourcast.app.keep import replace_text
from pourcast.errors import InputError
from pourcast.forecast.burnout_unknowns import burnout_unknowns
from pourcast.forecast.model import Calibration, Override
from pourcast.forecast.unknowns import unknowns
from pourcast.materials import library
from pourcast.materials.model import Value, Written
from pourcast.piece.measure import measure
from pourcast.piece.network import build
from pourcast.sheet import new_sheet, read_plan
from pourcast.sheet.model import Plan

LONGEST_NOTE = 500
NAME = "own values"
SOURCE = "own value of this studio"

_ANY_KILN = 0.03  # m³; only that there is one counts here
_ANY_HEAT = 873.0  # K; the same
_ANY_RATE = 1e-3  # 1/s; the same
_THIN = 1e-4  # m; so thin that all that is drawn for thin sections is drawn


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnValue:
    """A value of this studio, in the unit of its record.

    Parameters
    ----------
    key : str
        Of the record that it stands for.
    value, low, high : float [as written]
    note : str
        Where it comes from; never empty.
    at : str
        When it was entered, in universal time.
    """

    key: str
    value: Written
    low: Written
    high: Written
    note: str
    at: str


class OwnValues:
    """The file of own values.

    Parameters
    ----------
    path : Path
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._lock = threading.Lock()

    def all(self) -> Mapping[str, OwnValue]:
        """Return the own values by key."""
        try:
            kept = json.loads(self._path.read_text("utf-8"))
        except FileNotFoundError:
            return {}
        return {key: OwnValue(**fields) for key, fields in kept.items()}

    def put(self, key: str, *, value: Written, low: Written, high: Written, note: str) -> OwnValue:
        """Keep an own value in the place of that of the book.

        Raises
        ------
        InputError
            If no forecast draws the key, the range does not hold the value, or
            the note is empty.
        """
        record = drawn_values().get(key)
        if record is None:
            raise InputError("value", key[:100], "", "one that a forecast draws")
        _require_range(record, value, low, high)
        if not note.strip() or len(note) > LONGEST_NOTE:
            must = f"1 to {LONGEST_NOTE} characters"
            raise InputError("note", f"of {len(note.strip())} characters", "", must)
        made = OwnValue(
            key=key,
            value=value,
            low=low,
            high=high,
            note=note.strip(),
            at=datetime.now(UTC).isoformat(timespec="seconds"),
        )
        with self._lock:
            self._write({**self.all(), key: made})
        return made

    def drop(self, key: str) -> None:
        """Go back to the value of the book."""
        with self._lock:
            self._write({name: own for name, own in self.all().items() if name != key})

    def calibration(self, plan: Plan) -> Calibration | None:
        """Return the own values that a plan draws; None where there are none."""
        own = self.all()
        if not own:
            return None
        drawn = self.drawn_by(plan)
        overrides = tuple(
            Override(
                key=key,
                value=kept.value,
                low=kept.low,
                high=kept.high,
                source=f"{SOURCE}: {kept.note}",
            )
            for key, kept in sorted(own.items())
            if key in drawn
        )
        return Calibration(name=NAME, overrides=overrides) if overrides else None

    @staticmethod
    def drawn_by(plan: Plan) -> frozenset[str]:
        """Return the keys of the values that the forecast of a plan varies."""
        return frozenset(value.key for value in _drawn_by(plan).values())

    def _write(self, own: Mapping[str, OwnValue]) -> None:
        tree = {key: asdict(kept) for key, kept in sorted(own.items())}
        replace_text(self._path, json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False))


def _drawn_by(plan: Plan) -> Mapping[str, Value]:
    network = build(plan.piece)
    book = library()
    return unknowns(
        plan, book.alloy(plan.charge.alloy), book, measure(plan.piece, network).thinnest, None
    )


@cache
def drawn_values() -> Mapping[str, Value]:
    """Return every value that a forecast may draw, of any alloy, plant and wax, by key."""
    book = library()
    usual = read_plan(new_sheet("any"))
    first = usual.piece.parts[0]
    burning = replace(usual, kiln=replace(usual.kiln, volume=_ANY_KILN))
    # A flask whose heat is read, and a kiln whose air is known, draw errors of their own.
    read = replace(usual, flask=replace(usual.flask, temperature=_ANY_HEAT))
    aired = replace(burning, kiln=replace(burning.kiln, air_changes=_ANY_RATE))
    found: dict[str, Value] = {}
    for name in book.alloys:
        # Without a kiln the heat of the flask is drawn, with it the burnout is.
        for plan in (usual, burning, read, aired):
            drawn = unknowns(plan, book.alloy(name), book, _THIN, None)
            found |= {value.key: value for value in drawn.values()}
    for name in (*book.organs, *book.waxes):
        for state in (None, "fresh"):
            plan = replace(
                burning,
                piece=replace(usual.piece, parts=(replace(first, material=name),)),
                original=replace(usual.original, state=state),
            )
            found |= burnout_unknowns(plan, book)
    return found


def _require_range(record: Value, value: Written, low: Written, high: Written) -> None:
    for number in (value, low, high):
        if not math.isfinite(number):
            raise InputError(record.key, number, record.unit, "a finite number")
        if record.low > 0.0 and number <= 0.0:
            raise InputError(record.key, f"{number:g}", record.unit, "greater than 0")
    if not low <= value <= high:
        must = f"within its range, {low:g} to {high:g}"
        raise InputError(record.key, f"{value:g}", record.unit, must)
