"""Take: the original from a scan, as a piece file to be edited.

The scan is only read.  What the caster has put right stands in a file of its
own beside the piece file and is kept by a new import.
"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from pourcast import units as si
    from pourcast.findings import Finding
    from pourcast.scan.model import Scanned

ScanFile = Annotated[
    Path,
    typer.Argument(
        metavar="FILE",
        help="Mesh of the original: STL, PLY, OBJ, 3MF or GLB. Or a photograph: JPEG, PNG or WebP.",
    ),
]


def take(
    file: ScanFile,
    as_: Annotated[
        Path, typer.Option("--as", metavar="PIECE.toml", help="Piece file to be written.")
    ],
    unit: Annotated[
        str | None,
        typer.Option(metavar="mm", help="Of the file: mm, cm, m or in; STL, PLY and OBJ say none."),
    ] = None,
    gate: Annotated[
        str,
        typer.Option(
            metavar="lowest",
            help="Where the button goes: lowest, highest, or x,y,z as the file has it.",
        ),
    ] = "lowest",
    voxel: Annotated[
        str | None, typer.Option(metavar="0.5mm", help="Side of a cell; finer takes longer.")
    ] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="VIEWS.svg", help="Write three views of the parts.")
    ] = None,
    name: Annotated[str | None, typer.Option(help="Of the piece; left out: as the file.")] = None,
    again: Annotated[
        bool, typer.Option("--again", help="Write over the piece file of an earlier import.")
    ] = False,
    second: Annotated[
        Path | None,
        typer.Argument(metavar="SECOND", help="Photograph a quarter turn about the stem."),
    ] = None,
    third: Annotated[
        Path | None,
        typer.Argument(metavar="THIRD", help="Photograph half way between those two."),
    ] = None,
    scale: Annotated[
        list[str] | None,
        typer.Option(
            metavar='"50 mm"',
            help="Of a photograph: length of a dark bar in it; or two points and their distance, "
            '"120,900 980,905 50 mm"; or "0.07 mm per pixel".',
        ),
    ] = None,
    camera: Annotated[
        str | None, typer.Option(metavar='"1 m"', help="From the lens to the stem.")
    ] = None,
    leaf: Annotated[
        str | None,
        typer.Option(metavar="0.4mm", help="Thickness of what is flat; not seen in a photograph."),
    ] = None,
    flat: Annotated[
        bool, typer.Option("--flat", help="All of it lies square to the camera, as if pressed.")
    ] = False,
    foot: Annotated[
        list[str] | None,
        typer.Option(
            metavar="640,1890",
            help="Of a photograph: column and row where the button goes; left out: the lowest.",
        ),
    ] = None,
    material: Annotated[
        list[str] | None,
        typer.Option(
            metavar="rod=woody_stem",
            help="What rods, blades or lumps are made of; may be given for each.",
        ),
    ] = None,
) -> None:
    """Take the original from a scan or photographs, as a piece file that can be edited."""
    from pourcast.cli.take_photo import ENDINGS, read_materials, take_photographs

    if file.suffix.lower() in ENDINGS:
        take_photographs(
            [each for each in (file, second, third) if each is not None],
            as_,
            scales=scale or [],
            camera=camera,
            leaf=leaf,
            flat=flat,
            picture=picture,
            name=name,
            again=again,
            feet=foot or [],
            materials=material or [],
        )
        return

    from pourcast.cli.files import require_new, write_new, write_page
    from pourcast.errors import InputError

    require_new(as_, again=again)
    if as_.exists() and as_.resolve() == file.resolve():
        raise InputError("--as", as_, "", "another file than the scan")
    made_of = read_materials(material or [])
    from pourcast.cli.signs import write_out
    from pourcast.cli.take_scan import parts_of_scan

    scanned, materials, wrong, lost = parts_of_scan(
        file,
        unit=unit,
        gate=gate,
        cell=None if voxel is None else read_voxel(voxel),
        piece=as_,
        made_of=made_of,
        tell=write_out,
    )

    # What works with the mesh is loaded only once the file has been let in.
    from pourcast.scan.checks import findings
    from pourcast.scan.paper import written
    from pourcast.scan.picture import check_picture
    from pourcast.sheet import new_sheet, read_plan

    sheet = new_sheet(name or file.stem)
    text = written(scanned, sheet, source=file.name, materials=materials)
    read_plan(text, file=str(as_))  # a name or material of a correction may not go with a piece
    # An older piece file is replaced in one go, a new one never written over another.
    if again:
        write_page(as_, text)
    else:
        write_new(as_, text)
    if picture is not None:
        write_page(picture, check_picture(scanned))
    write_out("\n".join(told(scanned, findings(scanned), as_, len(wrong), len(lost))) + "\n")


def read_voxel(written: str) -> "si.Metre":
    """Return the side of a cell in metres."""
    from pourcast.errors import require_between
    from pourcast.trade_units import read

    side = read(written, "length", default_unit="mm")
    require_between("--voxel", side, "m", 1e-4, 5e-3)
    return side


def told(
    scanned: "Scanned", found: "tuple[Finding, ...]", piece: Path, corrections: int, lost: int
) -> list[str]:
    """Return what the caster is told on the screen."""
    import shlex

    from pourcast.cli.take_scan import corrections_file
    from pourcast.page.figures import clean

    size = " x ".join(f"{1e3 * side:.1f}" for side in scanned.size)
    lines = [f"{size} mm, {1e6 * scanned.mesh_volume:.3f} ml, {len(scanned.parts)} parts:"]
    for part in scanned.parts[:40]:
        parent = scanned.parts[part.parent].name if part.parent >= 0 else "button"
        across = "-".join(dict.fromkeys(f"{1e3 * size:.2f}" for size in part.thickness))
        wide = "" if part.shape == "rod" else f" x {1e3 * part.widest:.1f}"
        lines.append(
            f"  {clean(part.name):<14} on {clean(parent):<14} {1e3 * part.length:6.1f}{wide} x "
            f"{across} mm"
        )
    if len(scanned.parts) > 40:
        lines.append(f"  and {len(scanned.parts) - 40} more")
    lines += [f"{one.level}: {clean(one.text)}" for one in found]
    if corrections:
        lines.append(f"{corrections - lost} of {corrections} corrections found their part.")
    asked = shlex.quote(str(piece))
    lines.append(f"Wrote {piece}. Look it over, then: pourcast forecast {asked}")
    lines.append(f"What the scan has wrong goes into {corrections_file(piece).name}.")
    return lines
