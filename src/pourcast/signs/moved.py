"""Cracks, and parts that moved: signs of force, and what may be behind them."""

from pourcast.signs.model import Cause, Sign
from pourcast.signs.tells import speaks

MOVED = (
    Sign(
        key="ragged_crack",
        text="a ragged crack at a neck, with oxidised faces",
        causes=(
            Cause(
                key="hot_tear",
                text="The metal tore as it froze, for the mould held it.",
                remedy="Round the neck with wax.",
                tells=speaks("coloured_crack held_ends", "early_quench"),
            ),
            Cause(
                key="quenched_hot",
                text="It was quenched before it was strong enough.",
                remedy="Wait until the button is black.",
                tells=speaks("early_quench", "held_ends"),
            ),
        ),
    ),
    Sign(
        key="clean_crack",
        text="a clean crack with bright faces, or a part that snaps in the hand",
        causes=(
            Cause(
                key="water_shock",
                text="The quench came too early.",
                remedy="Wait until the button is black.",
                tells=speaks("early_quench", "all_brittle coloured_crack"),
            ),
            Cause(
                key="bad_metal",
                text="The metal itself is brittle: lead, or returns melted too often.",
                remedy="New metal of one lot.",
                tells=speaks("all_brittle many_remelts lead", "early_quench"),
            ),
            Cause(
                key="tools",
                text="It was bent or knocked at the break-out.",
                remedy="Wood, a soft brush and time in the water.",
                tells=speaks("hard_tools", "all_brittle coloured_crack"),
            ),
        ),
    ),
    Sign(
        key="blurred",
        text="fine detail is gone, or a part has grown thick",
        causes=(
            Cause(
                key="swelled",
                text="The original drank water and swelled as the mould set.",
                remedy="Seal it, or soak it first and dry the block slowly.",
                tells=speaks("thirsty wax_sharp"),
            ),
            Cause(
                key="thick_coat",
                text="The coat filled the detail.",
                remedy="A thinner coat.",
                tells=speaks("wax_sharp", "thirsty"),
            ),
            Cause(
                key="moved_in_set",
                text="The original moved as the slurry set.",
                remedy="Leave the flask alone for half an hour.",
                tells=speaks("moved_early put_down_late"),
            ),
        ),
    ),
    Sign(
        key="bent",
        text="a part lies over, flat on its neighbour or on the wall",
        causes=(
            Cause(
                key="slurry_push",
                text="Slurry or froth pushed it over.",
                remedy="Pour down the wall of the flask, and stiffen that part.",
                tells=speaks("one_way", "hard_tools"),
            ),
            Cause(
                key="bent_after",
                text="It was bent at the break-out.",
                remedy="Wood, a soft brush and time in the water.",
                tells=speaks("hard_tools", "one_way"),
            ),
        ),
    ),
    Sign(
        key="broken_off",
        text="a part is missing, with a clean scar and a lump at its foot",
        causes=(
            Cause(
                key="broke_in_slurry",
                text="It broke off in the slurry or as the flask was moved.",
                remedy="Strengthen its joint with wax, and tap less.",
                tells=speaks("foot_or_stub", "hard_tools"),
            ),
            Cause(
                key="broke_after",
                text="It broke off at the break-out.",
                remedy="Wood, a soft brush and time in the water.",
                tells=speaks("hard_tools", "foot_or_stub"),
            ),
        ),
    ),
)
"""Signs of force and of movement."""
