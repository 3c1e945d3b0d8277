"""The drawing of a fan on paper: one page of the true size, its words read back."""

import io

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
