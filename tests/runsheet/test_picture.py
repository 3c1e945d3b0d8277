"""The picture: in black on white, with its look in it, and with nothing from outside."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from pourcast.errors import InputError
from pourcast.page.render import style
from pourcast.page.svg_pictures import bench
from pourcast.page.svg_plate import plate
from pourcast.runsheet.picture import LETTERS, PAPER, self_contained
from tests.page import sample

LOOK = (
    ":root{--ink:#123456}.pic .ax{stroke:var(--ink)}.pic text{font-size:3px}.other{fill:red}"
    "@media print{.pic .ax{stroke:#fff}}/* .pic{fill:#abc} */.pic .ax:hover{fill:#abc}"
)


def test_rules_of_the_drawing_go_into_it_and_no_others() -> None:
    made = self_contained('<svg class="pic"><path class="ax"/><text>a</text></svg>', LOOK)

    assert "<style>.pic .ax{stroke:#000000}.pic text{font-size:" in made
    assert f"font-size:{LETTERS}px" in made
    for left_out in ("red", "#fff", "#abc", "hover", "var("):
        assert left_out not in made


@pytest.mark.parametrize("draw", [bench, plate])
def test_drawings_of_the_page_become_black_white_and_grey(draw: object) -> None:
    made = self_contained(str(draw(sample.forecast())), style())  # type: ignore[operator]
    ElementTree.fromstring(made)
    colours = set(re.findall(r"#[0-9a-fA-F]{3,6}\b", made))

    assert colours
    assert colours <= {colour for colour in PAPER.values() if colour.startswith("#")}
    assert "var(" not in made


@pytest.mark.parametrize(
    "bad",
    [
        "no drawing",
        '<svg><image href="https://example.org/a.png"/></svg>',
        "<svg><image xlink:href='/etc/hostname'/></svg>",
        '<svg><rect fill="url(a.svg#b)"/></svg>',
    ],
)
def test_drawing_that_does_not_stand_alone_is_refused(bad: str) -> None:
    with pytest.raises(InputError, match="picture"):
        self_contained(bad, LOOK)
