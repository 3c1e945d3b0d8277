"""Parts fields: each part that was found, with boxes for its name, its sizes and what it is.

The boxes hold what was put right before.  A box that is left as it was says nothing, so
that the next scan of the same piece is measured anew but for what the caster has said.
What a group of the corrections file says stays with the group.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from pourcast import units as si
from pourcast.app.look import Look
from pourcast.app.reading import plain_number
from pourcast.app.taking import Measured
from pourcast.app.words import say
from pourcast.errors import InputError
from pourcast.materials import library
from pourcast.trade_units import read

if TYPE_CHECKING:
    from pourcast.scan.corrections import Corrections
    from pourcast.scan.model import Correction, ScannedPart

FATES = ("", "drop", "join", "keep")
"""Nothing said; not there; a piece of what it grows on; there, though a group takes it away."""

SIZES = ("length", "width", "thickness")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """One part as its row of the page shows it.

    Parameters
    ----------
    number : int
    name : str
        As it was found.
    on : str
        What it grows on, as it was found; "": the button.
    shape : {"rod", "blade", "lump"}
    sizes : dict of str to str
        As measured, with their unit, by the names of `SIZES`.
    boxes : dict of str to str
        What stands in each box.
    grouped : bool
        True if a group of the corrections takes it away.
    """

    number: int
    name: str
    on: str
    shape: str
    sizes: Mapping[str, str]
    boxes: Mapping[str, str]
    grouped: bool

    @property
    def touched(self) -> bool:
        """Whether anything was put right."""
        return any(self.boxes.values())


def rows_of(
    measured: Measured, corrections: "Corrections", look: Look, typed: Mapping[str, str] | None
) -> list[PartRow]:
    """Return the rows of all parts.

    Parameters
    ----------
    measured : Measured
    corrections : tuple of (Correction or Group)
        That were made.
    look : Look
    typed : dict of str to str or None
        What was typed, by box and number of the part; None: nothing yet.
    """
    own, gone, _ = _apart(measured, corrections)
    rows = []
    for k, part in enumerate(measured.parts):
        boxes = _boxes(own.get(k), look, grouped=k in gone)
        if typed is not None:
            boxes = {box: typed.get(f"{box}-{k}", "") for box in boxes}
        rows.append(
            PartRow(
                number=k,
                name=part.name,
                on=measured.parts[part.parent].name if part.parent >= 0 else "",
                shape=part.shape,
                sizes={
                    "length": look.length(part.length),
                    "width": _told(part.width, look),
                    "thickness": _told(part.thickness, look),
                },
                boxes=boxes,
                grouped=k in gone,
            )
        )
    return rows


def read_parts_form(
    fields: Mapping[str, str], measured: Measured, corrections: "Corrections", look: Look
) -> "tuple[Corrections, Mapping[str, str]]":
    """Return the corrections that a form says, and what is wrong by the name of its box.

    Parameters
    ----------
    fields : dict of str to str
        As they were typed, by box and number of the part: "name-3".
    measured : Measured
    corrections : tuple of (Correction or Group)
        That were made before: their groups stay, and what found no part.
    look : Look

    Returns
    -------
    tuple of (Correction or Group)
    dict of str to str
        With any, the corrections say nothing.
    """
    own, gone, rest = _apart(measured, corrections)
    faults: dict[str, str] = {}
    made: list[Correction] = []
    for k, part in enumerate(measured.parts):
        before = own.get(k)
        stood = _boxes(before, look, grouped=k in gone)
        boxes = {box: fields.get(f"{box}-{k}", "").strip() for box in stood}
        if boxes != stood:
            said = _read(part, boxes, k, look, faults)
            if k in gone and not boxes["fate"]:
                said = replace(said, drop=gone[k].drop, join=gone[k].join)
            if any(boxes.values()):
                made.append(said)
        elif before is not None:
            # Left as it stands: figures that the page rounds are not rounded again.
            made.append(before)
    return (*made, *rest), faults


def _apart(
    measured: Measured, corrections: "Corrections"
) -> "tuple[dict[int, Correction], dict[int, Correction], Corrections]":
    """Return what was said of single parts, what groups take away, and all the rest."""
    from pourcast.scan.corrections import chosen_of
    from pourcast.scan.groups import Group

    groups = tuple(one for one in corrections if isinstance(one, Group))
    single = tuple(one for one in corrections if not isinstance(one, Group))
    own, lost = chosen_of(measured.parts, single)
    by_group, _ = chosen_of(measured.parts, groups)
    gone = {k: one for k, one in by_group.items() if one.drop or one.join}
    return own, gone, (*lost, *groups)


def _boxes(one: "Correction | None", look: Look, *, grouped: bool) -> dict[str, str]:
    if one is None:
        return dict.fromkeys(("name", "fate", *SIZES, "material"), "")
    return {
        "name": one.name or "",
        "fate": "drop" if one.drop else "join" if one.join else "keep" if grouped else "",
        "length": "" if one.length is None else _written((one.length,) * 2, look),
        "width": "" if one.width is None else _written(one.width, look),
        "thickness": ""
        if one.thickness is None or one.thickness == one.width
        else _written(one.thickness, look),
        "material": one.material or "",
    }


def _told(pair: tuple[si.Metre, si.Metre], look: Look) -> str:
    """Return a size as it is shown: of a taper that of base and tip."""
    base, tip = map(look.length, pair)
    return base if base == tip else say("taken.part.taper", base=base, tip=tip)


def _written(pair: tuple[si.Metre, si.Metre], look: Look) -> str:
    """Return a size, or base and tip of a taper, as it is typed."""
    figures = [look.figures(f"{si.from_si(size, look.lengths):.4g}") for size in pair]
    return "; ".join(dict.fromkeys(figures))


def _read(
    part: "ScannedPart",
    boxes: Mapping[str, str],
    k: int,
    look: Look,
    faults: dict[str, str],
) -> "Correction":
    from pourcast.scan.correction_faults import LONGEST_NAME
    from pourcast.scan.model import Correction

    sizes: dict[str, tuple[si.Metre, si.Metre] | None] = {}
    for box in SIZES:
        sizes[box] = None
        try:
            sizes[box] = _pair(box, boxes[box], look) if boxes[box] else None
        except InputError as fault:
            faults[f"{box}-{k}"] = str(fault)
    name, material, fate = boxes["name"], boxes["material"], boxes["fate"]
    if len(name) > LONGEST_NAME or not name.isprintable():
        must = f"up to {LONGEST_NAME} characters on one line"
        faults[f"name-{k}"] = str(InputError(say("taken.part.name"), name[:40], "", must))
    if material and material not in {*library().organs, *library().waxes}:
        faults[f"material-{k}"] = str(InputError("material", material[:40], "", "one of the list"))
    if fate not in FATES:
        faults[f"fate-{k}"] = str(InputError("part", fate[:40], "", "one of the list"))
    # A rod and a round lump have one size across; their thickness is their width.
    round_ = part.shape != "blade" and part.width == part.thickness
    length = sizes["length"]
    return Correction(
        at=part.line[len(part.line) // 2],
        name=name or None,
        material=material or None,
        length=None if length is None else length[0],
        width=sizes["width"],
        thickness=sizes["thickness"] or (sizes["width"] if round_ else None),
        drop=fate == "drop",
        join=fate == "join",
    )


def _pair(box: str, written: str, look: Look) -> tuple[si.Metre, si.Metre]:
    from pourcast.scan.correction_faults import LEAST_MM, MOST_MM

    what = say(f"taken.part.{box}")
    words = [word.strip() for word in written.split(";")]
    most = 1 if box == "length" else 2
    if len(words) > most:
        must = "one number" if most == 1 else "one number, or base and tip such as 1.2; 0.8"
        raise InputError(what, written[:40], "", must)
    sizes = []
    for word in words:
        try:
            size = read(plain_number(word, look), "length", default_unit=look.lengths)
        except InputError as fault:
            raise InputError(what, written[:40], "", fault.must, fault.hint) from None
        if not LEAST_MM <= si.from_si(size, "mm") <= MOST_MM:
            raise InputError(what, written[:40], "", f"{LEAST_MM:g} to {MOST_MM:g} mm")
        sizes.append(size)
    return sizes[0], sizes[-1]
