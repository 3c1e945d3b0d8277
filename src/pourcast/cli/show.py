"""The forecast on a terminal: plain sentences first, then figures.

The sentences are those of the page.  A pipe and NO_COLOR get text without any
escape; names from a piece file are cleaned of signs that would steer the
terminal.
"""

import io
from collections.abc import Mapping
from typing import IO

from rich.console import Console, RenderableType
from rich.table import Table
from rich.text import Text

from pourcast.findings import Level
from pourcast.forecast.model import Forecast
from pourcast.page import cautions, words
from pourcast.page.figures import JOIN, clean, in_100, millimetres, number
from pourcast.page.names import CAUSES, LEVELS, unknown_name

MOST_UNKNOWNS = 5
"""Lines under "What matters most"."""

_LOOKS: dict[Level, str] = {"STOP": "bold red", "WATCH": "yellow", "GOOD": "green"}

# For a terminal whose signs are not those of Unicode.
_PLAIN = str.maketrans(
    {
        JOIN: " ",
        "“": '"',
        "”": '"',
        "’": "'",
        "–": "-",
        "−": "-",
        "²": "2",
        "³": "3",
        "½": "^0.5",
        "·": " ",
        "×": "x",
        "°": "",
        "µ": "u",
    }
)


def terminal(file: IO[str], environment: Mapping[str, str], width: int | None = None) -> Console:
    """Return a console that writes escapes to a terminal only, and none under NO_COLOR.

    Parameters
    ----------
    file : text file
    environment : mapping of str to str
        NO_COLOR, if it is there and not empty, takes bold and dim as well as colours.
    width : int or None
        In signs; None: that of the terminal, 80 to a pipe.
    """
    plain = bool(environment.get("NO_COLOR"))
    return Console(
        file=file,
        color_system=None if plain else "auto",
        no_color=plain,
        width=width,
        highlight=False,
        markup=False,
        emoji=False,
        _environ=environment,
    )


def show(forecast: Forecast, console: Console) -> None:
    """Write a forecast to a console.

    Parameters
    ----------
    forecast : Forecast
    console : Console
        From `terminal`.
    """
    with console.capture() as held:
        for block in _blocks(forecast):
            console.print(block)
    lines = (line.rstrip() for line in held.get().split("\n"))
    console.file.write(plain_signs("\n".join(lines), console.encoding))


def text(forecast: Forecast, width: int = 80) -> str:
    """Return a forecast as plain text of a width in signs."""
    file = io.StringIO()
    show(forecast, terminal(file, {"NO_COLOR": "1"}, width))
    return file.getvalue()


def plain_signs(said: str, encoding: str) -> str:
    """Return a text that an encoding can hold: other signs become near ones or "?"."""
    try:
        said.encode(encoding)
    except UnicodeEncodeError:
        return said.translate(_PLAIN).encode(encoding, "replace").decode(encoding)
    return said


def _blocks(forecast: Forecast) -> list[RenderableType]:
    invented = "  (invented demo)" if forecast.plan.invented else ""
    name = clean(forecast.plan.piece.name)
    ends = ", ".join(f"{count} {word}" for count, word in words.outcome_counts(forecast))
    said = " ".join(
        filter(
            None,
            (words.spread(forecast), words.what_stops_it(forecast), words.cold_shut(forecast)),
        )
    )
    return [
        Text(f"{name}{invented}", style="italic"),
        Text(words.answer(forecast), style="bold"),
        _text(said),
        _text(f"{ends}."),
        _heading("Weigh out"),
        _weigh(forecast),
        _heading("Take care"),
        *(_caution(k) for k in (*cautions.at_the_mix(), *cautions.at_the_pour(forecast))),
        _text(cautions.LAST_WORD),
        _heading("Part by part, in 100 pours"),
        _parts(forecast),
        *_findings(forecast),
        *_matters(forecast),
        _heading("What it does not know"),
        *(_text(line) for line in words.not_known(forecast)),
        _text(f"{forecast.draws} draws, seed {forecast.seed}."),
    ]


def _text(said: str) -> Text:
    # A join that does not break is a plain space here; lines may break anywhere between words.
    return Text(said.replace(JOIN, " "))


def _caution(kept: cautions.Caution) -> Text:
    return Text.assemble(_text(kept.text), (f" ({kept.source})", "dim"))


def _heading(said: str) -> Text:
    return Text.assemble("\n", (said, "bold"))


def _table(*, show_header: bool = True) -> Table:
    return Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=show_header)


def _weigh(forecast: Forecast) -> Table:
    table = _table(show_header=False)
    table.add_column()
    table.add_column(overflow="fold")
    for what, mass in words.weigh_out(forecast):
        table.add_row(Text(what), _text(mass))
    return table


def _parts(forecast: Forecast) -> Table:
    table = _table()
    table.add_column("part", overflow="fold", ratio=1)
    for heading in ("many", "thinnest", "weakest fills", "each one fills"):
        table.add_column(heading, justify="right", max_width=8)
    table.add_column("what stops it")
    for part in forecast.parts:
        table.add_row(
            Text(clean(part.name)),
            str(part.count),
            _text(millimetres(part.thinnest)),
            in_100(part.chance_weakest),
            Text(in_100(part.chance_full), style="bold"),
            "-" if part.cause is None else CAUSES[part.cause],
        )
    return table


def _findings(forecast: Forecast) -> list[RenderableType]:
    if not forecast.findings:
        return []
    table = _table(show_header=False)
    table.add_column()
    table.add_column(overflow="fold")
    for finding in words.sorted_findings(forecast):
        measured = words.measured(finding)
        source = words.sourced(finding.kind, finding.source)
        because = f" ({'; '.join(filter(None, (measured, source)))})"
        said = _text(clean(finding.text))
        said.append(because.replace(JOIN, " "), style="dim")
        table.add_row(Text(LEVELS[finding.level], style=_LOOKS[finding.level]), said)
    return [_heading("Findings"), table]


def _matters(forecast: Forecast) -> list[RenderableType]:
    ranked = words.rests_on(forecast)[:MOST_UNKNOWNS]
    if not ranked:
        return []
    table = _table(show_header=False)
    table.add_column(overflow="fold")
    table.add_column(justify="right")
    table.add_column(overflow="fold")
    for known, stands_out in ranked:
        how = words.moves(known) if stands_out else "within the noise"
        strength = number(round(known.rank_correlation, 2), 2)
        table.add_row(Text(unknown_name(known.key)), strength, f"{how}; {known.kind}")
    return [_heading("What matters most"), table, _text(words.estimates(forecast))]
