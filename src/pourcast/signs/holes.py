"""Holes: signs in the metal itself, and what may be behind them."""

from pourcast.signs.model import Cause, Sign
from pourcast.signs.tells import CAP, CHAR_BURNS, DRYING, speaks
from pourcast.speech import Heats, said

HOLES = (
    Sign(
        key="dark_holes",
        text="dark patches, or holes with dark walls",
        causes=(
            Cause(
                key="char",
                text="Char of the original was left in the cavity.",
                remedy=said(
                    "Hold longer at {heats}, with more air and fewer flasks.", heats=CHAR_BURNS
                ),
                tells=speaks("black_dust in_the_thick char_expected", "button_porous"),
            ),
            Cause(
                key="mould_gas",
                text="The block gave off gas where it was too hot or not clean.",
                remedy="Keep the top of the burnout lower.",
                tells=speaks("sulphur_skin hot_block", "black_dust"),
            ),
        ),
    ),
    Sign(
        key="pale_pits",
        text="pits with pale powder or loose pale dirt",
        causes=(
            Cause(
                key="ash",
                text="Ash of the original lay in the cavity.",
                remedy="Gate down in the kiln, and soft puffs of air once it is clean.",
                tells=speaks("low_pockets", "blown_hard"),
            ),
            Cause(
                key="mould_dust",
                text="Air that was too strong cut dust from the mould.",
                remedy="Blow softer, and put the flask back until it is at heat again.",
                tells=speaks("blown_hard", "low_pockets"),
            ),
            Cause(
                key="flaked_mould",
                text="Mould flaked off and rode into the work.",
                remedy="Round the joints with wax and strain the mix.",
                tells=speaks("flakes sharp_joint"),
            ),
        ),
    ),
    Sign(
        key="bright_holes",
        text="round smooth bright holes under the skin, all over",
        causes=(
            Cause(
                key="metal_gas",
                text="The metal had taken up gas.",
                remedy="Melt fast and only as hot as needed, with half new metal.",
                tells=speaks("button_porous many_remelts long_melt", "sulphur_skin"),
            ),
            Cause(
                key="wet_mould_gas",
                text="Water or carbon in the mould gave gas into the metal.",
                remedy="Dry and burn the block longer.",
                tells=speaks("char_expected", "button_porous"),
            ),
        ),
    ),
    Sign(
        key="skin_holes",
        text="round or pear-shaped holes close to the face, where thin meets thick",
        causes=(
            Cause(
                key="sulphate_gas",
                text="Sulphate of the block broke down and gave off gas.",
                remedy=CAP,
                tells=speaks("hot_block sulphur_skin", "button_porous"),
            ),
            Cause(
                key="carbon_gas",
                text="Carbon left in the block gave off gas.",
                remedy="Hold longer with more air before the flask comes down.",
                tells=speaks("char_expected black_dust", "button_porous"),
            ),
            Cause(
                key="water_gas",
                text="The block was not dry.",
                remedy=said("Hold longer at {drying}.", drying=Heats(*DRYING)),
                tells=speaks("fast_heat", "hot_block sulphur_skin"),
            ),
        ),
    ),
    Sign(
        key="ragged_holes",
        text="ragged, branching holes at joints and in thick places",
        causes=(
            Cause(
                key="not_fed",
                text="The place shrank while nothing could feed it.",
                remedy="A thicker gate, or a feeder at that place.",
                tells=speaks("last_to_freeze button_full", "button_sunk"),
            ),
            Cause(
                key="gas_and_shrinkage",
                text="Gas in the metal opened the holes that shrinkage began.",
                remedy="New metal and a fast melt first, then a thicker gate.",
                tells=speaks("button_porous many_remelts", "button_full"),
            ),
        ),
    ),
    Sign(
        key="dished",
        text="a sunk or dished face, without a hole",
        causes=(
            Cause(
                key="skin_closed",
                text="The skin closed while the inside still shrank.",
                remedy="A feeder to that lump.",
                tells=speaks("heavy_only last_to_freeze"),
            ),
            Cause(
                key="sunk_wax",
                text="The wax was sunk there already.",
                remedy="Fill the face of the wax before it is invested.",
                tells=speaks(no="heavy_only last_to_freeze"),
            ),
        ),
    ),
    Sign(
        key="round_hollow",
        text="a large smooth hollow at a blind end",
        causes=(
            Cause(
                key="trapped_air",
                text="Air was shut in and pushed back.",
                remedy="A vent from that end.",
                tells=speaks("blind thick_end"),
            ),
            Cause(
                key="bubble_gas",
                text="The mould gave off gas into that end.",
                remedy="Burn cleaner, then vent that end.",
                tells=speaks("char_expected sulphur_skin"),
            ),
        ),
    ),
)
"""Signs of holes."""
