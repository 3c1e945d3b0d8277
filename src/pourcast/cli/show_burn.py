"""The burnout on a terminal: when it is dry and clean, what to watch, hour by hour."""

from collections.abc import Sequence

from rich.console import RenderableType
from rich.text import Text

from pourcast import units as si
from pourcast.burnout.curves import steps_of
from pourcast.burnout.dial import DialPlan
from pourcast.cli.show import findings_of, heading, plain_table, plain_text
from pourcast.findings import Finding
from pourcast.forecast.burnout_study import BurnoutStudy
from pourcast.forecast.model import BurnoutForecast
from pourcast.page import cautions, words_kiln
from pourcast.page import words_burn as words
from pourcast.page.figures import JOIN, clean, degrees, number
from pourcast.page.names import LEVELS
from pourcast.speech import Speech

MOST_ROWS = 14
"""Lines of the hours on one screen."""


def blocks(
    study: BurnoutStudy, *, start: si.Second | None = None, dial: DialPlan | None = None
) -> list[RenderableType]:
    """Return a burnout as blocks of text for a console.

    Parameters
    ----------
    study : BurnoutStudy
    start : float or None [s]
        Time of day at which the block goes in.
    dial : DialPlan, optional
        For a kiln that is turned by hand.
    """
    burnout, speech = study.burnout, study.plan.speech
    invented = "  (invented demo)" if study.plan.invented else ""
    order = list(LEVELS)
    told = sorted(
        (speech.finding(kept) for kept in study.findings if not _is_caution(kept)),
        key=lambda finding: order.index(finding.level),
    )
    care = cautions.at_the_kiln()
    return [
        Text(f"{clean(study.plan.piece.name)}{invented}: the burnout", style="italic"),
        Text(words.answer(burnout, start).replace(JOIN, " "), style="bold"),
        plain_text(words.chance(burnout)),
        plain_text(f"{words.heat(burnout, speech)} {words.ready(burnout, start)}"),
        heading(words_kiln.table_name(start)),
        _hours(study, start),
        *_lines(words_kiln.shortest_told(study.shortest) if study.shortest else []),
        heading("What the kiln does"),
        *_lines(words_kiln.steps_told(burnout, steps_of(burnout.curve), speech)),
        *_dial(dial, start, speech),
        heading("Over the day, in the middle of the draws"),
        _day(burnout, start, speech),
        *findings_of(told),
        heading("Take care"),
        *(Text.assemble(plain_text(kept.text), (f" ({kept.source})", "dim")) for kept in care),
        plain_text(cautions.LAST_WORD),
        plain_text(f"{study.draws} burnouts followed, seed {study.seed}."),
    ]


def _is_caution(finding: Finding) -> bool:
    return finding.key in {kept.finding for kept in cautions.at_the_kiln()}


def _lines(told: Sequence[str]) -> list[RenderableType]:
    return [plain_text(line) for line in told]


def _dial(dial: DialPlan | None, start: si.Second | None, speech: Speech) -> list[RenderableType]:
    if dial is None or start is None:
        return []
    return [
        heading("Turns of the dial"),
        plain_text("; ".join(words_kiln.turns_told(dial)) + "."),
        plain_text(words_kiln.dial_note(dial, start, speech)),
    ]


def _hours(study: BurnoutStudy, start: si.Second | None) -> RenderableType:
    table = plain_table()
    beside = study.burnout.curve.name != "usual"
    for head in ("", words.CURVES[study.burnout.curve.name], *(["usual"] if beside else [])):
        table.add_column(head)
    for what, here, there in words_kiln.hours_beside(study.burnout, study.usual, start):
        table.add_row(what, plain_text(here), *([plain_text(there)] if beside else []))
    return table


def _day(burnout: BurnoutForecast, start: si.Second | None, speech: Speech) -> RenderableType:
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
            plain_text(degrees(float(burnout.kiln[at]), speech)),
            plain_text(degrees(float(burnout.wall[1, at]), speech)),
            plain_text(degrees(float(burnout.core[1, at]), speech)),
            f"{number(water, 2)} %",
            plain_text(words.milligrams(float(burnout.char[1, at]))),
        )
    return table
