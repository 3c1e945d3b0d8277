"""The forecast on a terminal."""

import io
from dataclasses import replace

import pytest
from rich.cells import cell_len

from pourcast.cli.show import MOST_PARTS, show, terminal, text
from pourcast.cli.signs import plain_signs
from pourcast.materials import caution
from pourcast.materials.load import library
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
    assert lines[2] == "One finding below says stop, whatever this chance: settle that first."
    assert lines[3].startswith("It could be as few as 60 or as many as 80.")


def test_nothing_says_stop_where_no_finding_does() -> None:
    """House rule: a line stands there only where it has something to say."""
    base = sample.forecast()
    quiet = replace(base, findings=tuple(f for f in base.findings if f.level != "STOP"))

    assert text(quiet, 80).splitlines()[2].startswith("It could be as few as 60")


@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_is_wider_than_the_terminal(width: int, full: bool) -> None:
    """Count of cells as terminals show them (East Asian width, Unicode annex 11)."""
    for name in ("Sea-holly head", "ひいらぎの葉" * 20, "W" * 300):
        for line in text(sample.named(name, name), width, full=full).splitlines():
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
    lines = text(sample.forecast(), 80, full=True).splitlines()

    found = [
        line.split()[0] for line in lines if line.split()[:1] in (["stop"], ["watch"], ["good"])
    ]
    assert found == ["stop", "watch", "good"]


def test_cautions_are_said() -> None:
    """House rule: the usual cautions stand on the terminal too, in short and in full."""
    short = text(sample.forecast(), 120)
    full = text(sample.forecast(), 120, full=True)

    for word in ("silica dust", "mask", "Damp", "hot metal", "fume", "Local codes"):
        assert word in short
    for word in ("silica", "steam", "carbon monoxide", "flask under vacuum", "Local codes"):
        assert word in full


@pytest.mark.parametrize("act", ["silica_dust", "hot_kiln", "quench_steam", "sulphide_patina"])
def test_full_text_has_the_caution_of_every_act_once(act: str) -> None:
    """House rule: what can hurt stands beside the forecast, from the mix to the patina."""
    said = text(sample.forecast(), 500, full=True)

    assert said.count(library().facts[act].text) == 1


def test_what_a_caution_says_is_no_finding_too() -> None:
    """House rule: each thing is said once; the stages give some cautions as findings as well."""
    base = sample.forecast()
    fact = library().facts["moisture"]
    twice = caution(fact, "melt")
    forecast = replace(base, findings=(*base.findings, twice))

    assert text(forecast, 500, full=True).count(fact.text) == 1
    assert text(forecast, 500).count(fact.text) == 0


def test_one_screen_keeps_what_stops_and_leaves_what_is_good() -> None:
    """House rule: a stop in full; good findings are for the page and the full text."""
    base = sample.forecast()
    stop = replace(base.findings[-1], text="Stop here. " + "This is why and what to do. " * 20)
    said = " ".join(text(replace(base, findings=(*base.findings, stop)), 80).split())

    assert stop.text.strip() in said
    assert base.findings[0].text in said
    assert base.findings[1].text not in said


def test_many_parts_leave_the_weakest_on_one_screen() -> None:
    """Count: as many rows as said, the weakest of them, and the number of the others."""
    base = sample.forecast()
    parts = tuple(
        replace(base.parts[0], name=f"part{k:02d}", chance_full=k / 40, chance_weakest=k / 40)
        for k in range(40)
    )
    short = text(replace(base, parts=parts), 80)
    full = text(replace(base, parts=parts), 80, full=True)

    shown = [line.split()[0] for line in short.splitlines() if line.startswith("part0")]
    assert shown == [f"part{k:02d}" for k in range(MOST_PARTS)]
    assert "part39" not in short
    assert f"and {40 - MOST_PARTS} more, each in {100 * MOST_PARTS / 40:.0f} or more." in short
    assert "part39" in full


def test_part_that_a_finding_holds_for_too_is_named_once() -> None:
    """House rule: two like findings of two parts are one on the screen."""
    base = sample.forecast()
    first = base.findings[0]
    other = replace(first, part="Bristles", text=first.text.replace("Side spines", "Bristles", 1))
    said = " ".join(text(replace(base, findings=(first, other)), 80).split())

    assert f"{first.text} The same holds for Bristles." in said
    assert other.text not in said


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
    said = text(replace(sample.forecast(), findings=(), unknowns=()), 80, full=True)

    assert "Findings" not in said
    assert "What matters most" not in said
