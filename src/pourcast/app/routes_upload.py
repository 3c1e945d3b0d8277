"""Upload: a piece from a file that the caster has, a scan, or photographs of the original."""

from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast import units as si
from pourcast.app.faults import NotThereError
from pourcast.app.pages import StudioOf, show
from pourcast.app.sheet_choices import material_words
from pourcast.app.studio import Studio
from pourcast.app.taking import (
    GATES,
    UNITS,
    Taken,
    can_photograph,
    can_scan,
    from_photographs,
    from_scan,
)
from pourcast.errors import Fault, InputError, SheetError
from pourcast.sheet import decode
from pourcast.sheet.text import LONGEST_FILE
from pourcast.trade_units import read

router = APIRouter(prefix="/upload")

_MOST_SCAN = 200_000_001  # bytes; one more than its reader takes, so that it can say so
_MOST_PICTURE = 60_000_001

Given = Annotated[UploadFile, File()]
Word = Annotated[str, Form(max_length=60)]
Name = Annotated[str, Form(max_length=120)]


@router.get("")
def ask(request: Request) -> HTMLResponse:
    """Return the page that takes a file."""
    return _page(request)


@router.post("/piece")
def piece_file(request: Request, studio: StudioOf, file: Given) -> Response:
    """Put a piece file on the shelf, if it has no fault."""
    try:
        # One byte more is read, so that the reader can refuse the file by name.
        text = decode(file.file.read(LONGEST_FILE + 1))
        made = studio.add(text)
    except SheetError as fault:
        return _page(request, faults=fault.faults)
    return RedirectResponse(f"/piece/{made.id}", status_code=303)


@router.post("/scan")
def scan(
    request: Request,
    studio: StudioOf,
    file: Given,
    name: Name = "",
    unit: Word = "",
    gate: Word = "lowest",
) -> Response:
    """Put the parts of a scan on the shelf."""
    if not can_scan():
        raise NotThereError("Scans cannot be read here.")
    try:
        taken = from_scan(
            file.file.read(_MOST_SCAN),
            file_name=file.filename or "",
            name=name,
            unit=unit or None,
            gate=gate,
        )
    except SheetError as fault:
        return _page(request, faults=fault.faults, place="scan")
    except InputError as fault:
        return _page(request, fault=str(fault), place="scan")
    return _taken(request, studio, taken)


@router.post("/photographs")
def photographs(
    request: Request,
    studio: StudioOf,
    first: Given,
    second: Annotated[UploadFile | None, File()] = None,
    name: Name = "",
    mark: Word = "",
    thickness: Word = "",
    leaf: Word = "leaf",
    stalk: Word = "herb_stem",
) -> Response:
    """Put the parts that photographs show on the shelf."""
    if not can_photograph():
        raise NotThereError("Photographs cannot be read here.")
    try:
        pictures = [first.file.read(_MOST_PICTURE)]
        if second is not None and second.filename:
            pictures.append(second.file.read(_MOST_PICTURE))
        taken = from_photographs(
            pictures,
            name=name,
            mark=_length(mark, studio),
            leaf=_length(thickness, studio),
            leaf_material=leaf,
            stalk_material=stalk,
        )
    except SheetError as fault:
        return _page(request, faults=fault.faults, place="photographs")
    except InputError as fault:
        return _page(request, fault=str(fault), place="photographs")
    return _taken(request, studio, taken)


def _length(text: str, studio: Studio) -> si.Metre:
    return read(text, "length", default_unit=studio.look.lengths)


def _taken(request: Request, studio: Studio, taken: Taken) -> HTMLResponse:
    made = studio.add(taken.text)
    return show(request, "taken.html.j2", here="shelf", piece=made, taken=taken)


def _page(
    request: Request, *, faults: tuple[Fault, ...] = (), fault: str = "", place: str = "file"
) -> HTMLResponse:
    return show(
        request,
        "upload.html.j2",
        status=422 if faults or fault else 200,
        here="shelf",
        faults=faults,
        fault=fault,
        place=place,
        can_scan=can_scan(),
        can_photograph=can_photograph(),
        units=UNITS,
        gates=GATES,
        materials=material_words("original"),
    )
