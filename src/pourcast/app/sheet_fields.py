"""Sheet fields: the boxes of the sheet of measures, in the order of the bench.

What a box takes, in which unit and within which limits, is that of
`pourcast.sheet.keys`; here stands only which boxes there are, in which order,
and which are put by for those who want them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from pourcast.sheet.keys import (
    ASSIST,
    BUTTON,
    FLASK,
    INVESTMENT,
    KILN,
    KILN_STEP,
    MEASURED,
    METAL,
    ORIGINAL,
    PART,
    STUDIO,
    TOP,
    VENT,
)
from pourcast.sheet.takes import Choice, Keys, Number, Takes

END = "end"
"""Last step of the name of the second box of a taper or a row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One box of the form.

    Parameters
    ----------
    name : str
        Path of its key with points: "part.0.length_mm".
    words : str
        Under which its words and drawing stand: "part.length_mm".
    takes : Takes
    further : bool
        True: put by, since it has a usual value.
    """

    name: str
    words: str
    takes: Takes
    further: bool

    @property
    def has_end(self) -> bool:
        """Whether it has a second box, for the other end."""
        return isinstance(self.takes, Number) and self.takes.taper

    @property
    def is_choice(self) -> bool:
        """Whether one of a few words is picked."""
        return isinstance(self.takes, Choice)

    @property
    def unit(self) -> str:
        """Unit of a plain number; "" where there is none."""
        return self.takes.unit if isinstance(self.takes, Number) else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Boxes that belong together.

    Parameters
    ----------
    key : str
        Section of the piece file; "" for its top.
    keys : mapping
    further : frozenset of str
        Keys that are put by.
    left_out : frozenset of str
        Keys without a box.
    """

    key: str
    keys: Keys
    further: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()


SECTIONS = (
    Section(key="", keys=TOP, left_out=frozenset({"invented"})),
    Section(
        key="button",
        keys=BUTTON,
        further=frozenset({"tilt_deg", "gate_diameter_mm", "top"}),
    ),
    Section(key="flask", keys=FLASK, further=frozenset({"wall_mm", "temperature_C"})),
    Section(key="metal", keys=METAL, further=frozenset({"on_hand_g", "returns_g", "poured_g"})),
    Section(key="investment", keys=INVESTMENT, further=frozenset({"powder"})),
    Section(
        key="assist",
        keys=ASSIST,
        further=frozenset({"pump_time_s", "lead_time_s", "seal"}),
    ),
    Section(
        key="kiln",
        keys=KILN,
        further=frozenset({"flasks", "air_changes_per_h", "dial_top", "dial_step"}),
    ),
    Section(key="original", keys=ORIGINAL),
    Section(key="measured", keys=MEASURED, further=frozenset(MEASURED)),
    Section(key="studio", keys=STUDIO, further=frozenset(STUDIO)),
)
"""Sections that stand once."""

_PART_ORDER = (
    "name",
    "on",
    "shape",
    "length_mm",
    "diameter_mm",
    "width_mm",
    "thickness_mm",
    "material",
    "count",
    "at",
    "angle_deg",
)
"""As a part is looked at; the rest follows in the order of the piece file."""

REPEATED: Mapping[str, Section] = {
    "part": Section(
        key="part",
        keys={key: PART[key] for key in (*_PART_ORDER, *PART)},
        further=frozenset(
            {
                "turn_deg",
                "turn_step_deg",
                "bend_deg",
                "coat_mm",
                "tip_on",
                "tip_at",
                "measure_error_percent",
            }
        ),
    ),
    "vent": Section(key="vent", keys=VENT),
    "kiln.step": Section(key="kiln.step", keys=KILN_STEP),
}
"""Sections that stand as often as there are parts, vents and steps."""

MOST = 200
"""Of each repeated section in the form; a piece file may hold more."""


def boxes(section: Section, place: int | None = None) -> tuple[Box, ...]:
    """Return the boxes of a section.

    Parameters
    ----------
    section : Section
    place : int or None
        Which one, of a repeated section.
    """
    before = section.key + "." if section.key else ""
    where = before if place is None else f"{before}{place}."
    return tuple(
        Box(
            name=where + key,
            words=(before or "top.") + key,
            takes=takes,
            further=key in section.further,
        )
        for key, takes in section.keys.items()
        if key not in section.left_out
    )
