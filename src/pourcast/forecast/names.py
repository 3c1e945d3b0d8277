"""Names: what the caster calls a value that nobody knows exactly."""

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
    "flask_heavy": "flask at the pour",
    "flask_light": "flask at the pour",
    "flask_medium": "flask at the pour",
    "flask_temperature": "flask at the pour",
    "flask_thermometer_error": "reading of the flask",
    "flask_very_thin": "flask at the pour",
    "fork_loss": "push lost at a fork",
    "fs50": "temperature at which half is set",
    "gauge_error": "reading of the vacuum gauge",
    "interface_heat_transfer": "heat from metal to mould face",
    "k_burnt_600": "how well the block carries heat",
    "k_liquid": "how well the liquid metal carries heat",
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

    Parameters
    ----------
    key : str
        Such as "pour.film_factor"; its last part counts.

    Returns
    -------
    str

    Examples
    --------
    >>> unknown_name("pour.film_factor"), unknown_name("kiln.draught_height")
    ('what the oxide film adds', 'draught height')
    """
    last = key.rpartition(".")[2]
    return _UNKNOWNS.get(last, last.replace("_", " "))
