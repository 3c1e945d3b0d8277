"""Which finding is said where, and how short."""

import itertools
from dataclasses import replace

import numpy as np

from pourcast import materials
from pourcast.burnout.matter_checks import matter_findings
from pourcast.burnout.model import Original
from pourcast.cli import show
from pourcast.findings import Finding, Level, in_order
from pourcast.forecast.model import Forecast
from pourcast.forecast.names import unknown_name
from pourcast.forecast.unknowns import unknowns
from pourcast.materials import caution
from pourcast.page import findings, svg_labels
from pourcast.page.render import render
from pourcast.sheet import new_sheet, read_plan
from tests.page import sample
from tests.page.reader import Page


def _with(*more: Finding) -> Forecast:
    base = sample.forecast()
    return replace(base, findings=(*base.findings, *more))


def _fact(key: str) -> Finding:
    kept = materials.library().facts[key]
    return caution(kept, "melt")


def _of_the_whole(level: Level) -> Finding:
    return Finding(
        stage="forecast", key="left-out", level=level, text=f"This is to {level.casefold()}."
    )


def test_each_finding_has_one_place() -> None:
    """Count: cautions, beside the act, the whole and the good are all, and no two share one."""
    forecast = _with(_fact("silica_dust"), _fact("so2"), _of_the_whole("WATCH"))

    places = [
        *(alike.finding for alike in findings.beside_the_act(forecast, "piece", "mould", "pour")),
        *findings.of_the_whole(forecast),
        *findings.good(forecast),
    ]

    assert len(places) == len(forecast.findings) - 2
    assert len({finding.text for finding in places}) == len(places)


def test_caution_stands_once_on_the_page() -> None:
    """House rule: each thing is said once, though a stage gives the caution as a finding too."""
    keys = ("silica_dust", "moisture", "metal_fume", "ppe", "so2")

    text = Page(render(_with(*(_fact(key) for key in keys)))).text

    for key in keys:
        assert text.count(_fact(key).text) == 1


def test_what_speaks_of_the_whole_stands_before_the_table() -> None:
    """House rule: what the answer rests on and does not know stands beside the answer."""
    text = Page(render(_with(_of_the_whole("WATCH"), _of_the_whole("STOP")))).text

    table = text.index("Part by part")
    assert text.index("Stop. This is to stop.") < text.index("This is to watch.") < table
    assert text.count("This is to watch.") == 1


def test_good_findings_and_the_list_of_values_are_folded() -> None:
    """HTML standard: what stands in a details element is folded until it is opened."""
    text = render(sample.forecast())
    folded = "".join(part.partition("</details>")[0] for part in text.split("<details>")[1:])

    assert "The block beside the piece is 12 mm thick." in folded
    assert '<table role="table" class="values">' in folded
    assert "The cup holds less metal" not in folded


def test_text_is_cut_between_sentences() -> None:
    """House rule: whole sentences; a clause before a colon counts as one; the first always stays.

    A point inside a number or a unit ends nothing.
    """
    said = "It takes 0.73 s. Wait 2 s. Not longer: it cools. So it does."

    assert findings.brief(said, 1000) == said
    assert findings.brief(said, 0) == "It takes 0.73 s."
    assert findings.brief(said, 27) == "It takes 0.73 s. Wait 2 s."
    assert findings.brief(said, 40) == "It takes 0.73 s. Wait 2 s. Not longer."


def test_limits_of_fume_are_left_to_the_caution() -> None:
    """House rule: the caution tells of fume; what an alloy is flagged for comes first."""
    fume = replace(_fact("so2"), key="fume-lead", text="Fume.", limit=0.1, unit="mg/m³")
    flag = replace(_fact("so2"), key="alloy-flag", text="NOT FOR A HOME STUDIO.")

    watch = [alike.finding.text for alike in findings.to_watch(_with(fume, flag))]

    assert watch[0] == "NOT FOR A HOME STUDIO."
    assert "Fume." not in watch


def test_what_does_not_burn_stands_first_at_the_bench() -> None:
    """Trade: a pin can be pulled until the piece is invested; common practice, no source.

    It stands among the two that are not folded away, and among the two of the terminal.
    """
    (pin,) = matter_findings(Original(holds=("pin",)), materials.library().matter)
    thin = [
        Finding(
            stage="piece", key="thin-for-trade", level="WATCH", text=f"{name} is thin.", value=0.5
        )
        for name in "abc"
    ]
    forecast = _with(*thin, pin)

    bench = findings.beside_the_act(forecast, "piece")
    at_the_kiln = findings.beside_the_act(forecast, "burnout")

    assert bench[0].finding == pin
    assert pin not in [each.finding for each in at_the_kiln]
    assert pin in [each.finding for each in findings.to_watch(forecast)[:2]]


def test_what_all_else_rests_on_stands_with_the_answer_on_page_and_terminal() -> None:
    """House rule: a sheet that its own weighing contradicts is mended before it is read on."""
    said = "The sheet comes to 4 ml, the water to 2 ml. The sheet is likelier wrong."
    off = Finding(
        stage="piece",
        key="volume-by-water",
        level="WATCH",
        text=said,
        value=100.0,
        limit=15.0,
        first=True,
    )
    late = replace(off, text="A part leans.", first=False)
    forecast = _with(late, off)

    page = Page(render(forecast)).text
    screen = " ".join(show.text(forecast).split())

    assert page.index(f"Mend first. {said}") < page.index("Part by part")
    assert screen.index(f"Mend first. {said}") < screen.index("Part by part")
    assert screen.count(said) == 1
    assert in_order(forecast.findings)[0] is off
    assert [each for each in in_order(forecast.findings) if each is not off] == [
        each for each in forecast.findings if each is not off
    ]
    assert off not in [alike.finding for alike in findings.to_watch(forecast)]


def test_every_value_that_is_varied_has_a_name_of_its_own() -> None:
    """House rule: no key of the values stands on a page as a name."""
    plan = read_plan(new_sheet("x"))
    book = materials.library()
    hot = replace(plan, flask=replace(plan.flask, temperature=873.0))
    for one, thinnest in itertools.product((plan, hot), (0.0004, 0.002, 0.004, 0.02)):
        known = unknowns(one, book.alloy(one.charge.alloy), book, thinnest, None)
        for value in known.values():
            key = value.key.rpartition(".")[2]
            assert unknown_name(value.key) != key.replace("_", " "), value.key


def test_glass_takes_the_place_whose_line_crosses_least() -> None:
    """Geometry: the left is nearer, but only to the right is there a gap for the line."""
    heights = np.linspace(35.0, 65.0, 61)
    gap = np.abs(heights - 50.0) > 5.0
    closed = np.stack([np.full(61, -5.5), heights], axis=1)
    open_ = np.stack([np.full(int(gap.sum()), 8.0), heights[gap]], axis=1)

    found = svg_labels.empty_place(
        np.concatenate([closed, open_]), 10.0, 40.0, 0.0, 100.0, (0.0, 50.0)
    )

    assert found is not None
    assert found[0] > 8.0
