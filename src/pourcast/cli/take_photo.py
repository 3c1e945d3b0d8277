"""Take from photographs: one picture, two or three become a piece file to be edited."""

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
    feet: Sequence[str] = (),
    materials: Sequence[str] = (),
) -> None:
    """Read photographs, and write a piece file and, if asked, check pictures.

    Raises
    ------
    InputError
        If a file cannot be read or written, or a measure cannot be understood.
    """
    from pourcast.cli.files import read_photograph, require_new, write_new, write_page
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError
    from pourcast.photo.load import MOST_BYTES
    from pourcast.photo.model import Asked
    from pourcast.photo.paper import piece_file
    from pourcast.photo.picture import check_picture
    from pourcast.photo.solve import solve
    from pourcast.piece.model import USUAL_MATERIALS
    from pourcast.sheet import read_plan

    if not scales:
        hint = 'Such as --scale "50 mm" for a dark bar of 50 mm in the picture.'
        raise InputError("--scale", "missing", "", "given for a photograph", hint)
    if len(scales) not in (1, len(files)):
        raise InputError("--scale", len(scales), "times", "given once, or once for each photograph")
    if again and any(as_.resolve() == file.resolve() for file in files):
        raise InputError("--as", as_, "", "another file than the photograph")
    if len(feet) not in (0, len(files)):
        raise InputError("--foot", len(feet), "times", "left out, or given once for each picture")
    given = [read_scale(text) for text in scales]
    made_of = {**USUAL_MATERIALS, **read_materials(materials)}
    asked = Asked(
        name=name or files[0].stem,
        scales=tuple(given if len(given) == len(files) else given * len(files)),
        leaf=read_leaf(leaf, made_of["blade"]),
        stalk=made_of["rod"],
        bud=made_of["lump"],
        foot=tuple(read_foot(text) for text in feet) or None,
        camera=read_length("--camera", camera) if camera is not None else None,
        flat=flat,
    )
    require_new(as_, again=again)
    reading = solve([read_photograph(file, MOST_BYTES) for file in files], asked)
    reading, wrong, lost = put_right(reading, as_)
    text = piece_file(reading)
    read_plan(text, file=str(as_))
    (write_page if again else write_new)(as_, text)
    if picture is not None:
        for number in range(len(files)):
            path = picture if number == 0 else picture.with_stem(f"{picture.stem}-{number + 1}")
            write_page(path, check_picture(reading, view=number))
    write_out("\n".join(told(reading, as_, wrong, lost)) + "\n")


def put_right(reading: "Reading", piece: Path) -> "tuple[Reading, int, int]":
    """Return a reading with the corrections beside a piece file made.

    Parameters
    ----------
    reading : Reading
    piece : Path
        The piece file, which need not be there.

    Returns
    -------
    Reading
    int
        Corrections in the file.
    int
        Those whose part was not found.
    """
    from pourcast.cli.take_scan import read_corrections_of
    from pourcast.photo.corrected import as_scanned, corrected
    from pourcast.scan.corrections import chosen_of

    corrections = read_corrections_of(piece)
    chosen, lost = chosen_of(as_scanned(reading.parts), corrections)
    return corrected(reading, chosen), len(corrections), len(lost)


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


def read_foot(written: str) -> tuple[float, float]:
    """Return where the original meets its button: "640,1890", column and row of the picture."""
    from pourcast.errors import InputError

    place = re.fullmatch(rf"\s*({_NUMBER}),\s*({_NUMBER})\s*", written)
    if place is None:
        raise InputError("--foot", written, "", "column and row in the picture, such as 640,1890")
    return float(place[1]), float(place[2])


def read_materials(written: Sequence[str]) -> dict[str, str]:
    """Return what rods, blades and lumps are made of: "rod=woody_stem" and so on."""
    from typing import get_args

    from pourcast.errors import InputError
    from pourcast.materials import library
    from pourcast.piece.model import Shape

    known = (*library().organs, *library().waxes)
    out = {}
    for text in written:
        shape, _, material = (word.strip() for word in text.partition("="))
        if shape not in get_args(Shape) or material not in known or shape in out:
            raise InputError(
                "--material",
                text,
                "",
                "rod, blade or lump, each once, with = and a material, such as rod=woody_stem",
                f"Materials: {', '.join(known)}.",
            )
        out[shape] = material
    return out


def read_leaf(written: str | None, material: str = "leaf") -> "Thickness":
    """Return the thickness of what is flat, as it is typed; None: the usual of its material."""
    return leaf_of(None if written is None else read_length("--leaf", written), material)


def leaf_of(measured: "si.Metre | None", material: str = "leaf") -> "Thickness":
    """Return the thickness of what is flat: as measured, or the usual of what it is made of."""
    from pourcast.errors import InputError
    from pourcast.materials import library
    from pourcast.photo.model import Thickness

    if measured is None:
        record = library().plants.get(material)
        usual = None if record is None else record.values.get("thickness")
        if usual is None:
            must = f"given: nobody knows how thick a sheet of {material} is"
            raise InputError("--leaf", "missing", "", must, 'Such as --leaf "0.4 mm".')
        return Thickness(
            value=usual.si, low=usual.si_low, high=usual.si_high, material=material, measured=False
        )
    return Thickness.by_caliper(measured, material)


def told(reading: "Reading", as_: Path, corrections: int = 0, lost: int = 0) -> list[str]:
    """Return what the caster reads after a photograph was taken in."""
    from pourcast.cli.take_scan import corrections_file
    from pourcast.page.figures import clean

    counts = {"rod": 0, "blade": 0, "lump": 0}
    for part in reading.parts:
        counts[part.shape] += 1
    said = [
        f"{len(reading.parts)} parts: {counts['rod']} round, {counts['blade']} flat, "
        f"{counts['lump']} lumps. Scale {1e3 * reading.views[0].scale.size:.4g} mm per pixel.",
    ]
    said += [f"{finding.level}: {clean(finding.text)}" for finding in reading.findings]
    if corrections:
        said.append(f"{corrections - lost} of {corrections} corrections found their part.")
    said.append(f"Written: {as_}. Look each part over, then: pourcast forecast {as_}")
    said.append(f"What the picture has wrong goes into {corrections_file(as_).name}.")
    return said
