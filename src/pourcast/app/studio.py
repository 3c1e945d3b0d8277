"""Studio: all that the pages know of one caster's work, in one folder.

The folder holds the book (`pourcast.book`), ``pieces`` with every text of each
piece, ``drafts`` of forms that are half filled in, ``own_values.json``,
``look.json``, and what pairs a phone.  Forecasts are worked out when asked for
and kept in memory, by text, draws, seed and what the studio has learnt.
"""

import hashlib
import json
import threading
from datetime import UTC, datetime
from pathlib import Path

from pourcast import __version__
from pourcast.app.brought import BroughtPieces
from pourcast.app.drafts import Drafts
from pourcast.app.look import Look, read_look, write_look
from pourcast.app.memory import Asked, Memory, Poured, plan_of
from pourcast.app.own_values import OwnValues
from pourcast.app.pieces import Pieces, PieceText
from pourcast.app.pieces_shared import SharedPieces
from pourcast.book.calibrations import active_calibration, holds
from pourcast.book.day_kiln import days_ended, joined, kiln_learnt
from pourcast.book.model import KeptPlan
from pourcast.book.plans import keep_plan, pieces_named
from pourcast.book.store import Book, default_folder, open_book
from pourcast.errors import SheetError
from pourcast.execute.made_with import made_with
from pourcast.forecast.document import document
from pourcast.forecast.model import Calibration, Forecast
from pourcast.forecast.solve import DRAWS, forecast_with_ends
from pourcast.learn.for_plan import for_plan
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

CHANCE = "chance.json"
"""Beside the texts of a piece: the chance that was worked out last, and of what."""


def pieces_of(book: Book) -> Pieces | SharedPieces:
    """Return the piece files that belong to a book."""
    if book.on_server:
        return SharedPieces(book, book.folder / "pieces_shared")
    made = Pieces(book.folder / "pieces")
    made.take_out_of(book)
    return made


class Studio:
    """One caster's folder, open; to be closed, or used in a ``with``.

    Parameters
    ----------
    folder : Path or None
        None: that of the system.
    threads : int
        For forecasts.
    address : str or None
        Of a book on a server; None: what the environment or the folder says.
    """

    def __init__(
        self, folder: Path | None = None, *, threads: int = 1, address: str | None = None
    ) -> None:
        self.folder = default_folder() if folder is None else folder
        self.threads = threads
        self.book: Book = open_book(self.folder, address=address)
        self.pieces = pieces_of(self.book)
        self.drafts = Drafts(self.folder / "drafts")
        self.own = OwnValues(self.folder / "own_values.json")
        self.brought = BroughtPieces()
        self._memory = Memory()
        self._kiln: tuple[tuple[tuple[str, int, int], ...], Calibration | None] | None = None
        self._lock = threading.Lock()

    def __enter__(self) -> "Studio":
        return self

    def __exit__(self, *fault: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the book."""
        self.book.close()

    # The pieces.

    def piece(self, piece_id: str, revision: int | None = None) -> PieceText:
        """Return a text of a piece; None: the one that stands."""
        return self.pieces.read(piece_id, revision)

    def plan(self, piece: PieceText) -> Plan:
        """Return the plan of a piece.

        Raises
        ------
        SheetError
            If the text has faults; a newer pourcast may see some in an old text.
        """
        try:
            return plan_of(piece.text)
        except SheetError:
            # Once more, so that each fault names the file.
            return read_plan(piece.text, file=f"{piece.id}.toml")

    def add(self, text: str) -> PieceText:
        """Keep a new piece, once its text has no fault.

        Raises
        ------
        SheetError
        """
        read_plan(text)
        return self.pieces.add(text)

    def save(self, piece_id: str, text: str, *, base: int) -> PieceText:
        """Keep a changed text of a piece, once it has no fault.

        Raises
        ------
        SheetError
        ConflictError
            If the piece was changed elsewhere since revision ``base``.
        """
        read_plan(text)
        return self.pieces.save(piece_id, text, base=base)

    def go_back(self, piece_id: str, to: int, *, base: int) -> PieceText:
        """Keep an earlier text of a piece once more, as its newest.

        Raises
        ------
        ConflictError
        """
        return self.save(piece_id, self.pieces.read(piece_id, to).text, base=base)

    def take_in(self, text: str) -> PieceText:
        """Keep a piece file: as the newest text of the piece of its name, or as a new piece.

        As in the book, pieces of one name are one piece.  Its earlier texts stay.

        Raises
        ------
        SheetError
        """
        name = read_plan(text).piece.name
        for piece_id in self.pieces.ids():
            piece = self.piece(piece_id)
            try:
                found = self.plan(piece).piece.name
            except SheetError:
                continue
            if found == name:
                return self.pieces.save(piece_id, text, base=piece.revision)
        return self.pieces.add(text)

    # Forecasts.

    def calibration(self, plan: Plan, before: datetime | None = None) -> Calibration | None:
        """Return what this studio has said or learnt of what a plan draws; None: nothing.

        A value that the caster has said goes before what was learnt of it.
        """
        own = self.own.calibration(plan)
        learnt = for_plan(joined(active_calibration(self.book), self._kiln_learnt(before)), plan)
        return joined(own, learnt)

    def _kiln_learnt(self, before: datetime | None) -> Calibration | None:
        """Return the kiln of the last day that has ended, fitted once for each set of days."""
        if not holds(self.book)[1]:
            return None
        days = days_ended(self.book, before)
        with self._lock:
            known = self._kiln
        if known is None or known[0] != days:
            known = days, kiln_learnt(self.book, before) if days else None
            with self._lock:
                self._kiln = known
        return known[1]

    def forecast(self, text: str, *, draws: int = DRAWS, seed: int = 0) -> Forecast:
        """Return the forecast of a piece file, from memory where it was made before.

        Raises
        ------
        SheetError
        """
        return self.poured(text, draws=draws, seed=seed).forecast

    def poured(self, text: str, *, draws: int = DRAWS, seed: int = 0) -> Poured:
        """Return the forecast of a piece file with the end of each pour, from memory or made now.

        Raises
        ------
        SheetError
        """
        asked = self._asked(text, draws, seed)
        return self._memory.of(
            asked,
            lambda: Poured(
                *forecast_with_ends(
                    plan_of(text), asked.calibration, draws=draws, rng=seed, threads=self.threads
                )
            ),
        )

    def is_known(self, text: str, *, draws: int = DRAWS, seed: int = 0) -> bool:
        """Return whether the forecast of a piece file is in memory."""
        return self._memory.holds(self._asked(text, draws, seed))

    def chance(self, piece: PieceText) -> float:
        """Return the chance that a piece comes out whole, and note it beside the piece.

        Raises
        ------
        SheetError
        """
        known = self.known_chance(piece)
        if known is not None:
            return known
        made = self.forecast(piece.text).chance_all
        noted = {"of": self._asked(piece.text, DRAWS, 0).digest(), "chance": made}
        self.pieces.note(piece.id, CHANCE, json.dumps(noted))
        return made

    def known_chance(self, piece: PieceText) -> float | None:
        """Return the chance of a piece if it was worked out before; None: it was not.

        Raises
        ------
        SheetError
        """
        noted = self.pieces.noted(piece.id, CHANCE)
        if noted is None:
            return None
        kept = json.loads(noted)
        same = kept["of"] == self._asked(piece.text, DRAWS, 0).digest()
        return float(kept["chance"]) if same else None

    def _asked(self, text: str, draws: int, seed: int) -> Asked:
        sha256 = hashlib.sha256(text.encode()).hexdigest()
        return Asked(sha256, draws, seed, self.calibration(plan_of(text)))

    def keep_in_book(self, piece_id: str) -> KeptPlan:
        """Keep the plan of a piece with its forecast in the book, before it is poured."""
        piece = self.piece(piece_id)
        plan = self.plan(piece)
        known = self.pieces.book_piece(piece_id) or self._namesake(plan.piece.name)
        said = self.forecast(piece.text)
        kept = keep_plan(
            self.book,
            sheet=piece.text,
            file_name=f"{piece_id}.toml",
            document=document(said, version=__version__, made_with=made_with()),
            alloy=plan.charge.alloy,
            powder=plan.mix.powder,
            at=datetime.now(UTC),
            piece_id=known,
            new_piece=known is None,
        )
        self.pieces.set_book_piece(piece_id, kept.piece_id)
        return kept

    def _namesake(self, name: str) -> str | None:
        """Return the one piece of the book of that name that no piece here stands for."""
        taken = {self.pieces.book_piece(piece_id) for piece_id in self.pieces.ids()}
        free = [found for found in pieces_named(self.book, name) if found not in taken]
        return free[0] if len(free) == 1 else None

    # How it is shown.

    @property
    def look(self) -> Look:
        """How figures and days are shown."""
        return read_look(self.folder / "look.json")

    def set_look(self, look: Look) -> None:
        """Keep how figures and days are shown."""
        write_look(self.folder / "look.json", look)
