"""The break-out page: what is ticked is in the book, nothing typed is lost, causes are told.

The pairs of sign and cause are common practice, no source; the rest is our own rule.
"""

import re
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.book.kiln_days import begin_day
from pourcast.book.outcomes import pours_of, revisions
from pourcast.book.pictures import photographs_of
from pourcast.book.plans import latest_plan

LARCH = Path("examples/larch_twig.toml").read_text(encoding="utf-8")
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c"
    "6360000002000001e221bc330000000049454e44ae426082"
)


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Studio]:
    with Studio(tmp_path_factory.mktemp("studio")) as opened:
        yield opened


@pytest.fixture(scope="module")
def browser(studio: Studio) -> TestClient:
    own = "http://127.0.0.1"
    origin = {"origin": own}
    return TestClient(make_app(studio), own, client=("127.0.0.1", 50_000), headers=origin)


def token(page: str) -> str:
    found = re.search(r'name="token" value="([^"]+)"', page)
    assert found
    return found[1]


def test_piece_goes_from_the_shelf_over_the_form_to_book_and_causes(
    studio: Studio, browser: TestClient
) -> None:
    piece = studio.add(LARCH)
    at = f"/break-out/{piece.id}"
    assert "Larch twig" in browser.get("/break-out").text

    first = browser.get(at).text
    assert "Keep the plan" in first
    form = browser.post(f"{at}/keep", data={"token": token(first)}).text
    assert "1 twig" in form
    assert 'href="#part-6"' in form  # a number of the picture for each of seven parts

    # Half filled in, and the window is shut: the draft stands on the disk.
    names = [part.name for part in latest_plan(studio.book, _book_id(studio, piece.id)).parts]
    scale = names.index("open scale")
    half = {"token": token(form), f"state-{scale}": "short", f"by-{scale}": "abc", "note": "ends"}
    assert browser.post(f"{at}/draft", data=half).status_code == 204
    again = browser.get(at).text
    assert 'value="abc"' in again
    assert ">ends</textarea>" in again

    # A fault comes back with all that was typed.
    wrong = browser.post(at, data=half)
    assert wrong.status_code == 422
    assert "cannot be written down yet" in wrong.text
    assert 'value="abc"' in wrong.text

    told = {
        **half,
        f"by-{scale}": "1.5",
        f"members-{scale}": "4",
        "sign-porosity": "some",
        "where-porosity": "0",
        "button": "full",
        "sure": "fairly",
        "seen": "2026-03-04",
        "poured": "2026-03-03",
    }
    came = browser.post(at, data=told, files={"photo": ("tip.png", PNG, "image/png")})
    assert came.status_code == 200
    assert came.url.path == f"{at}/came"
    assert "short 1.5 mm, 4 of 36" in came.text
    assert "What may be behind it" in came.text
    assert "they prove none" in came.text
    # Some hundred draws make no certainty, here as on the page of the piece.
    assert '<td class="n">over 99</td>' in came.text
    assert '<td class="n">100</td>' not in came.text

    plan = latest_plan(studio.book, _book_id(studio, piece.id))
    (pour,) = pours_of(studio.book, plan.id)
    (outcome,) = revisions(studio.book, pour.id)
    by_name = {part.part: part for part in outcome.parts}
    assert by_name["open scale"].short_by_mm == 1.5
    assert by_name["open scale"].members_short == 4
    assert by_name["twig"].signs == (("porosity", "some"),)
    assert (outcome.button, outcome.sure, outcome.note) == ("full", "fairly", "ends")
    assert outcome.seen.isoformat() == "2026-03-04"
    assert len(photographs_of(studio.book, plan.piece_id)) == 1

    # An answer goes into the diagnosis, and the form opens as it was told.
    answered = browser.get(f"{at}/came", params={"button_sunk": "no", "nonsense": "yes"})
    assert "Is the button sunk deep? No." in answered.text
    corrected = browser.get(at).text
    assert "told before" in corrected
    assert 'value="1.5"' in corrected


def test_second_telling_is_kept_beside_the_first_and_another_pour_is_another(
    studio: Studio, browser: TestClient
) -> None:
    piece = studio.add(LARCH.replace("Larch twig with three cones", "Second twig"))
    at = f"/break-out/{piece.id}"
    page = browser.post(f"{at}/keep", data={"token": token(browser.get(at).text)}).text
    for note in ("one", "two"):
        browser.post(at, data={"token": token(page), "note": note})
    browser.post(at, data={"token": token(page), "note": "three", "another": "yes"})

    plan = latest_plan(studio.book, _book_id(studio, piece.id))
    pours = pours_of(studio.book, plan.id)
    notes = [[each.note for each in revisions(studio.book, pour.id)] for pour in pours]
    assert sorted(notes) == [["one", "two"], ["three"]]
    # The page tells of the latest pour, and not of the first.
    assert "<i>three</i>" in browser.get(f"{at}/came").text
    assert ">three</textarea>" in browser.get(at).text


def of_yesterday(studio: Studio, name: str) -> tuple[str, str]:
    """Keep a piece whose kiln was lit yesterday; return its page and the id of its plan."""
    piece = studio.add(LARCH.replace("Larch twig with three cones", name))
    plan = studio.keep_in_book(piece.id)
    lit = datetime.now().astimezone() - timedelta(days=1)
    begin_day(studio.book, plan.id, start=lit, at=lit)
    return f"/break-out/{piece.id}", plan.id


def test_poured_on_counts_and_may_be_corrected_and_both_are_kept(
    studio: Studio, browser: TestClient
) -> None:
    """Lit in the evening, poured the next day: once the field was passed over."""
    at, plan = of_yesterday(studio, "Evening twig")
    today = date.today()
    lit = today - timedelta(days=1)
    page = browser.get(at).text
    assert f'name="poured" type="date" max="{today}" value="{lit}"' in page
    assert f"Kiln lit on {lit}" in page

    early = {"token": token(page), "poured": str(lit - timedelta(days=1)), "note": "typed"}
    wrong = browser.post(at, data=early)
    assert wrong.status_code == 422
    assert f"it must be {lit}, when the kiln was lit, or later" in wrong.text
    assert '<p class="faulty"><label for="poured">' in wrong.text
    assert ">typed</textarea>" in wrong.text

    for day in (today, lit, today):
        came = browser.post(at, data={**early, "poured": str(day)})
        assert came.status_code == 200
        assert f"Poured on {day}." in came.text
    (pour,) = pours_of(studio.book, plan)
    assert (pour.day, pour.lit, pour.days_entered) == (today, lit, 3)
    assert f'value="{today}"' in browser.get(at).text
    assert f'<td role="cell" data-is="poured">{today}</td>' in browser.get("/book").text


def test_a_form_without_its_day_leaves_that_of_the_book(
    studio: Studio, browser: TestClient
) -> None:
    at, plan = of_yesterday(studio, "Left twig")
    for fields in ({}, {"poured": ""}):
        browser.post(at, data={"token": token(browser.get(at).text), **fields})

    (pour,) = pours_of(studio.book, plan)
    assert (pour.day, pour.days_entered) == (pour.lit, 0)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"poured": "2099-03-01"}, "which is today, or earlier"),
        ({"state-0": "melted"}, "must be one of"),
        ({"sign-porosity": "some", "where-porosity": "99"}, "is no part"),
        ({"seen": "yesterday"}, "is no day"),
        ({"state-0": "short", "members-0": "4"}, "must be"),
        ({"seen": "2026-03-01", "poured": "2026-03-02"}, "2026-03-0"),
        ({"button": "<b>"}, "must be one of"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    studio: Studio, browser: TestClient, fields: dict[str, str], said: str
) -> None:
    """Made to fail."""
    piece = studio.add(LARCH)
    at = f"/break-out/{piece.id}"
    page = browser.post(f"{at}/keep", data={"token": token(browser.get(at).text)}).text
    before = len(pours_of(studio.book, latest_plan(studio.book, _book_id(studio, piece.id)).id))

    wrong = browser.post(at, data={"token": token(page), **fields})

    assert wrong.status_code == 422
    assert said in wrong.text
    after = pours_of(studio.book, latest_plan(studio.book, _book_id(studio, piece.id)).id)
    assert len(after) == before


def test_form_without_its_token_is_refused(studio: Studio, browser: TestClient) -> None:
    piece = studio.add(LARCH)

    assert browser.post(f"/break-out/{piece.id}", data={"note": "x"}).status_code == 403


def test_came_of_a_piece_that_was_not_told_leads_to_the_form(
    studio: Studio, browser: TestClient
) -> None:
    piece = studio.add(LARCH.replace("Larch twig with three cones", "Third twig"))

    assert browser.get(f"/break-out/{piece.id}/came").url.path == f"/break-out/{piece.id}"


def _book_id(studio: Studio, piece_id: str) -> str:
    found = studio.pieces.book_piece(piece_id)
    assert found is not None
    return found
