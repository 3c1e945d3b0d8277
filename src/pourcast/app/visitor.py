"""Visitor: who asks for a page, as the guard has found."""

from dataclasses import dataclass

from pourcast.book.users import OWNER, READER

LAPTOP = "laptop"
"""Device of a session on this machine itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Visitor:
    """Who asks.

    Parameters
    ----------
    session : str
        Name of the session; form tokens belong to it.
    device : str
        `LAPTOP`, the id of a joined phone, or "" for a stranger.
    address : str
    name, role : str
        Of the user of a shared book to whom the phone belongs.
    """

    session: str
    device: str
    address: str
    name: str = ""
    role: str = ""

    @property
    def is_owner(self) -> bool:
        """Whether one may say who else may do what: at this machine, or an owner's phone."""
        return self.is_laptop or self.role == OWNER

    @property
    def only_reads(self) -> bool:
        """Whether one may look and change nothing."""
        return not self.is_laptop and self.role == READER

    @property
    def is_laptop(self) -> bool:
        """Whether it is the machine that the program runs on."""
        return self.device == LAPTOP
