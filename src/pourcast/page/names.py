"""What the caster calls it: outcomes, causes, levels and uncertain values."""

from pourcast.findings import Level
from pourcast.forecast.names import unknown_name as plain_name
from pourcast.page.figures import clean
from pourcast.pour.model import Cause
from pourcast.speech import CELSIUS, Speech

OUTCOMES: tuple[str, str, str, str] = (
    "whole",
    "with up to three short tips",
    "with parts short",
    "lost",
)
"""How a pour ends, the best first; in the order of `Outcomes`."""

CAUSES: dict[Cause, str] = {
    "cold": "freezes first",
    "capillary": "surface pushes back",
    "choke": "choked",
    "gas": "trapped gas",
    "head": "too little push",
    "no_metal": "no metal left",
}
"""What stops the metal, as it stands in the table."""

CAUSE_SENTENCES: dict[Cause, str] = {
    "cold": "the metal sets before it reaches the ends",
    "capillary": "so thin a way is closed by the surface of the metal, which pushes back",
    "choke": "the way in shuts with set metal while the far end still waits",
    "gas": "gas that cannot get out holds the metal back",
    "head": "there is too little push behind the metal",
    "no_metal": "the cup runs out of metal",
}
"""The same as the end of a sentence."""

LEVELS: dict[Level, str] = {"STOP": "stop", "WATCH": "watch", "GOOD": "good"}
"""The word for each level, the gravest first."""

STAGES: dict[str, str] = {
    "piece": "bench",
    "mould": "mix",
    "burnout": "burn",
    "melt": "melt",
    "pour": "pour",
    "freeze": "freeze",
    "finish": "break-out",
}
"""Name of a stage's place in the day; others keep their own name."""


def unknown_name(key: str, speech: Speech = CELSIUS) -> str:
    """Return what an uncertain value is called, without signs that would steer the page.

    Examples
    --------
    >>> unknown_name("pour.film_factor"), unknown_name("kiln.draught_height")
    ('what the oxide film adds', 'draught height')
    """
    return clean(speech.text(plain_name(key)))


def in_words(key: str) -> str:
    """Return a key of the values in plain words: "si_bronze_c87300" as "si bronze c87300"."""
    return clean(key.replace("_", " "))
