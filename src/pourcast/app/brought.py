"""Brought: what was measured on the last scans and photographs, so that it can be put right.

It stays in the memory of the program: after a new start the file is brought again, and
what was put right is made again, for that is kept.
"""

import threading
from collections import OrderedDict
from dataclasses import dataclass

from pourcast.app.taking import Measured, Taken

_MOST = 12  # pieces whose parts are kept at hand; own choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """A piece as its file came in.

    Parameters
    ----------
    form : str
        "scan" or "photographs".
    measured : Measured
        Before anything was put right.
    taken : Taken
        With what was put right.
    corrections : str
        Text of the corrections that were made; "": none.
    """

    form: str
    measured: Measured
    taken: Taken
    corrections: str


class BroughtPieces:
    """The last pieces that were brought, by the name of each on the shelf."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Brought] = OrderedDict()
        self._lock = threading.Lock()

    def put(self, piece_id: str, brought: Brought) -> None:
        """Keep a piece at hand; the one that was used longest ago goes.

        Parameters
        ----------
        piece_id : str
        brought : Brought
        """
        with self._lock:
            self._kept[piece_id] = brought
            self._kept.move_to_end(piece_id)
            while len(self._kept) > _MOST:
                self._kept.popitem(last=False)

    def find(self, piece_id: str) -> Brought | None:
        """Return a piece as it came in; None: it is not at hand.

        Parameters
        ----------
        piece_id : str
        """
        with self._lock:
            found = self._kept.get(piece_id)
            if found is not None:
                self._kept.move_to_end(piece_id)
            return found
