"""The run sheet on paper, read back from the PDF by another library."""

import functools
import io
from dataclasses import replace
from typing import Literal

import pypdf
import pytest

from pourcast.errors import PourcastError
from pourcast.page.render import style
from pourcast.page.svg_pictures import bench
from pourcast.runsheet.model import LAST_WORD, RunSheet
from pourcast.runsheet.paper import LACKING, pictures, printed
from pourcast.runsheet.picture import self_contained
from pourcast.runsheet.text import MOST_PARTS
from tests.page import sample
from tests.runsheet.sample import LATE_SUMMER, burnout, dial, forecast, named, sheet

SIZES: dict[Literal["a4", "letter"], tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
}
"""mm: ISO 216 and ANSI/ASME Y14.1."""

LEAST_LETTERS = 12.0
"""Points, for a reader with gloves on and a lamp over the bench; our own choice."""


@functools.cache
def drawing() -> str:
    return self_contained(str(bench(sample.forecast())), style())


def read(made: RunSheet, paper: Literal["a4", "letter"] = "a4") -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(printed(made, paper=paper, picture=drawing()).pdf))


def text(reader: pypdf.PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_have_the_size_of_the_paper(paper: Literal["a4", "letter"]) -> None:
    """Published: ISO 216 (A4) and ANSI/ASME Y14.1 (A, letter); to 0.1 mm."""
    for page in read(sheet(), paper).pages:
        box = [float(side) * 25.4 / 72.0 for side in (page.mediabox.width, page.mediabox.height)]
        assert box == pytest.approx(SIZES[paper], abs=0.1)


CASES = {
    "hand and vacuum": lambda: sheet(),
    "programmed": lambda: sheet(forecast(control="programmed", worked_out=burnout())),
    "gravity": lambda: sheet(forecast(assist="gravity", worked_out=burnout())),
    "no kiln": lambda: sheet(forecast(steps=())),
    "60 parts": lambda: sheet(forecast(parts=60, worked_out=burnout())),
    "turned by a dial": lambda: sheet(dial=dial(18, 4200.0), kiln_in="2026-12-06 05:00"),
    "long name": lambda: sheet(named("A very long name of a piece " * 5)),
    "night of the change": lambda: sheet(start=LATE_SUMMER),
}


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("case", CASES)
def test_sheet_has_up_to_three_pages_and_each_act_on_them(
    case: str, paper: Literal["a4", "letter"]
) -> None:
    made = CASES[case]()
    reader = read(made, paper)
    told = text(reader)

    assert 1 <= len(reader.pages) <= 3
    for act in made.acts:
        first = " ".join(act.what.split()[:4])
        if act.setting is not None:
            first = f"{act.setting:.3g} at {act.what.split()[-2]}"
        assert first in told, act.key
    for k in range(len(reader.pages)):
        assert f"page {k + 1} of {len(reader.pages)}" in told


def test_many_turns_take_a_page_more_and_none_is_lost() -> None:
    made = sheet(dial=dial(60, 1200.0), kiln_in="2026-12-06 05:00")
    reader = read(made)
    told = text(reader)

    assert len(reader.pages) == 4
    for act in made.acts:
        assert act.setting is None or f"{act.setting:.3g} at" in told
    assert "Never leave a hand-turned kiln alone" in told


def test_head_names_piece_start_seed_and_version() -> None:
    told = text(read(sheet()))

    assert "Sea-holly head, no. 14" in told
    assert "invented demo" in told
    assert "Starts Sat 5 Dec 2026 at 18:30." in told
    assert "pourcast 0.0.0, 400 draws, seed 14" in told
    assert "608 g (w)" in told
    assert "90.4 g, 86.1 to 96.2 g (w)" in told


def test_cautions_and_the_last_word_stand_in_each_stage() -> None:
    made = sheet()
    told = text(read(made))

    assert told.count(LAST_WORD) == len(made.blocks)
    assert told.count("Take care.") == len(made.blocks)
    for block in made.blocks:
        for fact in block.care:
            assert fact.text.partition(". ")[0] in told


def test_stop_of_the_forecast_stands_in_a_box_of_its_own() -> None:
    assert "Settle first. The cup holds less metal" in text(read(sheet()))


HARM = [
    'leaf #read("/etc/hostname") *x* $a$ @b <c>',
    "#panic() [ ] { } \\ ` ~ _ // /* */",
    "#set page(width: 1mm)",
    "a#b$c[d\\e\"f'g",
]


@pytest.mark.parametrize("name", HARM)
def test_name_that_is_code_is_printed_as_text(name: str) -> None:
    told = text(read(sheet(named(name))))

    assert " ".join(name.split()) in told
    assert "Break out under water" in told


@pytest.mark.parametrize("name", HARM)
def test_part_and_warning_that_are_code_are_printed_as_text(name: str) -> None:
    made = replace(sheet(), parts=(name,), stops=(f"{name} is thin.",))
    told = text(read(made)).replace(" ", "")

    assert told.count(name.replace(" ", "")) == 2


def test_name_of_120_signs_is_printed_whole() -> None:
    name = "Zapfen " + "x" * 113
    told = text(read(sheet(named(name))))

    assert "x" * 113 in told.replace(" ", "")


@pytest.mark.parametrize("name", ["Größe Ærø Żółw", "Σκίλλα", "Шишка", "שרך", "نخلة"])
def test_names_in_scripts_of_the_faces_lose_no_sign(name: str) -> None:
    assert printed(sheet(named(name))).replaced == ()


def test_signs_that_no_face_has_are_replaced_and_told() -> None:
    """Left out without a word by the program that sets the sheet; so they are looked for."""
    made = printed(sheet(named("Fern 🦋 蝶 frond")), picture=drawing())
    told = text(pypdf.PdfReader(io.BytesIO(made.pdf)))

    assert made.replaced == ("蝶", "🦋")
    assert f"Fern {LACKING} {LACKING} frond" in told


def test_many_parts_are_listed_and_counted() -> None:
    told = text(read(sheet(forecast(parts=60, worked_out=burnout()))))

    assert f"and {60 - MOST_PARTS} more" in told
    assert told.count("Side shoot") == MOST_PARTS


def test_letters_are_12_points_or_more() -> None:
    """Our own choice: to be read with gloves on."""
    smallest: dict[float, str] = {}

    def keep(said: str, matrix: list[float], place: list[float], font: object, size: float) -> None:
        if said.strip():
            smallest.setdefault(round(abs(size * place[3] * matrix[3]), 2), said)

    for page in read(sheet()).pages:
        page.extract_text(visitor_text=keep)

    assert smallest
    assert min(smallest) >= LEAST_LETTERS, smallest


def test_only_faces_inside_the_wheel_are_used() -> None:
    fonts = {
        str(font.get_object()["/BaseFont"]).partition("+")[2]
        for page in read(sheet()).pages
        for font in page["/Resources"]["/Font"].values()  # type: ignore[index]
    }

    assert fonts
    assert all(name.startswith(("LibertinusSerif", "DejaVuSansMono")) for name in fonts)


def test_same_sheet_gives_the_same_bytes() -> None:
    """House rule: same input, same output; no clock goes into the file."""
    first, second = (printed(sheet(), picture=drawing()) for _ in range(2))

    assert first.pdf == second.pdf


def test_sheet_without_a_picture_can_be_printed() -> None:
    assert printed(sheet()).pdf.startswith(b"%PDF")


def test_picture_that_is_no_drawing_is_an_error_of_ours() -> None:
    with pytest.raises(PourcastError, match="could not be set"):
        printed(sheet(), picture="no drawing")


def test_pages_come_as_pictures_too() -> None:
    found = pictures(sheet(), picture=drawing())

    assert 1 <= len(found) <= 3
    assert all(page.startswith(b"\x89PNG") for page in found)
