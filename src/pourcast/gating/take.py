"""Take: a piece file with a proposal made, and all that the caster wrote kept."""

from pourcast.gating.model import Proposal
from pourcast.sheet.edit import edited


def take(text: str, *proposals: Proposal, file: str = "piece file") -> str:
    """Return a piece file with proposals made, in their order.

    Parameters
    ----------
    text : str
        The whole file.
    *proposals : Proposal
        Of this piece.
    file : str
        Its name, for the messages.

    Returns
    -------
    str

    Raises
    ------
    SheetError
        If the text is no TOML.
    InputError
        If the piece has no such part: the proposal is of another file.
    """
    edits = [edit for proposal in proposals for edit in proposal.edits]
    made = edited(text, edits, file=file)
    return made if made.endswith("\n") else f"{made}\n"
