"""Words of the book: what a caster may say of an outcome, a lot or a cost.

The keys are stored and stay for good; a new one may be added.  What is seen at
the break-out and what it is called are common practice, no source.
"""

from typing import Literal

State = Literal["filled", "short", "missing", "not seen"]

STATES: dict[str, str] = {
    "filled": "every member of the part is whole",
    "short": "metal came, and stopped before the end",
    "missing": "nothing of it is there",
    "not seen": "could not be looked at; it counts for nothing",
}

SIGNS: dict[str, str] = {
    "porosity": "holes or pits in the metal",
    "flashing": "thin sheets or fins that stand on the work",
    "crack": "a crack, or a part that snapped",
    "dirt": "ash, char or mould dust in the face",
    "beads": "small round balls of metal",
    "veins": "raised streaks up the faces",
    "warts": "lumps with a rough foot, where mould flaked off",
    "rough": "a grainy or crusty skin",
    "blurred": "fine detail gone, or a part grown thick",
    "seam": "a line with rounded lips where two streams met",
    "dross": "dull, wrinkled skin carried in with the metal",
    "bent": "a part that lies over",
    "broken": "a part that broke off; its mould scar or stub is there",
    "hollow": "skin there, inside empty",
}
"""What is seen on a casting, in our own words; the first four are asked for by name."""

SIGN_AMOUNTS: dict[str, str] = {"some": "a few", "many": "many, or all over"}

BUTTONS: dict[str, str] = {
    "full": "full, with a flat top",
    "sunk": "sunk deep in the middle",
    "porous": "full of holes",
    "none": "no button left",
}

SURE: dict[str, float] = {"guessed": 0.6, "fairly": 0.8, "sure": 0.95, "weighed": 0.99}
"""How sure an outcome is, 0 to 1; estimates.  Learning uses them, no score does."""

WALLS: dict[str, str] = {"solid": "steel without holes", "perforated": "steel with holes"}

PICTURE_KINDS: tuple[str, ...] = ("png", "jpg", "webp")

GAUGE = "vacuum_kPa"
"""What the gauge of the pump shows, among the readings."""

READINGS: dict[str, tuple[str, float, float]] = {
    "kiln_C": ("air of the kiln", -30.0, 1300.0),
    "wall_C": ("wall of the flask", -30.0, 1300.0),
    "core_C": ("inside the block", -30.0, 1300.0),
    "metal_C": ("metal in the pot", -30.0, 1500.0),
    "room_C": ("air of the room", -40.0, 60.0),
    GAUGE: ("vacuum below the air outside", 0.0, 110.0),
    "poured_g": ("metal poured", 0.0, 1e6),
}
"""What is read on the day, and within which limits; the limits tell a slip from a reading."""

BEGAN = "began"
"""The act that makes a pour a kiln day."""

DAY_ACTS: dict[str, str] = {
    BEGAN: "the block went into the kiln",
    "turned": "the dial was turned",
    "out": "the flask was taken out",
    "blew": "the cavity was blown out",
    "in": "the flask went back in",
    "sealed": "the flask was set down and sealed",
    "lit": "the furnace was lit",
    "molten": "the metal was at its heat",
    "poured": "it was poured",
    "quenched": "it was quenched",
    "right": "a reading that was questioned is right",
    "wrong": "a reading is wrong",
    "taken back": "an entry was made by mistake",
}
"""What is done on the day of a pour."""

LotKind = Literal["metal", "powder", "wax"]
LOT_KINDS: tuple[str, ...] = ("metal", "powder", "wax")

MOVES: dict[str, int] = {"bought": 1, "taken": -1, "returned": 1, "lost": -1, "found": 1}
"""What changes a lot, and with which sign.  "found": more on the scales than in the book."""

COST_KINDS: tuple[str, ...] = ("gas", "power", "hours", "other")

TEST_KINDS: dict[str, str] = {
    "pull-down": "a blank burnt flask on the pump: how easily gas leaves through the block",
    "fan": "strips and rods of wax that are cast: how far the metal runs",
    "block": "a block weighed before and after it dried: how much water it held",
    "day": "a logged day of the kiln: what it loses, and what each place of the dial heats",
}
"""What a studio can try on purpose."""

ROLES: dict[str, str] = {
    "owner": "may do everything, and says who else may do what",
    "maker": "makes pieces, plans, days and outcomes",
    "reader": "looks and prints, and changes nothing",
}
"""What a person may be in a shared book."""

LEARN_ACTS: dict[str, str] = {
    "learnt": "outcomes and tests were weighed",
    "off": "forecasts take the book of values alone",
    "on": "forecasts take what was learnt again",
    "reset": "what was entered before counts for nothing more",
}
"""What may be done with what was learnt; each act is a row, and the last one holds."""
