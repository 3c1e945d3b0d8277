"""Tells: what a pour should have on record, as a question with the answer yes or no."""

from pourcast import units as si
from pourcast.signs.model import Tell
from pourcast.speech import Heat, Heats, said

_TOP: si.Kelvin = 1003.15
"""730 °C, the usual top of a burnout (record "burnout_peak_default", held against it by a test)."""

TOO_HOT: si.Kelvin = 1008.15
"""735 °C, over which a burnout was hotter than any that is usual: the high end of that record."""

_CHAR_BURNS_FROM: si.Kelvin = 948.15
"""675 °C, from which the trade burns plants; common practice, no source."""

BOILING: si.Kelvin = 373.15
"""100 °C, at which water boils at the usual air."""

SILICA: tuple[si.Kelvin, si.Kelvin] = (493.15, 543.15)
"""220 to 270 °C, where cristobalite changes size; from memory."""

DRYING: tuple[si.Kelvin, si.Kelvin] = (393.15, 423.15)
"""120 to 150 °C, at which a block is held to dry; common practice, no source."""

CAP = said("Cap the burnout at {top}.", top=Heat(_TOP))
"""What is to be done where the sulphate of the block broke down."""

CHAR_BURNS = Heats(_CHAR_BURNS_FROM, TOO_HOT)
"""At which the trade burns plants."""

TELLS: dict[str, str] = {
    "far": "Do the short parts lie farther from the gate than the full ones?",
    "thin": "Is every part under one thickness short, and every thicker one full?",
    "blind": "Are blind ends short, and vented or open ends full?",
    "bright_end": "Is the end smooth, rounded and bright?",
    "black_end": "Is there black or crumbling matter at the end?",
    "mould_at_end": "Does a piece of mould sit where the metal stopped?",
    "cold_flask": "Was the flask colder than planned at the pour?",
    "cold_metal": "Was the metal colder than planned, or the pour slow?",
    "all_weighed": "Does all the metal weigh what was melted, less the usual loss?",
    "metal_outside": "Is there metal in the chamber, or outside the block?",
    "gauge_low": "Did the gauge stand low, or fall, when the vacuum came on?",
    "gauge_fell": "Did the gauge or the level of the button fall before the metal set?",
    "end_hole": "Is there a hole in the far end of the block?",
    "dried_block": "Did the block stand open to dry for more than a day before the kiln?",
    "fast_heat": "Did the kiln rise faster than the plan?",
    "fins_radial": "Are there many fins, and do they run outwards from the work?",
    "one_fin": "Is it one flat fin?",
    "fins_near_gate": "Do the fins stand near the gate only?",
    "moved_early": "Was the flask moved within half an hour of the pour of the slurry?",
    "under_ledges": "Are they under ledges only?",
    "dry_surface": "Was the original invested without a wetting film?",
    "weak_pump": "Did the slurry not boil under the vacuum?",
    "put_down_early": "Was the flask still well before the gloss went off?",
    "put_down_late": "Was the flask still moved after the slurry had begun to thicken?",
    "more_water": "Was more water taken than the plan has, or was it not weighed?",
    "sharp_joint": "Do they sit by joints without a fillet?",
    "broad_patches": "Are they broad patches?",
    "old_powder": "Was the powder damp, lumpy or over a year old?",
    "flakes": "Did flakes of mould come off with it?",
    "sulphur_skin": "Is the skin grey or black, with a smell of sulphur?",
    "hot_block": said("Did the kiln or block pass {hottest}?", hottest=Heat(TOO_HOT)),
    "heavy_only": "Is it on heavy parts only?",
    "hot_metal": "Was the metal hotter than planned?",
    "thirsty": "Was that part dry wood or a seed head, without a seal?",
    "wax_sharp": "Is the wax next to it sharp?",
    "black_dust": "Is there black dust in the holes?",
    "in_the_thick": "Are they in the thickest organ of the original?",
    "char_expected": "Did the forecast leave char, or was the burnout cut short?",
    "told_cold": "Did the forecast have cold metal stop that part first of all?",
    "told_gas": "Did the forecast have trapped gas stop that part first of all?",
    "told_fine": "Did the forecast have that part too fine for the push of the metal?",
    "told_choke": "Did the forecast have the metal choke in a neck before that part?",
    "low_pockets": "Do they sit in pockets that lay low in the kiln?",
    "blown_hard": "Was the cavity blown out hard?",
    "button_porous": "Is the button full of holes too?",
    "button_full": "Is the button full, with a flat top?",
    "button_sunk": "Is the button sunk deep?",
    "no_button": "Is there no button left?",
    "many_remelts": "Has some of the metal been melted three times or more?",
    "long_melt": "Was the melt long, smoky or overheated?",
    "last_to_freeze": "Do they sit where the forecast has the metal freeze last?",
    "thick_end": "Is the block thick over that end, without a vent?",
    "streams_meet": "Do two ways of the metal meet there?",
    "broken_stream": "Did the stream break during the pour?",
    "coloured_crack": "Are the faces of the crack oxidised or coloured?",
    "held_ends": "Is it at a thin part that is held at both ends?",
    "all_brittle": "Is the whole piece brittle?",
    "early_quench": "Did it go into water while the button still glowed, or before the window?",
    "lead": "Does the metal hold lead, or returns that nobody knows?",
    "hard_tools": "Was it broken out with a hard tool or a hard jet?",
    "one_way": "Are all of them bent one way, in a smooth curve?",
    "foot_or_stub": "Is there a stub, or was the part found in the slime?",
    "faces_up": "Is it on faces that were up at the pour?",
    "film_alloy": "Does the alloy hold silicon or aluminium?",
    "before_pickle": "Was it there before the pickle?",
    "iron_in_pickle": "Was there iron in the pickle?",
    "zinc_alloy": "Does the alloy hold much zinc or silicon?",
}
"""Key: the question.  Yes and no are the only answers; left out is not known."""


def speaks(yes: str = "", no: str = "") -> tuple[Tell, ...]:
    """Return tells from their keys, parted by blanks: those that should be so, and those not."""
    return (
        *(Tell(key=key, expected="yes") for key in yes.split()),
        *(Tell(key=key, expected="no") for key in no.split()),
    )
