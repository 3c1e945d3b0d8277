"""Trials: what is turned and not kept is on the disk, and in nobody else's way."""

from pathlib import Path

from pourcast.app.trials import Trial, Trials, Turn

SOFT = Turn(knob="flask.temperature_C", label="Flask at the pour", typed="540")
HARD = Turn(knob="flask.temperature_C", label="Flask at the pour", typed="640")


def test_trial_outlives_the_program_and_is_of_one_device(tmp_path: Path) -> None:
    """Our own rule: a server that dies loses nothing."""
    trial = Trial(base=3, text="a").turned(SOFT, "b")
    Trials(tmp_path).write("one", "piece", trial)
    again = Trials(tmp_path)

    assert again.read("one", "piece") == trial
    assert again.read("two", "piece") is None
    assert again.read("one", "other") is None


def test_undo_goes_back_turn_by_turn(tmp_path: Path) -> None:
    """Our own rule: the text before the last turn; without a turn there is no trial."""
    trial = Trial(base=1, text="a").turned(SOFT, "b").turned(HARD, "c")
    once = trial.undone()

    assert once == Trial(base=1, text="a").turned(SOFT, "b")
    assert once is not None
    assert once.undone() is None


def test_session_stands_in_no_file_name(tmp_path: Path) -> None:
    """Our own rule: who can list a folder cannot take over a session."""
    Trials(tmp_path).write("secret", "piece", Trial(base=1, text="a").turned(SOFT, "b"))

    assert [path for path in tmp_path.iterdir() if "secret" in path.read_text() + path.name] == []
