"""Metal that is not there: signs of parts that came short, and what may be behind them."""

from pourcast.signs.model import Cause, Sign
from pourcast.signs.tells import BOILING, speaks
from pourcast.speech import Heat, said

SHORT = (
    Sign(
        key="short_tip",
        text="a tip or an edge ends early, smooth and rounded",
        causes=(
            Cause(
                key="too_cold",
                text="The metal set on its way: metal or flask was too cold for so thin a part.",
                remedy="Raise the flask at the pour first, and nothing else.",
                tells=speaks("far bright_end cold_flask cold_metal told_cold", "blind"),
            ),
            Cause(
                key="held_back",
                text="The opening was too fine for the push of the metal.",
                remedy="Thicken the finest part, or give it more push: vacuum or head.",
                tells=speaks("thin bright_end told_fine", "far"),
            ),
            Cause(
                key="gas",
                text="Gas in the blind end had nowhere to go.",
                remedy="Vent the blind ends.",
                tells=speaks("blind thick_end told_gas", "thin"),
            ),
        ),
    ),
    Sign(
        key="empty_beyond",
        text="all is full up to one place, and all is empty beyond it",
        causes=(
            Cause(
                key="neck_froze",
                text="A neck froze before what lies beyond it was full.",
                remedy="Thicken that neck with wax.",
                tells=speaks("bright_end told_choke", "black_end mould_at_end"),
            ),
            Cause(
                key="char_plug",
                text="Char or ash closed the way.",
                remedy="Burn longer at the top heat with more air.",
                tells=speaks("black_end char_expected", "bright_end"),
            ),
            Cause(
                key="wall_plug",
                text="A broken piece of mould lay in the way.",
                remedy="Round the joints with wax, and keep parts a millimetre or more apart.",
                tells=speaks("mould_at_end sharp_joint", "black_end"),
            ),
        ),
    ),
    Sign(
        key="short_button",
        text="piece and button are both short",
        causes=(
            Cause(
                key="too_little",
                text="There was too little metal.",
                remedy="Measure the original by the water that it displaces, and weigh again.",
                tells=speaks("all_weighed no_button", "metal_outside"),
            ),
            Cause(
                key="leak",
                text="Metal left the block through its end or its wall.",
                remedy="Give the far end more cover.",
                tells=speaks("metal_outside gauge_low end_hole", "all_weighed"),
            ),
        ),
    ),
    Sign(
        key="lace",
        text="a thin lining or lace of metal stands where the work should be",
        causes=(
            Cause(
                key="end_gave_way",
                text="The end or the side of the block gave way under the vacuum.",
                remedy="More cover over the far end; read the gauge before the pour.",
                tells=speaks("gauge_low end_hole metal_outside"),
            ),
            Cause(
                key="weak_block",
                text="The block was weak: dried out, or mixed with too much water.",
                remedy="Weigh the water, and keep the block damp until the kiln.",
                tells=speaks("more_water dried_block"),
            ),
        ),
    ),
    Sign(
        key="empty_mould",
        text="the cavity is empty and the metal lies at the end of the flask",
        causes=(
            Cause(
                key="end_fell",
                text="The block cracked, or its end fell out, while it was dried or burnt.",
                remedy="Load the kiln two hours after the slurry, or keep the block damp.",
                tells=speaks("dried_block end_hole metal_outside"),
            ),
            Cause(
                key="heated_fast",
                text="Steam or heat split the block.",
                remedy=said(
                    "Rise slower through {boiling} and hold there until it is dry.",
                    boiling=Heat(BOILING),
                ),
                tells=speaks("fast_heat metal_outside", "dried_block"),
            ),
        ),
    ),
    Sign(
        key="drained",
        text="the skin of a thin part is there and its inside is empty",
        causes=(
            Cause(
                key="push_gone",
                text="Vacuum or head fell before the part had set.",
                remedy="Hold the vacuum until the button has lost its shine.",
                tells=speaks("gauge_fell", "no_button"),
            ),
            Cause(
                key="metal_gone",
                text="The button ran empty while the part was still liquid.",
                remedy="Melt more, so that the button stays full.",
                tells=speaks("no_button", "gauge_fell"),
            ),
        ),
    ),
    Sign(
        key="seam",
        text="a line like a crack, with rounded lips",
        causes=(
            Cause(
                key="cold_meeting",
                text="Two streams met and were too cold to join.",
                remedy="Raise the flask, or open one of the two ways.",
                tells=speaks("streams_meet cold_flask", "broken_stream"),
            ),
            Cause(
                key="broken_stream",
                text="The stream broke, and the second part ran over the first.",
                remedy="Pour in one stream, with the lip close and the cup kept full.",
                tells=speaks("broken_stream"),
            ),
        ),
    ),
)
"""Signs of metal that did not come."""
