"""Trials: what one device has turned on a piece and not kept yet.

A trial is a list of turns on top of one kept text.  It is on the disk before
the page says so, and in nobody else's way: each device has its own.
"""

import hashlib
import json
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from pourcast.app.keep import replace_text

MOST_TURNS = 500
"""Turns of one trial; the oldest of the same knob go first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One knob that was turned.

    Parameters
    ----------
    knob : str
        Its id.
    label : str
        What the caster calls it.
    typed : str
        As it was typed.
    """

    knob: str
    label: str
    typed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """What one device has turned on a piece.

    Parameters
    ----------
    base : int
        Revision of the text that it was turned on.
    text : str
        The piece file with all turns made.
    turns : tuple of Turn
        In their order.
    earlier : tuple of str
        Texts before each turn, for undoing.
    """

    base: int
    text: str
    turns: tuple[Turn, ...] = ()
    earlier: tuple[str, ...] = ()

    def turned(self, turn: Turn, text: str) -> "Trial":
        """Return the trial with one more turn."""
        return replace(
            self,
            text=text,
            turns=(*self.turns, turn)[-MOST_TURNS:],
            earlier=(*self.earlier, self.text)[-MOST_TURNS:],
        )

    def undone(self) -> "Trial | None":
        """Return the trial without its last turn; None: nothing is left of it."""
        if len(self.turns) < 2:
            return None
        return replace(
            self, text=self.earlier[-1], turns=self.turns[:-1], earlier=self.earlier[:-1]
        )


class Trials:
    """The folder of trials.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock = threading.Lock()
        self._known: dict[Path, Trial | None] = {}
        self._turning: dict[Path, threading.Lock] = {}

    def turning(self, session: str, piece_id: str) -> threading.Lock:
        """Return what holds the turns of one device apart, so that the last one stands."""
        with self._lock:
            return self._turning.setdefault(self._path(session, piece_id), threading.Lock())

    def read(self, session: str, piece_id: str) -> Trial | None:
        """Return the trial of a device; None: nothing is turned."""
        path = self._path(session, piece_id)
        with self._lock:
            if path not in self._known:
                self._known[path] = _read(path)
            return self._known[path]

    def write(self, session: str, piece_id: str, trial: Trial | None) -> None:
        """Keep a trial; None throws it away."""
        path = self._path(session, piece_id)
        with self._lock:
            if trial is None:
                path.unlink(missing_ok=True)
            else:
                replace_text(path, json.dumps(_tree(trial), ensure_ascii=False))
            self._known[path] = trial

    def _path(self, session: str, piece_id: str) -> Path:
        # The name of a session is a secret and stands in no file name.
        name = hashlib.sha256(f"{session}/{piece_id}".encode()).hexdigest()[:32]
        return self._folder / f"{name}.json"


def _tree(trial: Trial) -> dict[str, object]:
    turns: Sequence[list[str]] = [[turn.knob, turn.label, turn.typed] for turn in trial.turns]
    return {
        "base": trial.base,
        "text": trial.text,
        "turns": turns,
        "earlier": list(trial.earlier),
    }


def _read(path: Path) -> Trial | None:
    try:
        kept = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return None
    return Trial(
        base=kept["base"],
        text=kept["text"],
        turns=tuple(
            Turn(knob=knob, label=label, typed=typed) for knob, label, typed in kept["turns"]
        ),
        earlier=tuple(kept["earlier"]),
    )
