"""Take from photographs: one picture or two become a piece file to be edited."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pourcast import units as si
    from pourcast.photo.model import Reading, ScaleGiven, Thickness

ENDINGS = (".jpg", ".jpeg", ".png", ".webp")
"""Of a file that is taken for a photograph."""

_NUMBER = r"\d+(?:\.\d+)?"
_POINTS = re.compile(rf"({_NUMBER}),({_NUMBER})\s+({_NUMBER}),({_NUMBER})\s+(.+)")
_PER_PIXEL = re.compile(r"(.+?)\s*(?:per pixel|/\s*px|per px)")


def take_photographs(
    files: Sequence[Path],
    as_: Path,
    *,
    scales: Sequence[str],
    camera: str | None,
    leaf: str | None,
    flat: bool,
    picture: Path | None,
    name: str | None,
    again: bool,
) -> None:
    """Read photographs, and write a piece file and, if asked, check pictures.

    Raises
    ------
    InputError
        If a file cannot be read or written, or a measure cannot be understood.
    """
    from pourcast.cli.files import read_photograph, write_new, write_page
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError
    from pourcast.photo.load import MOST_BYTES
    from pourcast.photo.model import Asked
    from pourcast.photo.paper import piece_file
    from pourcast.photo.picture import check_picture
    from pourcast.photo.solve import solve
    from pourcast.sheet import read_plan

    if not scales:
        hint = 'Such as --scale "50 mm" for a dark bar of 50 mm in the picture.'
        raise InputError("--scale", "missing", "", "given for a photograph", hint)
    if len(scales) not in (1, len(files)):
        raise InputError("--scale", len(scales), "times", "given once, or once for each photograph")
    if again and any(as_.resolve() == file.resolve() for file in files):
        raise InputError("--as", as_, "", "another file than the photograph")
    given = [read_scale(text) for text in scales]
    asked = Asked(
        name=name or files[0].stem,
        scales=tuple(given if len(given) == len(files) else given * len(files)),
        leaf=read_leaf(leaf),
        camera=read_length("--camera", camera) if camera is not None else None,
        flat=flat,
    )
    reading = solve([read_photograph(file, MOST_BYTES) for file in files], asked)
    text = piece_file(reading)
    read_plan(text, file=str(as_))
    (write_page if again else write_new)(as_, text)
    if picture is not None:
        for number in range(len(files)):
            path = picture if number == 0 else picture.with_stem(f"{picture.stem}-2")
            write_page(path, check_picture(reading, view=number))
    write_out("\n".join(told(reading, as_)) + "\n")


def read_length(what: str, written: str) -> "si.Metre":
    """Return a length in metres; a number alone is in mm."""
    from pourcast.errors import InputError
    from pourcast.trade_units import read

    try:
        length = read(written, "length", default_unit="mm")
    except InputError as fault:
        raise InputError(what, written, "", fault.must, fault.hint) from None
    if not 0.0 < length <= 100.0:
        raise InputError(what, written, "", "over 0 and up to 100 m")
    return length


def read_scale(written: str) -> "ScaleGiven":
    """Return the scale: "50 mm", "120,900 980,905 50 mm" or "0.07 mm per pixel"."""
    from pourcast.photo.model import Mark, PerPixel, TwoPoints

    text = written.strip()
    points = _POINTS.fullmatch(text)
    if points is not None:
        x1, y1, x2, y2 = (float(points[k]) for k in (1, 2, 3, 4))
        length = read_length("--scale", points[5])
        return TwoPoints(first=(x1, y1), second=(x2, y2), length=length)
    each = _PER_PIXEL.fullmatch(text)
    if each is not None:
        return PerPixel(size=read_length("--scale", each[1]))
    return Mark(length=read_length("--scale", text))


def read_leaf(written: str | None) -> "Thickness":
    """Return the thickness of what is flat: as measured, or the usual of a leaf."""
    from pourcast.materials import library
    from pourcast.photo.model import Thickness

    usual = library().plants["leaf"]["thickness"]
    if written is None:
        return Thickness(
            value=usual.si, low=usual.si_low, high=usual.si_high, material="leaf", measured=False
        )
    read = read_length("--leaf", written)
    # As far off as a caliper on soft matter: nine of ten within 5 % (estimate).
    return Thickness(value=read, low=0.95 * read, high=1.05 * read, material="leaf", measured=True)


def told(reading: "Reading", as_: Path) -> list[str]:
    """Return what the caster reads after a photograph was taken in."""
    from pourcast.page.figures import clean

    counts = {"rod": 0, "blade": 0, "lump": 0}
    for part in reading.parts:
        counts[part.shape] += 1
    said = [
        f"{len(reading.parts)} parts: {counts['rod']} round, {counts['blade']} flat, "
        f"{counts['lump']} lumps. Scale {1e3 * reading.views[0].scale.size:.4g} mm per pixel.",
    ]
    said += [f"{finding.level}: {clean(finding.text)}" for finding in reading.findings]
    said.append(f"Written: {as_}. Look each part over, then: pourcast forecast {as_}")
    return said
