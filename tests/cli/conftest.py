"""A command that is typed in this process."""

import io
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from pourcast.cli.main import main
from tests.once import anew, worked_out_once

__all__ = ["anew", "worked_out_once"]


@dataclass(frozen=True)
class Said:
    """What one call wrote and how it ended."""

    status: int
    out: str
    err: str


Typed = Callable[..., Said]


@pytest.fixture
def typed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> Typed:
    """Type a command in an empty folder, in this process."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("NO_COLOR", raising=False)

    def call(*words: str, given: bytes = b"") -> Said:
        monkeypatch.setattr(sys, "argv", ["pourcast", *words])
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(given)))
        with pytest.raises(SystemExit) as end:
            main()
        caught = capsys.readouterr()
        code = end.value.code
        assert code is None or isinstance(code, int)
        return Said(code or 0, caught.out, caught.err)

    return call
