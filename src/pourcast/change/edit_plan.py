"""Edit plan: an edit of a piece file, made in the records of its plan.

A change of the plan stands in two forms that must not differ: as `Edit` of the text,
which keeps the caster's comments, and as a plan to pour.  Where the text is there, the
changed text is read again; where it is not, the same edits are made in the records.
`tests/change/test_edit_plan.py` holds the two against each other.

Not made in the records: a new part, because the reader of the piece file fills in what
is left out there.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from pourcast import units as si
from pourcast.burnout.model import KilnStep
from pourcast.change.keys import PART, SECTIONS, STEP, VENT, Key
from pourcast.errors import InputError
from pourcast.piece.model import Piece, Vent
from pourcast.sheet import read_plan
from pourcast.sheet.edit import Edit, edited, puts_in
from pourcast.sheet.keys import bare
from pourcast.sheet.lines import Path
from pourcast.sheet.model import Plan


def setting(path: Path, value: object) -> tuple[Edit, ...]:
    """Return the edits that set one key, whether it was written with its unit in the key or not.

    Parameters
    ----------
    path : tuple of str and int
    value : number, word or None

    Returns
    -------
    tuple of Edit
        A text with its unit stands under the key without unit; it gives way.
    """
    short = bare(str(path[-1]))
    edits = (Edit(path=path, value=value),)
    return edits if short == path[-1] else (*edits, Edit(path=(*path[:-1], short), value=None))


def changed(plan: Plan, edits: Sequence[Edit], text: str | None = None) -> Plan:
    """Return the plan after edits of its piece file.

    Parameters
    ----------
    plan : Plan
    edits : sequence of Edit
    text : str, optional
        The piece file of the plan; None: the edits are made in the records.

    Returns
    -------
    Plan

    Raises
    ------
    SheetError
        If the changed file has a fault.
    InputError
        If a place is not known.
    """
    if text is not None:
        return read_plan(edited(text, edits))
    for edit in edits:
        plan = _made(plan, edit)
    return plan


def in_turn(edits: Sequence[Edit]) -> tuple[Edit, ...]:
    """Return the edits of several changes in an order in which none moves the place of another.

    Parameters
    ----------
    edits : sequence of Edit
        Each with places of the plan as it stands.

    Returns
    -------
    tuple of Edit
        What puts a table in or takes one away comes last, from the last place to the first.
    """
    moves = [edit for edit in edits if _moves_places(edit)]
    stays = [edit for edit in edits if not _moves_places(edit)]
    return (*stays, *sorted(moves, key=lambda edit: edit.path, reverse=True))


def _moves_places(edit: Edit) -> bool:
    return puts_in(edit) or (edit.value is None and isinstance(edit.path[-1], int))


def _made(plan: Plan, edit: Edit) -> Plan:
    path = edit.path
    if path == ("vent",) and isinstance(edit.value, Mapping):
        return _with_vents(plan, (*plan.piece.vents, _vent(edit.value)))
    if path[0] == "vent" and len(path) == 2 and edit.value is None:
        left = [vent for place, vent in enumerate(plan.piece.vents) if place != path[1]]
        return _with_vents(plan, tuple(left))
    if path[0] == "vent" and len(path) == 3 and path[2] in VENT:
        vents = list(plan.piece.vents)
        vents[int(path[1])] = _set(vents[int(path[1])], VENT[str(path[2])], edit.value)
        return _with_vents(plan, tuple(vents))
    if path == ("kiln", "step") and isinstance(edit.value, Mapping):
        steps = (*plan.kiln.steps, _step(edit.value))
        return replace(plan, kiln=replace(plan.kiln, steps=steps))
    if path[:2] == ("kiln", "step") and len(path) == 3:
        return _with_steps(plan, edit)
    if path[:2] == ("kiln", "step") and len(path) == 4 and path[3] in STEP:
        steps_ = list(plan.kiln.steps)
        steps_[int(path[2])] = _set(steps_[int(path[2])], STEP[str(path[3])], edit.value)
        return replace(plan, kiln=replace(plan.kiln, steps=tuple(steps_)))
    if path[0] == "part" and len(path) == 3 and (path[2] in PART or path[2] == "diameter_mm"):
        return _part(plan, edit)
    section = SECTIONS.get(str(path[0]), {})
    if len(path) == 2 and path[1] in section:
        return _section(plan, section[str(path[1])], edit.value)
    if edit.value is None and _is_short(path):
        return plan  # the key without its unit; the records do not know which was written
    raise InputError(
        "edit of a plan", ".".join(map(str, path)), "", "one that the records hold", "Give the text"
    )


def _with_steps(plan: Plan, edit: Edit) -> Plan:
    """Return the plan with one step more before a place, or without the one that is there."""
    steps, place = list(plan.kiln.steps), edit.path[2]
    most = len(steps) if isinstance(edit.value, Mapping) else len(steps) - 1
    if not isinstance(place, int) or not 0 <= place <= most:
        raise InputError("step of the kiln", str(place), "", f"a place from 0 to {most}")
    if isinstance(edit.value, Mapping):
        steps.insert(place, _step(edit.value))
    elif edit.value is None:
        del steps[place]
    else:
        raise InputError("step of the kiln", repr(edit.value), "", "a table, or nothing")
    return replace(plan, kiln=replace(plan.kiln, steps=tuple(steps)))


def _is_short(path: Path) -> bool:
    keys: Sequence[str]
    if path[0] == "part":
        keys = (*PART, "diameter_mm")
    elif path[:2] == ("kiln", "step"):
        keys = tuple(STEP)
    elif path[0] == "vent":
        keys = tuple(VENT)
    else:
        keys = tuple(SECTIONS.get(str(path[0]), {}))
    return path[-1] in {bare(key) for key in keys}


def _section(plan: Plan, key: Key, value: Any) -> Plan:
    if key.record == "button":
        button = _set(plan.piece.button, key, value)
        return replace(plan, piece=replace(plan.piece, button=button))
    record = getattr(plan, key.record)
    return replace(plan, **{key.record: _set(record, key, value)})


def _part(plan: Plan, edit: Edit) -> Plan:
    named, last = edit.path[1], str(edit.path[2])
    fields = ("width_mm", "thickness_mm") if last == "diameter_mm" else (last,)
    parts = list(plan.piece.parts)
    places = [place for place, part in enumerate(parts) if named in (part.name, place)]
    if len(places) != 1:
        raise InputError("part", str(named), "", "the name of one part of the piece")
    for field in fields:
        parts[places[0]] = _set(parts[places[0]], PART[field], edit.value)
    piece = replace(plan.piece, parts=tuple(parts))
    if places[0] == 0:
        piece = _gate_follows(plan, piece)
    return replace(plan, piece=piece)


def _gate_follows(plan: Plan, piece: Piece) -> Piece:
    """Let the gate grow with the base of the first rod, as the reader does."""
    before, after, button = plan.piece.parts[0], piece.parts[0], piece.button
    if before.shape != "rod":
        return piece
    was, now = (float(part.width[0] + 2.0 * part.coat) for part in (before, after))
    if button.gate_diameter != min(was, button.diameter):
        return piece
    return replace(piece, button=replace(button, gate_diameter=min(now, button.diameter)))


def _set(record: Any, key: Key, value: Any) -> Any:
    return replace(record, **{key.field: _in_si(value, key)})


def _in_si(value: Any, key: Key) -> Any:
    if value is None or key.unit is None:
        return value
    if key.unit != "-" and isinstance(value, (list, tuple)):
        return tuple(si.to_si(float(each), key.unit) for each in value)
    pair = key.field in ("width", "thickness")
    number = float(value) if key.unit == "-" else si.to_si(float(value), key.unit)
    return (number, number) if pair else number


def _vent(table: Mapping[str, Any]) -> Vent:
    return Vent(**{VENT[key].field: _in_si(value, VENT[key]) for key, value in table.items()})


def _step(table: Mapping[str, Any]) -> KilnStep:
    known = {"ramp": None, "hold": 0.0}
    known |= {STEP[key].field: _in_si(value, STEP[key]) for key, value in table.items()}
    return KilnStep(**known)  # type: ignore[arg-type]


def _with_vents(plan: Plan, vents: tuple[Vent, ...]) -> Plan:
    return replace(plan, piece=replace(plan.piece, vents=vents))
