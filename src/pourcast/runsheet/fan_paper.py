"""Fan paper: the drawing of strips and rods as a page to print at its true size."""

from pourcast.errors import PourcastError
from pourcast.learn.fan_drawing import PAPER

_FORM = """
#set page(width: float(sys.inputs.width) * 1mm, height: float(sys.inputs.height) * 1mm, margin: 0mm)
#image(bytes(sys.inputs.drawing), format: "svg", width: float(sys.inputs.width) * 1mm)
"""


def fan_pdf(drawing: str, paper: str = "a4") -> bytes:
    """Return the drawing of a fan as PDF.

    Parameters
    ----------
    drawing : str
        SVG, from `pourcast.learn.fan_drawing.fan_svg`.
    paper : str
        "a4" or "letter", as the drawing is.

    Raises
    ------
    PourcastError
        If it cannot be set.
    """
    import typst

    width, height = PAPER[paper]
    try:
        made = typst.compile(
            _FORM.encode(),
            format="pdf",
            ignore_system_fonts=True,
            sys_inputs={"drawing": drawing, "width": str(width), "height": str(height)},
        )
    except typst.TypstError as fault:
        raise PourcastError(f"the drawing could not be set: {fault}") from None
    assert isinstance(made, bytes)
    return made
