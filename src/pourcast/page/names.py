"""What the caster calls it: outcomes, causes, levels and uncertain values."""

from pourcast.findings import Level
from pourcast.page.figures import clean
from pourcast.pour.model import Cause

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
    "melt": "melt",
    "pour": "pour",
}
"""Name of a stage's place in the day; others keep their own name."""

# By the last part of the key of an uncertain value.
_UNKNOWNS: dict[str, str] = {
    "air_pressure": "air pressure",
    "choke_solid_fraction": "set share at which a way shuts",
    "contact_angle": "angle of the metal on the mould wall",
    "cp_burnt_mean_20_600": "heat that the block takes up",
    "cp_liquid": "heat in the liquid metal",
    "cp_solid": "heat in the set metal",
    "density_liquid": "density of the liquid metal",
    "effusivity_burnt": "how fast the block draws heat",
    "entry_loss": "push lost at the gate",
    "film_factor": "what the oxide film adds",
    "flask_temperature": "flask at the pour",
    "flask_thermometer_error": "reading of the flask",
    "fork_loss": "push lost at a fork",
    "fs50": "temperature at which half is set",
    "gauge_error": "reading of the vacuum gauge",
    "interface_heat_transfer": "heat from metal to mould face",
    "latent": "heat that setting sets free",
    "liquidus": "temperature at which setting begins",
    "measure_error": "error of the callipers",
    "member_thickness_scatter": "how much like parts differ",
    "metal_temperature": "metal at the pour",
    "metal_thermometer_error": "reading of the metal",
    "melt_loss": "metal lost in the pot",
    "permeability_burnt": "how easily gas leaves through the block",
    "pour_rate": "how fast it is poured",
    "pour_temperature": "metal at the pour",
    "pump_time": "how fast the pump draws",
    "seal": "how well the flask seals",
    "solidus": "temperature at which setting ends",
    "start_head": "metal in the cup when it runs in",
    "stream_loss": "heat lost on the way to the cup",
    "surface_tension": "pull of the metal's surface",
    "thin_section_factor": "what very thin ways add",
    "tip_stop_solid_fraction": "set share at which a tip stops",
    "vacuum": "vacuum below the air outside",
    "viscosity_liquidus": "thickness of the liquid metal",
    "wall_roughness": "roughness of the mould wall",
}


def unknown_name(key: str) -> str:
    """Return what an uncertain value is called; its own key in words if none is kept.

    Examples
    --------
    >>> unknown_name("pour.film_factor"), unknown_name("kiln.draught_height")
    ('what the oxide film adds', 'draught height')
    """
    last = key.rpartition(".")[2]
    return _UNKNOWNS.get(last, clean(last.replace("_", " ")))


def in_words(key: str) -> str:
    """Return a key of the values in plain words: "si_bronze_c87300" as "si bronze c87300"."""
    return clean(key.replace("_", " "))
