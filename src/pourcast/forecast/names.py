"""Names: what the caster calls a value that nobody knows exactly."""

from pourcast.speech import Heat, said

# By the last part of the key of an uncertain value.
_UNKNOWNS: dict[str, str] = {
    "D_O2_air_20": "how fast oxygen spreads in air",
    "D_exponent": "how much faster it spreads in the heat",
    "air_changes_closed": "air that the kiln changes",
    "air_changes_factor": "air that the kiln changes",
    "air_pressure": "air pressure",
    "ash": "ash that stays",
    "ash_bulk_density": "how loose ash lies",
    "boil_off_end": "heat at which the last wax boils off",
    "boil_off_start": "heat at which wax begins to boil off",
    "char_E": "heat that char needs to burn",
    "char_density": "density of char",
    "char_log10_A": "how fast char burns",
    "char_openness": "how open char is to air",
    "char_order_O2": "how much burning asks of the air",
    "char_share": "char that wax leaves",
    "char_yield": "char that is left",
    "choke_solid_fraction": "set share at which a way shuts",
    "compressive_2h": "strength of the set block",
    "contact_angle": "angle of the metal on the mould wall",
    "cp_burnt_mean_20_600": "heat that the block takes up",
    "controller_error": "reading of the kiln",
    "cp_gypsum": "heat that the set block takes up",
    "cp_liquid": "heat in the liquid metal",
    "cp_solid": "heat in the set metal",
    "density": "density",
    "density_dry": "density when dry",
    "density_melt": "density when molten",
    "density_fresh": "density when fresh",
    "density_liquid": "density of the liquid metal",
    "effusivity_burnt": "how fast the block draws heat",
    "emissivity_surface": "how the block takes up radiation",
    "emissivity_wall": "how the walls of the kiln radiate",
    "entry_loss": "push lost at the gate",
    "film_factor": "what the oxide film adds",
    "flask_gap": "gap between block and flask",
    "flask_heavy": "flask at the pour",
    "flask_light": "flask at the pour",
    "flask_medium": "flask at the pour",
    "flask_temperature": "flask at the pour",
    "flask_thermometer_error": "reading of the flask",
    "flask_very_thin": "flask at the pour",
    "free_water_kept": "water in the block as it goes in",
    "fork_loss": "push lost at a fork",
    "fs50": "temperature at which half is set",
    "gauge_error": "reading of the vacuum gauge",
    "h_convection_still": "heat from the air of the kiln",
    "heat_gypsum_to_hemihydrate": "heat that drives off the first bound water",
    "heat_hemihydrate_to_soluble_anhydrite": "heat that drives off the last bound water",
    "interface_heat_transfer": "heat from metal to mould face",
    "k_burnt_200": said("how well the block carries heat at {heat}", heat=Heat(473.15)),
    "k_burnt_400": said("how well the block carries heat at {heat}", heat=Heat(673.15)),
    "k_burnt_600": "how well the block carries heat",
    "k_burnt_700": said("how well the block carries heat at {heat}", heat=Heat(973.15)),
    "k_burnt_900": said("how well the block carries heat at {heat}", heat=Heat(1173.15)),
    "k_set_dry_20": "how well the dry set block carries heat",
    "k_wet_20": "how well the wet block carries heat",
    "kiln_gradient": "how uneven the kiln is",
    "k_liquid": "how well the liquid metal carries heat",
    "latent": "heat that setting sets free",
    "liquidus": "temperature at which setting begins",
    "measure_error": "error of the callipers",
    "member_thickness_scatter": "how much like parts differ",
    "metal_temperature": "metal at the pour",
    "metal_thermometer_error": "reading of the metal",
    "melt_end": "heat at which wax is molten",
    "melt_loss": "metal lost in the pot",
    "outside_inversions": "how much the block grows with heat",
    "oxygen_need": "air that wax burns with",
    "oxygen_need_dry": "air that the dry original burns with",
    "permeability_burnt": "how easily gas leaves through the block",
    "pour_rate": "how fast it is poured",
    "pour_temperature": "metal at the pour",
    "pump_time": "how fast the pump draws",
    "pyrolysis_end": "heat at which charring ends",
    "pyrolysis_start": "heat at which charring begins",
    "seal": "how well the flask seals",
    "soak_share": "wax that soaks into the block",
    "solidus": "temperature at which setting ends",
    "start_head": "metal in the cup when it runs in",
    "stream_loss": "heat lost on the way to the cup",
    "sulphate_carbon_E": "heat at which char attacks the block",
    "sulphate_carbon_log10_A": "how fast char attacks the block",
    "surface_tension": "pull of the metal's surface",
    "tension_ratio": "pull that the block bears, over push",
    "thin_section_factor": "what very thin ways add",
    "tip_stop_solid_fraction": "set share at which a tip stops",
    "tortuosity": "how winding its pores are",
    "vacuum": "vacuum below the air outside",
    "viscosity_liquidus": "thickness of the liquid metal",
    "viscosity_80": "thickness of molten wax",
    "wall_hole": "width of the holes in the flask",
    "wall_open_share": "how much of the flask is holes",
    "wall_roughness": "roughness of the mould wall",
    "water": "water in it",
    "water_of_dry": "water in a dry original",
    "youngs_dry": "stiffness of the set block",
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
    owner, _, last = key.rpartition(".")
    named = _UNKNOWNS.get(last, last.replace("_", " "))
    group, _, kept = owner.partition(".")
    # One piece can be made of several kinds of plant or wax.
    if group in ("plants", "waxes") and kept != "general":
        return named + f": {kept.replace('_', ' ')}"
    return named
