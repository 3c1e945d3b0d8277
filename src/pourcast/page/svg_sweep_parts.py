"""What the pictures of a sweep share: the sheet, its look, its axes and its words."""

import textwrap
from typing import Annotated, TypeAlias

from markupsafe import escape

from pourcast import units as si
from pourcast.page import words_sweep as said
from pourcast.sweep.model import Axis

PLACES: TypeAlias = Annotated[float, si.Unit("-")]
"""A length on the sheet."""

SHEET, LEFT, WIDE, TOP = 760.0, 96.0, 600.0, 96.0
_LETTERS = 92  # on a line of words
_MOST_TICKS = 14

# The colours of the page; a picture is a file of its own and brings them along.
_STYLE = (
    "svg{background:#F7F2E6;font-family:Palatino,'DejaVu Serif',Georgia,serif}"
    "text{font-size:14px;fill:#211C17}.answer{font-size:17px}.soft{fill:#5C5245;font-size:13px}"
    ".on{fill:#F7F2E6}.off{fill:#211C17}"
    ".h0{fill:#2A211B}.h1{fill:#463022}.h2{fill:#653F27}.h3{fill:#864D26}.h4{fill:#A65D25}"
    ".h5{fill:#C66F22}.h6{fill:#DC8B37}.h7{fill:#F0A74C}.h8{fill:#F7C581}.h9{fill:#FBE3B0}"
    ".no{fill:#F7F2E6;stroke:#8C857A;stroke-dasharray:2 3}"
    "path{fill:none}.contour{stroke:#211C17;stroke-width:1.6}"
    ".halo2{stroke:#F7F2E6;stroke-width:4.5}"
    ".level{font-size:12.5px;font-style:italic;paint-order:stroke;stroke:#F7F2E6;stroke-width:4}"
    ".stop{stroke:#A23A10;stroke-width:4.5;stroke-dasharray:9 4}"
    ".mark{fill:#F7F2E6;stroke:#A23A10;stroke-width:2}.mark-n{fill:#A23A10;font-size:12.5px}"
    ".ax{stroke:#211C17;stroke-width:1}.gr{stroke:#D8CDB8}.band{fill:#D8CDB8}"
    ".line{stroke:#211C17;stroke-width:2.4}.dot{fill:#211C17}"
)


def wrapped(text: str, letters: int = _LETTERS) -> list[str]:
    """Return a text on lines of so many letters at most."""
    return textwrap.wrap(text, letters)


def document(answer: str, drawn: str, notes: list[str], foot: PLACES) -> str:
    """Return a whole picture.

    Parameters
    ----------
    answer : str
        In one line; stands over the picture.
    drawn : str
        What stands between.
    notes : list of str
        Stand under it.
    foot : float [-]
        Where the notes begin.
    """
    head = wrapped(answer, 82)[:3]
    top = "".join(
        f'<text class="answer" x="24" y="{28 + 21 * k}">{escape(line)}</text>'
        for k, line in enumerate(head)
    )
    y, under = foot, ""
    for note in notes:
        for line in wrapped(note):
            under += f'<text class="soft" x="24" y="{y:.0f}">{escape(line)}</text>'
            y += 18.0
        y += 4.0
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SHEET:.0f} {y + 8:.0f}" '
        f'width="{SHEET:.0f}" height="{y + 8:.0f}" role="img" '
        f'aria-label="{escape(answer)}"><style>{_STYLE}</style>'
        f"{top}{drawn}{under}</svg>\n"
    )


def labels_along(across: Axis, up: Axis, wide: PLACES, high: PLACES, foot: PLACES) -> str:
    """Return the values along both sides and what they are.

    Parameters
    ----------
    across, up : Axis
    wide, high : float [-]
        Of a cell.
    foot : float [-]
        Lower edge of the cells.
    """
    made = [ticks_across(across, wide, foot)]
    every = max(1, -(-up.count * 18 // int(max(up.count * high, 18.0))))
    for place in range(0, up.count, every):
        y = foot - (place + 0.5) * high + 4.5
        shown = escape(said.value_words(up, up.at(place)))
        made.append(f'<text x="{LEFT - 8:.0f}" y="{y:.1f}" text-anchor="end">{shown}</text>')
    made.append(
        f'<text class="soft" x="24" y="{TOP - 8:.0f}">{escape(said.axis_words(up))} (up)</text>'
    )
    return "".join(made)


def ticks_across(across: Axis, wide: PLACES, foot: PLACES) -> str:
    """Return the values along the lower side and what they are.

    Parameters
    ----------
    across : Axis
    wide : float [-]
        Of a cell.
    foot : float [-]
        Lower edge of the cells.
    """
    every = max(1, -(-across.count // _MOST_TICKS))
    made = []
    for place in range(0, across.count, every):
        x = LEFT + (place + 0.5) * wide
        value = across.at(place)
        shown = said.value_words(across, value)
        if across.unit and not isinstance(value, str):
            shown = shown.removesuffix(across.unit).strip()
        made.append(
            f'<text x="{x:.1f}" y="{foot + 18:.1f}" text-anchor="middle">{escape(shown)}</text>'
        )
    unit = f", {across.unit}" if across.unit else ""
    made.append(
        f'<text class="soft" x="{LEFT + 0.5 * WIDE:.0f}" y="{foot + 38:.1f}" '
        f'text-anchor="middle">{escape(said.axis_words(across))}{escape(unit)}</text>'
    )
    return "".join(made)


def shades(y: PLACES) -> str:
    """Return the scale of the shades, with its numbers.

    Parameters
    ----------
    y : float [-]
        Its upper edge.
    """
    wide = 30.0
    boxes = "".join(
        f'<rect class="h{9 - k}" x="{LEFT + k * wide:.1f}" y="{y:.1f}" width="{wide}" height="12"/>'
        for k in range(10)
    )
    marks = "".join(
        f'<text class="soft" x="{LEFT + 10 * wide * share:.1f}" y="{y + 27:.1f}" '
        f'text-anchor="middle">{100 * share:.0f}</text>'
        for share in (0.0, 0.25, 0.5, 0.75, 1.0)
    )
    words = f'<text class="soft" x="{LEFT + 10 * wide + 14:.1f}" y="{y + 11:.1f}">'
    return f"{boxes}{marks}{words}whole in 100 pours</text>"
