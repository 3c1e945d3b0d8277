"""Does each vent reach the air or the pump, and by how much is it too short?"""

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.mould.model import Flask
from pourcast.mould.vents import blind_ends, ways_out
from pourcast.piece.model import Network, Piece


def vent_findings(piece: Piece, network: Network, flask: Flask) -> tuple[Finding, ...]:
    """Return what the caster should know of threads that end in the plaster.

    Parameters
    ----------
    piece : Piece
        Its button stands with its base in the open face.
    network : Network
        Of this piece.
    flask : Flask

    Returns
    -------
    tuple of Finding
        One for each part with a vent that ends blind.
    """
    rim = piece.button.height
    blind = blind_ends(network, flask, rim)
    last = np.r_[network.member[1:] != network.member[:-1], True]
    found = []
    for vent in piece.vents:
        own = last & (network.member_part[network.member] == network.part_names.index(vent.part))
        lost = blind[network.end[own]]
        if not lost.any():
            continue
        tips = network.end_position[own]
        to_pump = vent.leads_to == "vacuum"
        way = float(ways_out(tips, flask, rim, to_pump=to_pump).max())
        length = si.from_si(vent.length, "mm")
        found.append(
            Finding(
                stage="mould",
                key="blind-vent",
                level="WATCH",
                text=(
                    f"{_which(vent.part, int(lost.sum()), lost.size)} {length:.4g} mm long, and "
                    f"from the tip to {_where(flask, to_pump=to_pump)} it is up to "
                    f"{si.from_si(way, 'mm'):.1f} mm. A blind vent lets no gas out; the forecast "
                    "counts on none of it. Make it that long or more, and see that its end stays "
                    "open."
                ),
                part=vent.part,
                value=length,
                limit=si.from_si(way, "mm"),
                unit="mm",
                source="straight way from the tip; Poiseuille's and Darcy's laws",
                kind="computed",
            )
        )
    return tuple(found)


def _which(part: str, blind: int, count: int) -> str:
    if blind < count:
        ends = "ends" if blind == 1 else "end"
        return f"{blind} of {count} vents of {part} {ends} in the plaster: each is"
    which = "The vent" if count == 1 else "Each vent"
    return f"{which} of {part} ends in the plaster: it is"


def _where(flask: Flask, *, to_pump: bool) -> str:
    if not to_pump:
        return "the open face"
    return (
        "the wall with holes, where the pump draws,"
        if flask.wall == "perforated"
        else "the far end of the block, where the pump draws,"
    )
