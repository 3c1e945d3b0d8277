"""The drawing of a fan on paper: one page of the true size, its words read back."""

import io
import xml.etree.ElementTree as Tree

import pytest
from pypdf import PdfReader

from pourcast.learn.fan import Fan, Strip
from pourcast.learn.fan_drawing import PAPER, fan_svg
from pourcast.runsheet.fan_paper import fan_pdf


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_page_has_its_true_size_and_names_each_strip(paper: str) -> None:
    """ISO 216 and ANSI Y14.1 sizes; 1 point is 1/72 inch.  Tolerance 0.1 mm, rounding."""
    strip = Strip(
        name="rod 0.4", round=True, thickness=4e-4, length=0.045, chance_whole=0.6,
        run=(0.0, 0.02, 0.045), gain=1.0,
    )  # fmt: skip
    fan = Fan(strips=(strip,), information=1.0, room=0.045)

    made = PdfReader(io.BytesIO(fan_pdf(fan_svg(fan, paper), paper)))  # type: ignore[arg-type]

    assert len(made.pages) == 1
    box = made.pages[0].mediabox
    size = (float(box.width) * 25.4 / 72.0, float(box.height) * 25.4 / 72.0)
    assert size == pytest.approx(PAPER[paper], abs=0.1)
    assert "rod 0.4" in made.pages[0].extract_text()


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_words_beside_the_longest_strip_stay_on_the_paper(paper: str) -> None:
    """Measured: these words in DejaVu Sans, a wide face, take 0.5 of their size for each letter.

    A browser sets the page in whatever face it has.  Held with 0.55 and 5 mm that a printer leaves.
    """
    strip = Strip(
        name="strip 1.3", round=False, thickness=1.3e-3, length=0.08, chance_whole=0.6,
        run=(0.0, 0.02, 0.08), gain=1.0,
    )  # fmt: skip
    fan = Fan(strips=(strip, strip), information=2.0, room=0.08)

    tree = Tree.fromstring(fan_svg(fan, paper))  # type: ignore[arg-type]

    size = float(tree.get("font-size", 0))
    texts = [each for each in tree if each.tag.endswith("text")]
    ends = [float(each.get("x", 0)) + 0.55 * size * len(each.text or "") for each in texts]
    assert max(ends) < PAPER[paper][0] - 5.0
