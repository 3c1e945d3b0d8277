"""Show: a result as a piece of HTML, or as one picture.

Every sentence and drawing is that of the page; nothing is worked out here.  The words on
what the forecast does not know stand beside the answer here as there.
"""

import functools
from collections.abc import Iterable, Sequence

from markupsafe import Markup, escape

from pourcast.change.document import cost_note
from pourcast.change.model import Ranking
from pourcast.forecast.model import BurnoutForecast, Calibration, Forecast, FreezeForecast
from pourcast.forecast.names import unknown_name
from pourcast.learn.model import Learnt
from pourcast.learn.pull_down_fit import PERMEABILITY, PullDown
from pourcast.learn.squeeze import range_by_the_book
from pourcast.materials import library
from pourcast.notebook.look import framed, picture
from pourcast.page import words, words_change, words_learn
from pourcast.page.figures import clean, hundred, in_100, millimetres, number, with_unit
from pourcast.page.svg_burn import heat_over_the_day
from pourcast.page.svg_freeze import when_solid
from pourcast.page.svg_plate import legend, plate
from pourcast.page.svg_tally import tally

MOST_CHANGES = 8
"""Rows of a ranking; the rest is told by `pourcast change`."""


@functools.singledispatch
def html(result: object) -> str:
    """Return a result as a piece of HTML with its own style.

    Parameters
    ----------
    result : Forecast, BurnoutForecast, FreezeForecast, Calibration, Learnt, PullDown or Ranking

    Raises
    ------
    TypeError
        If it is none of these.
    """
    raise TypeError(f"{type(result).__name__} has no picture of its own")


@functools.singledispatch
def svg(result: object) -> str:
    """Return a result as one picture, an SVG document that stands by itself.

    Parameters
    ----------
    result : Forecast, BurnoutForecast or FreezeForecast

    Raises
    ------
    TypeError
        If it is none of these.
    """
    raise TypeError(f"{type(result).__name__} has no picture of its own")


@html.register
def _forecast(result: Forecast) -> str:
    name = clean(result.plan.piece.name) or "A piece without a name"
    demo = " (invented demo)" if result.plan.invented else ""
    said = " ".join((words.spread(result), words.what_stops_it(result), words.unproved(result)))
    rows = [
        (
            str(place),
            clean(part.name),
            str(part.count),
            millimetres(part.thinnest),
            in_100(part.chance_weakest),
            in_100(part.chance_full),
            words.what_stops(result, part),
        )
        for place, part in enumerate(result.parts, start=1)
    ]
    head = ("", "part", "how many", "thinnest", "weakest fills", "every one fills", "stopped by")
    inside = Markup(
        '<p class="soft">{}{}</p><h3>{}</h3><p>{}</p><div class="two"><div>{}{}'
        '<p class="soft">{} {}</p></div><div>{}{}</div></div>'
    ).format(
        name,
        demo,
        words.headline(result),
        said,
        tally(hundred(result.outcomes)),
        _table(head, rows, numbers=(0, 2, 3, 4, 5)),
        words.estimates(result),
        " ".join(words.not_known(result)),
        plate(result),
        legend(),
    )
    return framed(inside)


@svg.register
def _forecast_picture(result: Forecast) -> str:
    return picture(plate(result))


@html.register
def _burnout(result: BurnoutForecast) -> str:
    return framed(_day(result))


@svg.register
def _burnout_picture(result: BurnoutForecast) -> str:
    return picture(_day(result))


def _day(result: BurnoutForecast) -> Markup:
    limits = library().investment["limits"]
    return heat_over_the_day(
        result, top=limits["burnout_peak_default"].si, stop=limits["burnout_peak_hard_stop"].si
    )


@html.register
def _freeze(result: FreezeForecast) -> str:
    return framed(when_solid(result))


@svg.register
def _freeze_picture(result: FreezeForecast) -> str:
    return picture(when_solid(result))


@html.register
def _calibration(result: Calibration) -> str:
    rows = []
    for kept in result.overrides:
        book = library().find(kept.key)[0]
        before = f"{number(book.value)} ({number(book.low)} to {number(book.high)})"
        now = f"{number(kept.value)} ({number(kept.low)} to {with_unit(kept.high, book.unit)})"
        rows.append((unknown_name(kept.key), before, now, clean(kept.source)))
    head = ("what", "by the book of values", "what was learnt", "from")
    return framed(
        Markup("<h3>{}</h3>{}").format(clean(result.name), _table(head, rows, numbers=()))
    )


@html.register
def _learnt(result: Learnt) -> str:
    head, *rows = words_learn.learnt_rows(result.values)
    said = _lines(words_learn.learnt_told(result))
    return framed(Markup("{}{}").format(said, _table(head, rows, numbers=())))


@html.register
def _pull_down(result: PullDown) -> str:
    before = range_by_the_book(library().find(PERMEABILITY)[0])
    return framed(_lines(words_learn.pull_down_told(result, before)))


@html.register
def _ranking(ranking: Ranking) -> str:
    result = words_change.as_told(ranking)
    rows = [
        (
            words_change.acts(change),
            words_change.moved(change),
            words_change.gain(change),
            note,
        )
        for change, note in (
            *((each, cost_note(each)) for each in result.combinations),
            *words_change.rows(result.changes),
        )[:MOST_CHANGES]
    ]
    head = ("change", "whole pieces", "gain in 100 pours", "costs")
    return framed(
        Markup("<h3>{}</h3>{}").format(words_change.first(result), _table(head, rows, numbers=()))
    )


def _lines(said: Iterable[str]) -> Markup:
    return Markup("").join(Markup("<p>{}</p>").format(line) for line in said)


def _table(head: Sequence[str], rows: Iterable[Sequence[str]], *, numbers: Sequence[int]) -> Markup:
    def row(cells: Sequence[str], tag: str) -> str:
        return "".join(
            f"<{tag}{_right(place in numbers)}>{escape(cell)}</{tag}>"
            for place, cell in enumerate(cells)
        )

    body = "".join(f"<tr>{row(cells, 'td')}</tr>" for cells in rows)
    return Markup(f"<table><thead><tr>{row(head, 'th')}</tr></thead><tbody>{body}</tbody></table>")


def _right(numeric: bool) -> str:
    return ' class="n"' if numeric else ""
