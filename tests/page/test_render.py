"""The page as one file."""

import base64
import hashlib
import re
from dataclasses import replace

import pytest

from pourcast.page.names import CAUSES
from pourcast.page.render import render
from pourcast.page.svg_pictures import fill_times, ruler, untimed
from pourcast.page.usual import Chosen, pour_values
from tests.page import sample
from tests.page.reader import Page, pictures

EVIL = "<script>alert(\"x\")</script> & 'q' \u202eevil\u202c \x1b[2J" + "W" * 270


@pytest.fixture(scope="module")
def text() -> str:
    return render(sample.forecast())


@pytest.fixture(scope="module")
def page(text: str) -> Page:
    return Page(text)


def test_page_is_well_formed(text: str, page: Page) -> None:
    """HTML standard: every tag closed in order; every picture is well-formed XML (XML 1.0)."""
    assert [tag for tag, _ in page.tags].count("h1") == 1
    assert len(pictures(text)) >= 5


def test_page_asks_for_nothing_from_outside(text: str, page: Page) -> None:
    """House rule: one file; no script, picture file, typeface, form or other page.

    Checked on tags and attributes of HTML that fetch (HTML standard).
    """
    tags = {tag for tag, _ in page.tags}

    assert not tags & {"script", "link", "img", "iframe", "form", "object", "embed", "base"}
    for _, kept in page.tags:
        assert not {"src", "srcset", "style", "action"} & set(kept)
        assert not [name for name in kept if name.startswith("on")]
        assert kept.get("href", "#").startswith("#")
    for word in ("http:", "https:", "src=", "@import", "url(h", "data:"):
        assert word not in text


def test_every_link_has_its_place(page: Page) -> None:
    """HTML standard: a fragment leads to an id, and an id stands once."""
    ids = [kept["id"] for _, kept in page.tags if "id" in kept]

    assert len(ids) == len(set(ids))
    for tag, kept in page.tags:
        if "href" in kept:
            assert kept["href"][1:] in ids, tag
        for name in ("aria-labelledby", "for"):
            assert set(kept.get(name, "").split()) <= set(ids)


def test_policy_names_the_one_style_by_its_hash(text: str) -> None:
    """CSP level 3: 'sha256-' and the base64 of the hash of the element's text."""
    [style] = re.findall(r"<style>(.*?)</style>", text, flags=re.DOTALL)
    wanted = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()

    assert f"default-src 'none'; style-src 'sha256-{wanted}'" in text
    assert "unsafe" not in text


def test_table_tells_what_the_record_tells(page: Page) -> None:
    """Arithmetic: chance in 100 and millimetres, written by Python's own formatting."""
    forecast = sample.forecast()
    body = page.rows["parts"][1:]

    assert len(body) == len(forecast.parts)
    for k, (row, part) in enumerate(zip(body, forecast.parts, strict=True)):
        assert row[0] == str(k + 1)
        assert row[1] == part.name
        assert row[2] == str(part.count)
        assert float(row[3]) == float(f"{part.thinnest * 1000:.2g}")
        for cell, chance in ((row[4], part.chance_weakest), (row[5], part.chance_full)):
            near = f"{chance * 100 + 1e-9:.0f}"
            assert cell == ("over 99" if near == "100" else near)
        assert row[6] == ("–" if part.cause is None else CAUSES[part.cause])


def test_weights_of_the_page_are_those_of_the_record(page: Page) -> None:
    """Arithmetic: kilograms times 1000."""
    assert "Stir 608 g of powder into 243 g of water." in page.text.replace("\u00a0", " ")
    assert "Melt 90.4 g and pour at 1150 °C." in page.text.replace("\u00a0", " ")


def test_each_finding_and_value_stands_on_the_page(page: Page) -> None:
    """House rule: a finding with its source, a value with its range, kind and source."""
    forecast = sample.forecast()

    for finding in forecast.findings:
        assert finding.text in page.text
        assert finding.source in page.text
    assert len(page.rows["values"]) == 1 + len(forecast.unknowns)
    for row, known in zip(page.rows["values"][1:], forecast.unknowns, strict=True):
        assert known.kind in row[5]
    assert "400 pours followed, seed 14" in page.text


def test_cautions_stand_in_the_rows(page: Page) -> None:
    """House rule: the caution stands where the act is."""
    assert page.text.count("Take care.") == 2
    for word in ("silica", "steam", "Fume", "carbon monoxide", "flask under vacuum"):
        assert word in page.text


def test_invented_piece_is_marked(page: Page) -> None:
    """House rule: a demo piece says that it is invented, another does not."""
    base = sample.forecast()
    real = Page(render(replace(base, plan=replace(base.plan, invented=False))))

    assert "invented demo" in page.text
    assert "invented demo" not in real.text


def test_names_stay_text() -> None:
    """HTML standard: < and & of a name are text, and it cannot turn the page or clear it."""
    text = render(sample.named(EVIL, EVIL))
    page = Page(text)

    assert "script" not in {tag for tag, _ in page.tags}
    assert "<script>alert(\"x\")</script> & 'q' evil" in page.text
    assert not {"\u202e", "\u202c", "\x1b"} & set(text)
    assert len(pictures(text)) >= 5


def test_name_from_right_to_left_stands_alone() -> None:
    """HTML standard: bdi keeps the direction of a name from what stands beside it."""
    text = render(sample.named("מרגנית 12", "שן"))

    assert "<bdi>מרגנית 12</bdi>" in text
    assert "<bdi>שן</bdi>" in text


def test_part_that_was_never_full_is_named_in_words() -> None:
    """House rule: what has no time is not drawn and not left out."""
    base = sample.forecast()
    last = replace(base.parts[-1], fill_time=None, chance_full=0.0)
    some = replace(base, parts=(*base.parts[:-1], last))
    none = replace(base, parts=tuple(replace(p, fill_time=None) for p in base.parts))

    assert untimed(some) == "Full in no pour: Bristles."
    assert "Bristles" not in fill_times(some)
    assert "No part was full" in fill_times(none)
    Page(render(none))


def test_bar_of_the_ruler_lies_where_the_usual_range_lies() -> None:
    """Geometry: the band runs from low to high and the mark of a middle value is its middle.

    Tolerance 0.1: places are written to 0.1.
    """
    [drawn] = pictures(
        ruler(Chosen(label="x", value=50.0, unit="kPa", usual=(40.0, 60.0), note="estimate"))
    )

    [band] = list(drawn.iter("rect"))
    [mark] = [node.get("d", "") for node in drawn.iter("path") if node.get("class") == "now"]
    middle = float(band.attrib["x"]) + float(band.attrib["width"]) / 2
    left_of_mark = float(mark[1:].split(",")[0])
    assert left_of_mark + 7 == pytest.approx(middle, abs=0.11)


def test_unknown_alloy_has_no_usual_range() -> None:
    """House rule: no band without a record."""
    base = sample.forecast()
    charge = replace(base.plan.charge, alloy="own_mix")
    forecast = replace(base, plan=replace(base.plan, charge=charge))

    assert [row.usual for row in pour_values(forecast)][:2] == [None, None]
    assert "own mix" in Page(render(forecast)).text


def test_flask_without_a_temperature_says_so() -> None:
    """House rule: what is not said is not made up."""
    base = sample.forecast()
    flask = replace(base.plan.flask, temperature=None)
    page = Page(render(replace(base, plan=replace(base.plan, flask=flask))))

    assert "not said" in page.text


def test_forecast_without_findings_or_unknowns_has_a_page() -> None:
    """House rule: an empty list is a sentence."""
    page = Page(render(replace(sample.forecast(), findings=(), unknowns=())))

    assert "Nothing was found that needs a word." in page.text
    assert "No value was varied." in page.text


def test_same_forecast_gives_the_same_page() -> None:
    """House rule: same input, same output."""
    assert render(sample.forecast()) == render(sample.forecast())


def test_page_speaks_to_a_screen_reader(text: str, page: Page) -> None:
    """WCAG 2.2, 1.1.1 and 1.3.1: each picture has a name or is hidden; tables have headings."""
    for picture in pictures(text):
        named = picture.get("aria-label") or picture.get("aria-labelledby")
        assert named or picture.get("aria-hidden") == "true"
        assert picture.get("role") == "img" or picture.get("aria-hidden") == "true"
    assert [tag for tag, _ in page.tags].count("caption") == 2
    assert all("scope" in kept for tag, kept in page.tags if tag == "th")
    assert ("html", {"lang": "en"}) in page.tags
