"""The forecast on a terminal."""

import io
from dataclasses import replace

import pytest
from rich.cells import cell_len

from pourcast.cli.show import plain_signs, show, terminal, text
from pourcast.page.names import CAUSES
from tests.page import sample


class Screen(io.TextIOWrapper):
    """A file that says it is a terminal, in an encoding."""

    def __init__(self, encoding: str = "utf-8") -> None:
        self.held = io.BytesIO()
        super().__init__(self.held, encoding=encoding)

    def isatty(self) -> bool:
        return True

    def getvalue(self) -> str:
        self.flush()
        return self.held.getvalue().decode(self.encoding)


def test_first_comes_the_answer() -> None:
    """House rule: plain sentences first."""
    lines = text(sample.forecast(), 80).splitlines()

    assert lines[0] == "Sea-holly head, no. 14  (invented demo)"
    assert lines[1] == "71 of 100 pours come out whole."
    assert lines[2].startswith("It could be as few as 60 or as many as 80.")


@pytest.mark.parametrize("width", [60, 80, 120])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    """Count of cells as terminals show them (East Asian width, Unicode annex 11)."""
    for name in ("Sea-holly head", "ひいらぎの葉" * 20, "W" * 300):
        for line in text(sample.named(name, name), width).splitlines():
            assert cell_len(line) <= width


def test_table_tells_what_the_record_tells() -> None:
    """Arithmetic: chance in 100 and millimetres, written by Python's own formatting."""
    forecast = sample.forecast()
    lines = text(forecast, 120).splitlines()
    for part in forecast.parts:
        row = next(line for line in lines if line.startswith(part.name))
        assert f" {part.count} " in row
        assert f"{part.thinnest * 1000:.2g} mm" in row
        if part.chance_full < 0.995:
            assert f" {part.chance_full * 100:.0f} " in row
        if part.cause is not None:
            assert row.endswith(CAUSES[part.cause])


def test_gravest_finding_stands_first() -> None:
    """House rule: stop, watch, good."""
    lines = text(sample.forecast(), 80).splitlines()

    found = [
        line.split()[0] for line in lines if line.split()[:1] in (["stop"], ["watch"], ["good"])
    ]
    assert found == ["stop", "watch", "good"]


def test_cautions_are_said() -> None:
    """House rule: the usual cautions stand on the terminal too."""
    said = text(sample.forecast(), 80)

    for word in ("silica", "steam", "carbon monoxide", "Local codes"):
        assert word in said


def test_pipe_and_no_color_get_no_escape() -> None:
    """no-color convention, from memory; ours takes bold and dim as well."""
    pipe, plain, colour = io.StringIO(), Screen(), Screen()

    show(sample.forecast(), terminal(pipe, {"TERM": "xterm-256color"}))
    show(sample.forecast(), terminal(plain, {"TERM": "xterm-256color", "NO_COLOR": "1"}))
    show(sample.forecast(), terminal(colour, {"TERM": "xterm-256color"}))

    assert "\x1b" not in pipe.getvalue()
    assert "\x1b" not in plain.getvalue()
    assert "\x1b" in colour.getvalue()


def test_name_cannot_steer_the_terminal() -> None:
    """ECMA-48: an escape in a name would clear the screen; brackets stay brackets."""
    said = text(sample.named("\x1b[2J[bold]x[/bold] \u202ey", "\x07\x1b]0;t\x07z"), 80)

    assert not {"\x1b", "\x07", "\u202e"} & set(said)
    assert "[bold]x[/bold]" in said


def test_old_encoding_gets_near_signs() -> None:
    """ASCII (ISO 646) has no °, “ or −."""
    file = Screen("ascii")

    show(sample.forecast(), terminal(file, {"NO_COLOR": "1"}, 80))

    assert '"Side spines"' in file.getvalue()
    assert plain_signs("−3 °C", "ascii") == "-3 C"
    assert plain_signs("−3 °C", "utf-8") == "−3 °C"


def test_forecast_without_findings_or_unknowns_is_shown() -> None:
    """House rule: an empty list takes its heading with it."""
    said = text(replace(sample.forecast(), findings=(), unknowns=()), 80)

    assert "Findings" not in said
    assert "What matters most" not in said
