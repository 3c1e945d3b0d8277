"""What flasks and proposals say; the page and the terminal share it."""

from collections.abc import Sequence

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.gating.flask_checks import findings, pose_words, size
from pourcast.gating.model import (
    FlaskChoice,
    FlaskFit,
    Proposal,
    Room,
    Stand,
    WaxPiece,
)
from pourcast.gating.share import SharedFlask
from pourcast.gating.share_checks import shared_findings
from pourcast.gating.vents import DISPUTED
from pourcast.page.figures import clean, grams, millimetres

ROOMS: dict[Room, str] = {
    "usual": "goes in",
    "tight": "goes in tightly",
    "none": "does not go in",
}

NO_CLAIM = (
    "What each of these would buy is not said here: take one, and forecast the changed piece file."
)

NONE_FOUND = "The forecast gives no cause for a feeder, a thicker gate, a vent, a thread or a lean."


def flask_lines(choice: FlaskChoice, name: str, *, invented: bool = False) -> list[str]:
    """Return all that is told of the flasks on the shelf, a sentence or two a line.

    Parameters
    ----------
    choice : FlaskChoice
    name : str
        Of the piece.
    invented : bool
        Whether it is a demo piece.
    """
    demo = "  (invented demo)" if invented else ""
    return [
        f"{clean(name)}{demo}: the flasks on the shelf",
        *(finding_line(kept) for kept in findings(choice)),
        *(flask_line(fit) for fit in choice.fits),
    ]


def finding_line(kept: Finding) -> str:
    """Return a finding with its level before it where it is to be heeded.

    Parameters
    ----------
    kept : Finding
    """
    before = {"STOP": "Stop. ", "WATCH": "Watch. ", "GOOD": ""}[kept.level]
    return f"{before}{clean(kept.text)}"


def flask_line(fit: FlaskFit) -> str:
    """Return one flask of the shelf in a line.

    Parameters
    ----------
    fit : FlaskFit
    """
    flask = fit.flask
    named = f"{size(flask.inside_diameter, flask.height)} {flask.wall}"
    if not flask.name[:1].isdigit():
        named = f"{clean(flask.name)}, {named}"
    many = f", {flask.count} of them" if flask.count > 1 else ""
    text = f"{named}{many}: {ROOMS[fit.planned.room]} as it stands, {_walls(fit.planned)}"
    if fit.best != fit.planned:
        text += f"; {pose_words(fit)} it {ROOMS[fit.best.room]}, {_walls(fit.best)}"
    if fit.load is not None:
        text += f". Full it weighs {fit.load.fresh:.1f} kg"
    return f"{text}."


def shared_lines(shared: SharedFlask) -> list[str]:
    """Return all that is told of several pieces in one flask.

    Parameters
    ----------
    shared : SharedFlask
    """
    places = [
        f"{clean(name)}: in a circle of {millimetres(2.0 * each.radius)} across; from the middle "
        f"of the flask to its own {_side(each.x, 'right', 'left')} and "
        f"{_side(each.y, 'up', 'down')}."
        for name, each in zip(shared.names, shared.circles, strict=True)
    ]
    return [*(finding_line(kept) for kept in shared_findings(shared)), *places]


def proposal_lines(
    proposals: Sequence[Proposal], name: str, *, invented: bool = False
) -> list[str]:
    """Return all that is told of the proposals, numbered from 1.

    Parameters
    ----------
    proposals : sequence of Proposal
    name : str
        Of the piece.
    invented : bool
        Whether it is a demo piece.
    """
    demo = "  (invented demo)" if invented else ""
    head = f"{clean(name)}{demo}: gates, feeders, vents and leans"
    if not proposals:
        return [head, NONE_FOUND]
    told = [line for n, each in enumerate(proposals, 1) for line in proposal_block(each, n)]
    vents = sum(each.kind == "vent" for each in proposals)
    if vents > 1:
        # What holds for all of them stands once, after them.
        told = [line.replace(f" {DISPUTED}", "") for line in told]
        told.append(f"On vents: {DISPUTED[:1].lower()}{DISPUTED[1:]}")
    return [head, *told, NO_CLAIM]


def proposal_block(proposal: Proposal, number: int) -> list[str]:
    """Return one proposal: its name, why, the wax to cut, and what it costs.

    Parameters
    ----------
    proposal : Proposal
    number : int
        As it is taken by.
    """
    told = [f"{number}. {clean(proposal.name)}", f"   {clean(proposal.words)}"]
    if proposal.wax:
        told.append(f"   Wax to cut: {'; '.join(wax_words(piece) for piece in proposal.wax)}.")
    if proposal.clean_off:
        told.append(f"   Afterwards: {clean(proposal.clean_off)}.")
    told.append(f"   {cost_words(proposal)}")
    return told


def wax_words(piece: WaxPiece) -> str:
    """Return wax to cut: "3 × feeder, 8.6 mm thick and 91 mm long".

    Parameters
    ----------
    piece : WaxPiece
    """
    many = f"{piece.count} × " if piece.count > 1 else ""
    return (
        f"{many}{clean(piece.what)}, {millimetres(piece.diameter)} thick and "
        f"{si.from_si(piece.length, 'mm'):.0f} mm long"
    )


def cost_words(proposal: Proposal) -> str:
    """Return what a proposal costs at the bench and in metal.

    Parameters
    ----------
    proposal : Proposal
    """
    costs = proposal.costs
    minutes = costs.bench / 60.0
    bench = f"About {minutes:.0f} min at the bench (estimate)" if minutes else "No bench work"
    if abs(costs.metal) < 1e-4:
        return f"{bench}; no more metal."
    return f"{bench}; {grams(costs.metal)} more metal, most of which comes back as returns."


def _walls(stand: Stand) -> str:
    return f"{_mm(stand.wall)} mm beside it and {_mm(stand.cover)} mm over the far end"


def _side(way: si.Metre, plus: str, minus: str) -> str:
    return f"{_mm(abs(way))} mm {minus if way < 0.0 else plus}"


def _mm(length: si.Metre) -> str:
    return f"{si.from_si(length, 'mm'):.0f}".replace("-", "−")
