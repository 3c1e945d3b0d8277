"""The sheet of measures: what the boxes say becomes a piece file, and its faults come back.

House rules, so no outside number is held against them; an inch is 25.4 mm by definition.
"""

from pathlib import Path

import pytest

from pourcast import units as si
from pourcast.app.look import Look
from pourcast.app.measure_svg import drawing
from pourcast.app.reading import read_number
from pourcast.app.sheet_choices import choices
from pourcast.app.sheet_fields import REPEATED, SECTIONS, Box, boxes
from pourcast.app.sheet_text import document, faults_of, moved, text_of
from pourcast.app.words import say
from pourcast.errors import InputError
from pourcast.sheet import read_plan
from pourcast.sheet.takes import Number
from tests.app.client import browser, example, opened, token

FILLED = {
    "name": "Twig",
    "button.diameter_mm": "32",
    "button.height_mm": "20",
    "flask.inside_diameter_mm": "76",
    "flask.height_mm": "100",
    "flask.wall": "perforated",
    "metal.alloy": "si_bronze_c87300",
    "metal.pour_temperature_C": "1120",
    "assist.kind": "vacuum",
    "assist.vacuum_kPa": "24 inHg",
    "part.0.name": "stem",
    "part.0.on": "button",
    "part.0.shape": "rod",
    "part.0.length_mm": "1 3/16 in",
    "part.0.diameter_mm": "4",
    "part.0.diameter_mm.end": "3",
    "part.0.material": "herb_stem",
    "part.1.name": "leaf",
    "part.1.on": "stem",
    "part.1.shape": "blade",
    "part.1.count": "6",
    "part.1.at": "0.3",
    "part.1.at.end": "0.9",
    "part.1.length_mm": "18",
    "part.1.width_mm": "6",
    "part.1.thickness_mm": "0.5",
    "part.1.diameter_mm": "9",
    "part.1.material": "leaf",
    "kiln.step.1.to_C": "700",
}


def all_boxes() -> list[Box]:
    found = [box for section in SECTIONS for box in boxes(section)]
    return found + [box for section in REPEATED.values() for box in boxes(section, 0)]


def test_boxes_become_a_piece_file_without_fault() -> None:
    plan = read_plan(text_of(FILLED, Look()))

    stem, leaf = plan.piece.parts
    assert stem.length == pytest.approx(0.0254 * (1 + 3 / 16))
    assert stem.width == pytest.approx((0.004, 0.003))
    assert leaf.position == (0.3, 0.9)
    assert leaf.count == 6
    assert plan.assist.vacuum == pytest.approx(24 * 3386.389, rel=1e-6)
    assert [step.temperature for step in plan.kiln.steps] == [si.to_si(700.0, "degC")]
    assert faults_of(FILLED, Look()) == {}


def test_size_that_a_shape_hides_is_not_written() -> None:
    assert "diameter_mm" not in document(FILLED, Look())["part"][1]


def test_length_without_its_unit_is_in_inches_where_that_is_chosen() -> None:
    plan = read_plan(text_of(FILLED | {"part.0.diameter_mm": ".25"}, Look(lengths="in")))

    assert plan.piece.parts[0].width[0] == pytest.approx(0.25 * 0.0254)
    assert plan.flask.inside_diameter == pytest.approx(76 * 0.0254)


def test_comma_that_could_part_thousands_is_read_only_where_it_is_chosen() -> None:
    """What is written as 1,200 is 1200 to one reader and 1.2 to another."""
    typed = FILLED | {"part.1.thickness_mm": "1,200"}

    plan = read_plan(text_of(typed, Look(decimal="comma")))

    assert plan.piece.parts[1].thickness[0] == pytest.approx(1.2e-3)
    assert list(faults_of(typed, Look())) == ["part.1.thickness_mm"]


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        ("part.0.length_mm", "twenty", '"twenty"'),
        ("part.0.length_mm", "4000", "4000 mm"),
        ("part.0.diameter_mm", "5 in 3", '"5 in 3"'),
        ("part.1.on", "sten", "did you mean stem?"),
        ("part.1.count", "-3", "-3"),
        ("flask.height_mm", "0.5 in", "must be more than the button"),
        ("button.material", "honey", '"honey"'),
        ("metal.pour_temperature_C", "2000", "2000 °C"),
        ("original.holds", "wire, bon", "did you mean bone?"),
        ("kiln.step.1.to_C", "9000", "9000 °C"),
        ("name", "", "is missing"),
        ("metal.alloy", "", "is missing"),
        ("part.1.name", "stem", "must stand once"),
        ("studio.altitude_m", "9000", "9000 m"),
    ],
)
def test_fault_stands_beside_its_box_as_it_was_typed(box: str, typed: str, said: str) -> None:
    told = faults_of(FILLED | {box: typed}, Look())

    assert said in " ".join(f"{fault.text}; {fault.hint}" for fault in told[box])


def test_empty_sheet_says_of_each_box_that_must_be_filled_in_that_it_is_missing() -> None:
    told = faults_of({"part.0.name": ""}, Look())

    needed = {
        box.name
        for box in [*all_boxes()]
        if getattr(box.takes, "needed", False) and not box.name.startswith(("vent", "kiln.step"))
    }
    assert needed <= set(told)


def test_every_fault_finds_a_box() -> None:
    """A file with a fault of each kind at once: none of them is lost."""
    typed = {box.name: "?" for box in all_boxes()}

    told = faults_of(typed, Look())

    assert sum(len(each) for each in told.values()) > 40
    assert set(told) <= {box.name for box in all_boxes()}


def test_every_box_has_words_and_every_measure_a_drawing() -> None:
    undrawn = {"vent.on", "studio.air_pressure_kPa", "studio.gauge_error_kPa"}
    for box in all_boxes():
        assert say(f"box.{box.words}")
        assert say(f"box.{box.words}.how")
        if isinstance(box.takes, Number):
            assert say(f"unit.{box.unit}") is not None
            lengths = box.unit in ("mm", "deg") and box.words not in undrawn
            assert bool(drawing(box.words)) or not lengths, box.words
        for _, words in choices(box.takes):
            assert words


def test_part_is_taken_out_and_moved_with_all_that_was_typed() -> None:
    three = {f"part.{k}.name": name for k, name in enumerate("abc")} | {"name": "x"}
    part = REPEATED["part"]

    out = moved(three, part, 1, by=0)
    up = moved(three, part, 2, by=-1)
    top = moved(three, part, 0, by=-1)
    none = moved(three, part, 9, by=0)

    assert [out[f"part.{k}.name"] for k in range(2)] == ["a", "c"]
    assert "part.2.name" not in out
    assert [up[f"part.{k}.name"] for k in range(3)] == ["a", "c", "b"]
    assert top == none == three


def test_typed_number_is_read_within_its_limits_only() -> None:
    assert read_number("x", " 2,5 ", Look(decimal="comma"), low=0, high=9) == 2.5
    for text in ("2,5", "", "nan", "inf", "1e9", "-1", "2 g"):
        with pytest.raises(InputError):
            read_number("x", text, Look(), low=0, high=9)


def test_whole_way_from_an_empty_sheet_to_the_shelf_with_scripts_off(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = token(page)
        at = page.post("/new", data={"token": given}).headers["location"]
        typed = FILLED | {"token": given}

        added = page.post(at, data={"token": given, "act": "add:part"})
        early = page.post(at, data={"token": given, "name": "Twig", "act": "put"})
        shown = page.get(at).text
        done = page.post(at, data=typed | {"act": "put"})

        assert added.headers["location"].startswith(at)
        assert early.headers["location"] == f"{at}#said"
        assert "must be filled in" in shown
        assert shown.count("is missing") > 5
        assert done.headers["location"].startswith("/piece/")
        assert page.get(at).status_code == 404
        piece = studio.piece(studio.pieces.ids()[0])
        assert studio.plan(piece).piece.name == "Twig"


def test_what_was_typed_is_there_again_right_or_wrong(tmp_path: Path) -> None:
    with opened(tmp_path) as (_, app):
        page = browser(app)
        given = token(page)
        at = page.post("/new", data={"token": given}).headers["location"]
        page.post(f"{at}/keep", data={"token": given, "part.0.length_mm": "<b>3 inches & more"})
    with opened(tmp_path) as (_, app):
        again = browser(app).get(at).text

        assert 'value="&lt;b&gt;3 inches &amp; more"' in again
        assert at in browser(app).get("/").text


def test_answer_to_a_typed_box_says_its_fault_and_those_of_no_empty_box(tmp_path: Path) -> None:
    with opened(tmp_path) as (_, app):
        page = browser(app)
        given = token(page)
        at = page.post("/new", data={"token": given}).headers["location"]

        said = page.post(f"{at}/keep", data={"token": given, "button.height_mm": "tall"}).text

        assert 'id="said-button.height_mm" hx-swap-oob="true"><p class="fault">' in said
        assert said.count('class="fault"') == 1


def test_piece_file_is_taken_in_and_one_with_faults_is_told_so(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = token(page)

        def bring(text: bytes) -> tuple[int, str]:
            files = {"file": ("../../x.toml", text, "text/plain")}
            told = page.post("/upload/piece", data={"token": given}, files=files)
            return told.status_code, told.text

        assert bring(example().encode())[0] == 303
        assert bring(b"name = 3")[0] == 422
        assert "1: name" in bring(b"name = 3")[1]
        assert bring(b"\xff\xfe")[0] == 422
        assert bring(b"x" * 1_500_000)[0] == 422
        assert len(studio.pieces.ids()) == 1
