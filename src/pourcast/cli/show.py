"""The forecast on a terminal: plain sentences first, then figures.

What is shown fills about one screen; ``full`` adds all findings, the cautions
in full and what the chance rests on.  The sentences are those of the page.  A
pipe and NO_COLOR get text without any escape; names from a piece file are
cleaned of signs that would steer the terminal.
"""

import io
from collections.abc import Mapping, Sequence
from typing import IO

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from pourcast.cli.signs import plain_signs
from pourcast.findings import Finding, Level, in_100_draws
from pourcast.forecast.model import Forecast, PartForecast
from pourcast.page import cautions, findings, words, words_burn, words_finish, words_freeze
from pourcast.page.figures import JOIN, clean, millimetres, number
from pourcast.page.names import LEVELS, unknown_name
from pourcast.page.words_rests import rests_on

MOST_UNKNOWNS = 5
"""Lines under "What matters most"."""

MOST_PARTS = 6
"""Parts on one screen; the weakest are kept."""

MOST_TO_WATCH = 2
"""Things to watch for on one screen."""

NARROW = 72
"""Signs below which the table of parts leaves out how many and how thin."""

_LOOKS: dict[Level, str] = {"STOP": "bold red", "WATCH": "yellow", "GOOD": "green"}


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


def show(forecast: Forecast, console: Console, *, full: bool = False) -> None:
    """Write a forecast to a console.

    Parameters
    ----------
    forecast : Forecast
    console : Console
        From `terminal`.
    full : bool
        All of it, not one screen.
    """
    write(_all(forecast, console.width) if full else _screen(forecast, console.width), console)


def write(blocks: Sequence[RenderableType], console: Console) -> None:
    """Write blocks to a console, without blanks at the ends of lines."""
    with console.capture() as held:
        for block in blocks:
            console.print(block)
    lines = (line.rstrip() for line in held.get().split("\n"))
    console.file.write(plain_signs("\n".join(lines), console.encoding))


def write_lines(lines: Sequence[str], console: Console) -> None:
    """Write lines to a console; one that is too long goes on under its own first word."""
    words = [line.lstrip() for line in lines]
    pairs = zip(lines, words, strict=True)
    write(
        [Padding(plain_text(said), (0, 0, 0, len(line) - len(said))) for line, said in pairs],
        console,
    )


def text(forecast: Forecast, width: int = 80, *, full: bool = False) -> str:
    """Return a forecast as plain text of a width in signs."""
    file = io.StringIO()
    show(forecast, terminal(file, {"NO_COLOR": "1"}, width), full=full)
    return file.getvalue()


def _screen(forecast: Forecast, width: int) -> list[RenderableType]:
    whole = [kept for kept in findings.of_the_whole(forecast) if kept.level != "STOP"]
    rests = [findings.brief(kept.text, 0) for kept in whole]
    rests.insert(1, words.estimates(forecast))
    care = " ".join(caution.text for caution in cautions.in_short())
    return [
        *_answer(forecast),
        heading("Part by part, in 100 pours"),
        *_parts(forecast, width, MOST_PARTS),
        Text(),
        plain_text(" ".join([words.weigh_line(forecast), *_later(forecast)])),
        *_to_heed(forecast),
        Text(),
        plain_text(" ".join(rests)),
        Text(),
        Text.assemble(("Take care. ", "bold"), plain_text(f"{care} {cautions.LAST_WORD}")),
        plain_text("All of it, with sources: --full, or --page FILE."),
    ]


def _later(forecast: Forecast) -> list[str]:
    """Return one sentence for each stage that is worked out beside the pour."""
    burnout, freeze, finish = forecast.burnout, forecast.freeze, forecast.finish
    told = [f"In the kiln: {words_burn.answer(burnout, opens=False)}"] if burnout else []
    told += [words_freeze.answer(freeze), words_freeze.quench(freeze)] if freeze else []
    return told + ([words_finish.answer(finish)] if finish else [])


def _all(forecast: Forecast, width: int) -> list[RenderableType]:
    care = (
        *cautions.at_the_mix(),
        *cautions.at_the_kiln(),
        *cautions.at_the_pour(forecast),
        *cautions.at_the_quench(),
        *cautions.at_the_break_out(),
    )
    # Two acts may share a caution; on one page it stands once.
    care = tuple(dict.fromkeys(care))
    return [
        *_answer(forecast),
        heading("Part by part, in 100 pours"),
        *_parts(forecast, width, len(forecast.parts)),
        heading("Weigh out"),
        _weigh(forecast),
        heading("Take care"),
        *(Text.assemble(plain_text(kept.text), (f" ({kept.source})", "dim")) for kept in care),
        plain_text(cautions.LAST_WORD),
        *findings_of(findings.sorted_findings(forecast)),
        *_matters(forecast),
        heading("What it does not know"),
        *(plain_text(line) for line in words.not_known(forecast)),
        plain_text(f"{forecast.draws} pours followed, seed {forecast.seed}."),
    ]


def plain_text(said: str) -> Text:
    """Return a sentence as text of a console."""
    # A join that does not break is a plain space here; lines may break anywhere between words.
    return Text(said.replace(JOIN, " "))


def heading(said: str) -> Text:
    """Return a line that begins a block."""
    return Text.assemble("\n", (said, "bold"))


def plain_table(*, show_header: bool = True) -> Table:
    """Return an empty table without lines."""
    return Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=show_header)


def _answer(forecast: Forecast) -> list[RenderableType]:
    invented = "  (invented demo)" if forecast.plan.invented else ""
    name = clean(forecast.plan.piece.name)
    ends = ", ".join(f"{count} {word}" for count, word in words.outcome_counts(forecast))
    sentences = (
        words.spread(forecast),
        words.what_stops_it(forecast),
        words.unproved(forecast),
        words.cold_shut(forecast),
    )
    return [
        Text(f"{name}{invented}", style="italic"),
        Text(words.answer(forecast), style="bold"),
        *_held_up(forecast),
        plain_text(" ".join(filter(None, sentences))),
        plain_text(f"{ends}."),
    ]


def _held_up(forecast: Forecast) -> list[RenderableType]:
    said = findings.held_up(forecast)
    first = [findings.brief(kept.text) for kept in findings.first_of_all(forecast)]
    return [
        *([Text(said, style=_LOOKS["STOP"])] if said else []),
        *(Text(f"{findings.MEND_FIRST} {each}", style=_LOOKS["WATCH"]) for each in first),
    ]


def _parts(forecast: Forecast, width: int, most: int) -> list[RenderableType]:
    def weakness(part: PartForecast) -> tuple[float, float, bool]:
        return part.chance_full, part.chance_weakest, not words.is_watched(forecast, part)

    weak = sorted(forecast.parts, key=weakness)
    shown, left = weak[:most], weak[most:]
    wide = width >= NARROW
    table = plain_table()
    table.add_column("part", overflow="fold", ratio=1)
    for heading in (*(("how many", "thinnest") if wide else ()), "weakest one fills"):
        table.add_column(heading, justify="right", max_width=9, min_width=4)
    table.add_column("every one fills", justify="right", max_width=9, min_width=4)
    table.add_column("what stops it")
    for part in forecast.parts:
        if part not in shown:
            continue
        sizes = (str(part.count), plain_text(millimetres(part.thinnest))) if wide else ()
        table.add_row(
            Text(clean(part.name)),
            *sizes,
            in_100_draws(part.chance_weakest),
            Text(in_100_draws(part.chance_full), style="bold"),
            words.what_stops(forecast, part),
        )
    if not left:
        return [table]
    least = in_100_draws(left[0].chance_full)
    rest = f"each in {least}" if least.startswith("over") else f"each in {least} or more"
    return [table, plain_text(f"and {len(left)} more, {rest}.")]


def _weigh(forecast: Forecast) -> Table:
    table = plain_table(show_header=False)
    table.add_column()
    table.add_column(overflow="fold")
    for what, mass in words.weigh_out(forecast):
        table.add_row(Text(what), plain_text(mass))
    return table


def _rows(rows: list[tuple[Finding, Text]]) -> Table:
    table = plain_table(show_header=False)
    table.add_column()
    table.add_column(overflow="fold")
    for finding, said in rows:
        table.add_row(Text(LEVELS[finding.level], style=_LOOKS[finding.level]), said)
    return table


def _to_heed(forecast: Forecast) -> list[RenderableType]:
    watch = findings.to_watch(forecast)
    rows = [(finding, plain_text(clean(finding.text))) for finding in findings.to_stop(forecast)]
    for alike in watch[:MOST_TO_WATCH]:
        said = findings.brief(alike.finding.text) + alike.too
        rows.append((alike.finding, plain_text(said)))
    if not rows:
        return []
    more = len(watch) - MOST_TO_WATCH
    return [
        Text(),
        _rows(rows),
        *([plain_text(f"and {more} more to watch for: --full.")] if more > 0 else []),
    ]


def findings_of(told: Sequence[Finding]) -> list[RenderableType]:
    """Return findings with what they were held against; nothing where there are none."""
    rows = []
    for finding in told:
        measured = findings.measured(finding)
        source = findings.sourced(finding.kind, finding.source)
        because = f" ({'; '.join(filter(None, (measured, source)))})"
        said = plain_text(clean(finding.text))
        said.append(because.replace(JOIN, " "), style="dim")
        rows.append((finding, said))
    return [heading("Findings"), _rows(rows)] if rows else []


def _matters(forecast: Forecast) -> list[RenderableType]:
    ranked = rests_on(forecast)[:MOST_UNKNOWNS]
    if not ranked:
        return []
    table = plain_table(show_header=False)
    table.add_column(overflow="fold")
    table.add_column(justify="right")
    table.add_column(overflow="fold")
    for known, stands_out in ranked:
        how = words.moves(known) if stands_out else "within the noise"
        strength = number(round(known.rank_correlation, 2), 2)
        table.add_row(
            Text(unknown_name(known.key, forecast.plan.speech)), strength, f"{how}; {known.kind}"
        )
    return [heading("What matters most"), table, plain_text(words.estimates(forecast))]
