"""Table: every sign that is known, in the order in which they are usual.

The order is an estimate for originals that were burnt out; no counted survey
was found.  The tells are common practice: they rank causes and prove none.
"""

from pourcast.signs.faces import FACES
from pourcast.signs.holes import HOLES
from pourcast.signs.model import Sign
from pourcast.signs.moved import MOVED
from pourcast.signs.short import SHORT

_USUAL = (
    "short_tip",
    "empty_beyond",
    "dark_holes",
    "pale_pits",
    "beads",
    "fins",
    "ragged_holes",
    "bent",
    "skin_holes",
    "short_button",
    "veins",
    "warts",
    "crusty",
    "lace",
    "blurred",
    "bright_holes",
    "round_hollow",
    "dross",
    "seam",
    "ragged_crack",
    "empty_mould",
    "dished",
    "clean_crack",
    "broken_off",
    "drained",
    "pink",
    "glassy",
)

_BY_KEY = {sign.key: sign for sign in (*SHORT, *HOLES, *FACES, *MOVED)}

SIGNS: dict[str, Sign] = {key: _BY_KEY[key] for key in _USUAL}
"""Key: sign, the commonest first."""

LOOKS_LIKE: dict[str, tuple[str, ...]] = {
    "short": ("short_tip", "empty_beyond"),
    "missing": ("empty_beyond", "broken_off", "short_tip"),
    "no button": ("short_button", "empty_mould"),
    "porosity": (
        "dark_holes",
        "pale_pits",
        "ragged_holes",
        "skin_holes",
        "bright_holes",
        "round_hollow",
        "dished",
    ),
    "flashing": ("fins",),
    "crack": ("ragged_crack", "clean_crack"),
    "dirt": ("dark_holes", "pale_pits"),
    "beads": ("beads",),
    "veins": ("veins",),
    "warts": ("warts",),
    "rough": ("crusty", "glassy"),
    "blurred": ("blurred",),
    "seam": ("seam",),
    "dross": ("dross",),
    "bent": ("bent",),
    "broken": ("broken_off",),
    "hollow": ("drained", "lace"),
}
"""A word of the book for what was seen: the signs that it may stand for."""
