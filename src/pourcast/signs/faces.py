"""Faces: signs on the skin of a casting, and what may be behind them."""

from pourcast.signs.model import Cause, Sign
from pourcast.signs.tells import BOILING, CAP, SILICA, speaks
from pourcast.speech import Heat, Heats, said

FACES = (
    Sign(
        key="fins",
        text="thin sheets stand on the work",
        causes=(
            Cause(
                key="heat_cracks",
                text="Heat cracked the block.",
                remedy=said(
                    "Rise slower, most of all through {boiling} and from {silica}.",
                    boiling=Heat(BOILING),
                    silica=Heats(*SILICA),
                ),
                tells=speaks("fins_radial fast_heat", "one_fin moved_early"),
            ),
            Cause(
                key="dry_cracks",
                text="The block dried out before the kiln and cracked.",
                remedy="Load the kiln after two hours, or keep the block damp.",
                tells=speaks("fins_radial dried_block"),
            ),
            Cause(
                key="moved",
                text="The flask was moved while the slurry set.",
                remedy="Leave it alone for half an hour.",
                tells=speaks("one_fin moved_early", "fins_radial"),
            ),
            Cause(
                key="shock",
                text="Cold, or too deep a vacuum, cracked the block at the pour.",
                remedy="Carry faster, and draw the vacuum less deep.",
                tells=speaks("fins_near_gate", "fast_heat moved_early"),
            ),
        ),
    ),
    Sign(
        key="beads",
        text="small round beads of metal",
        causes=(
            Cause(
                key="trapped_bubbles",
                text="Bubbles stayed under ledges of the original.",
                remedy="Tilt the original so that no underside lies level.",
                tells=speaks("under_ledges", "weak_pump"),
            ),
            Cause(
                key="pump",
                text="The vacuum did not take the air out of the slurry.",
                remedy="Check the pump: the slurry must boil.",
                tells=speaks("weak_pump", "under_ledges"),
            ),
            Cause(
                key="not_wetted",
                text="The slurry did not wet the original.",
                remedy="Brush a wetting film on just before the slurry.",
                tells=speaks("dry_surface", "under_ledges"),
            ),
        ),
    ),
    Sign(
        key="veins",
        text="raised streaks run up the upright faces",
        causes=(
            Cause(
                key="early_down",
                text="Water parted from a slurry that was put down too early.",
                remedy="Mix the whole time and be still just before the gloss goes off.",
                tells=speaks("put_down_early", "more_water"),
            ),
            Cause(
                key="too_wet",
                text="There was too much water in the slurry.",
                remedy="Weigh the water.",
                tells=speaks("more_water"),
            ),
            Cause(
                key="moved_setting",
                text="The slurry was moved as it set.",
                remedy="Leave the flask alone for half an hour.",
                tells=speaks("moved_early"),
            ),
        ),
    ),
    Sign(
        key="warts",
        text="warts with a rough foot, and matching grit elsewhere",
        causes=(
            Cause(
                key="flow_cut",
                text="The metal cut a sharp edge of the mould.",
                remedy="Round the joints with wax.",
                tells=speaks("sharp_joint", "broad_patches"),
            ),
            Cause(
                key="steam",
                text="Steam lifted patches of the face.",
                remedy=said("Dry slower through {boiling}.", boiling=Heat(BOILING)),
                tells=speaks("broad_patches fast_heat", "old_powder"),
            ),
            Cause(
                key="bad_powder",
                text="Damp or lumpy powder made a weak face.",
                remedy="Strain the mix, and take fresh powder.",
                tells=speaks("broad_patches old_powder", "fast_heat"),
            ),
        ),
    ),
    Sign(
        key="crusty",
        text="a coarse, grainy or crusty skin all over",
        causes=(
            Cause(
                key="weak_face",
                text="The face of the mould was weak.",
                remedy="Weigh the water and mix the whole time.",
                tells=speaks("flakes more_water", "sulphur_skin heavy_only"),
            ),
            Cause(
                key="overheated",
                text="The block was overheated, or held carbon, and gave off sulphur.",
                remedy=CAP,
                tells=speaks("sulphur_skin hot_block", "flakes"),
            ),
            Cause(
                key="heavy_heat",
                text="Heavy parts kept the mould too hot.",
                remedy="A cooler flask for heavy work.",
                tells=speaks("heavy_only hot_metal", "flakes"),
            ),
        ),
    ),
    Sign(
        key="glassy",
        text="a hard, white, glassy skin that no brush takes off",
        causes=(
            Cause(
                key="reacted",
                text="The metal was so hot that it acted on the mould.",
                remedy="A cooler flask for heavy parts, then cooler metal.",
                tells=speaks("heavy_only hot_metal"),
            ),
            Cause(
                key="hot_long",
                text="The block stayed hot too long.",
                remedy="Lower the flask at the pour.",
                tells=speaks("hot_block", "hot_metal"),
            ),
        ),
    ),
    Sign(
        key="dross",
        text="a dull, wrinkled skin on top or at the gate",
        causes=(
            Cause(
                key="film_carried",
                text="Skin of the melt was carried in.",
                remedy="Skim, hold the lip close and pour in one stream.",
                tells=speaks("faces_up film_alloy broken_stream"),
            ),
            Cause(
                key="dirty_metal",
                text="The metal was old and dirty.",
                remedy="Half new metal; clean the returns of mould.",
                tells=speaks("many_remelts long_melt"),
            ),
        ),
    ),
    Sign(
        key="pink",
        text="a pink or copper-coloured skin",
        causes=(
            Cause(
                key="lost_in_heat",
                text="Zinc or silicon left the skin in the heat.",
                remedy="A cooler and shorter melt.",
                tells=speaks("before_pickle zinc_alloy", "iron_in_pickle"),
            ),
            Cause(
                key="plated",
                text="Iron in the pickle laid copper on the work.",
                remedy="A clean pickle, and no iron in it.",
                tells=speaks("iron_in_pickle", "before_pickle"),
            ),
        ),
    ),
)
"""Signs on the skin."""
