"""Wetting: the film that keeps bubbles off the original, just before the slurry.

A dry surface holds bubbles between hairs and under ledges, and each is a bead on the
bronze.  Practice disagrees: an old treatise on casting from life brushes spirit on just
before the slurry, others spray or dip a wetting agent and let it dry on wax, and many leave
it out, since most powders hold a wetting agent.  All of it common practice, no source.

Left out: what it does to the count of bubbles; nobody has measured it on plants.
"""

from pourcast import units as si
from pourcast.materials import Value
from pourcast.piece.model import Piece
from pourcast.runsheet.model import Act

WHY = "Bubbles on a dry piece become beads. Many leave it out: most powders hold the agent."
HOW = "Wet the piece now: spirit or wetting agent, brushed on thinly, drained."
ON_A_COAT = "No spirit on a coat: it takes shellac off."
WATER_MOVES = "No water: heads, cones and moss move."
CAUTION = "wetting_spirit"
"""Key of `Library.facts`."""

_MOVED_BY_WATER = ("moss", "cone", "seed_head", "petal")


def how(piece: Piece) -> str:
    """Return how to wet a piece: in spirit or not, by what it is made of.

    Parameters
    ----------
    piece : Piece
    """
    if any(part.coat > 0.0 for part in piece.parts):
        return f"{HOW} {ON_A_COAT}"
    if any(part.material in _MOVED_BY_WATER for part in piece.parts):
        return f"{HOW} {WATER_MOVES}"
    return HOW


def wetting_act(piece: Piece, until: si.Second, length: Value) -> Act:
    """Return the act that wets the piece, so that the powder goes in right after it.

    Parameters
    ----------
    piece : Piece
    until : float [s]
        When the powder goes into the water.
    length : Value
        How long it takes.
    """
    return Act(
        key="wet",
        stage="bench",
        at=max(until - length.si, 0.5 * until),
        until=until,
        what=how(piece),
        why=WHY,
        kind="common practice",
        source="common practice, no source",
        cautions=(CAUTION,),
        readings=(),
    )
