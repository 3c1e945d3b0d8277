"""The burnout on a terminal: when it is dry and clean, what to watch, hour by hour."""

from rich.console import RenderableType
from rich.text import Text

from pourcast import units as si
from pourcast.cli.show import findings_of, heading, plain_table, plain_text
from pourcast.findings import Finding
from pourcast.forecast.model import BurnoutForecast
from pourcast.page import cautions
from pourcast.page import words_burn as words
from pourcast.page.figures import celsius, number

MOST_ROWS = 14
"""Lines of the hours on one screen."""


def blocks(
    name: str,
    burnout: BurnoutForecast,
    findings: tuple[Finding, ...],
    *,
    start: si.Second | None = None,
) -> list[RenderableType]:
    """Return the burnout as blocks of text for a console.

    Parameters
    ----------
    name : str
        Of the piece.
    burnout : BurnoutForecast
    findings : tuple of Finding
    start : float or None [s]
        Time of day at which the block goes in.
    """
    care = cautions.at_the_kiln()
    return [
        Text(name, style="italic"),
        Text(words.answer(burnout, start).replace("\u00a0", " "), style="bold"),
        plain_text(words.chance(burnout)),
        plain_text(f"{words.heat(burnout)} {words.ready(burnout, start)}"),
        heading("Usual (early to late)"),
        _hours(burnout, start),
        heading("Over the day, in the middle of the draws"),
        _day(burnout, start),
        *findings_of(findings),
        heading("Take care"),
        *(Text.assemble(plain_text(kept.text), (f" ({kept.source})", "dim")) for kept in care),
        plain_text(cautions.LAST_WORD),
    ]


def _hours(burnout: BurnoutForecast, start: si.Second | None) -> RenderableType:
    table = plain_table(show_header=False)
    table.add_column()
    table.add_column()
    for what, hour in (
        ("dry", burnout.dry_at),
        ("wax gone", burnout.wax_gone_at),
        ("clean", burnout.clean_at),
        ("core at casting temperature", burnout.ready_at),
    ):
        table.add_row(what, plain_text(words.hours_told(hour, start)))
    return table


def _day(burnout: BurnoutForecast, start: si.Second | None) -> RenderableType:
    table = plain_table()
    for head in ("time" if start is not None else "after", "kiln", "wall", "core"):
        table.add_column(head, justify="right")
    table.add_column("water left", justify="right")
    table.add_column("char", justify="right")
    count = burnout.time.size
    rows = min(MOST_ROWS, count)
    for row in range(rows):
        at = round(row * (count - 1) / max(rows - 1, 1))
        water = 100.0 * float(burnout.water[1, at])
        table.add_row(
            plain_text(words.bare(float(burnout.time[at]), start)),
            plain_text(celsius(float(burnout.kiln[at]))),
            plain_text(celsius(float(burnout.wall[1, at]))),
            plain_text(celsius(float(burnout.core[1, at]))),
            f"{number(water, 2)} %",
            plain_text(words.milligrams(float(burnout.char[1, at]))),
        )
    return table
