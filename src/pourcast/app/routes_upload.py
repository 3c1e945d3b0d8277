"""Upload: a piece from a file that the caster has, a scan, or photographs of the original."""

from collections.abc import Mapping, Sequence
from pathlib import PurePath
from types import MappingProxyType
from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from pourcast.app.faults import NotThereError
from pourcast.app.pages import StudioOf, VisitorOf, show
from pourcast.app.routes_taken import keep_taken, kept_of, show_taken
from pourcast.app.sheet_choices import material_words
from pourcast.app.studio import Studio
from pourcast.app.taking import (
    ENDS,
    UNITS,
    Measured,
    called,
    can_photograph,
    can_scan,
    made,
    measured_photographs,
    measured_scan,
)
from pourcast.app.upload_corrections import read, read_text, told_of
from pourcast.app.upload_drafts import FORMS, UploadDrafts
from pourcast.app.upload_fields import (
    PHOTOGRAPHS,
    PLACE,
    SCAN,
    SHAPES,
    read_photograph_form,
    read_scan_form,
)
from pourcast.app.visitor import Visitor
from pourcast.errors import Fault, InputError, SheetError
from pourcast.piece.model import USUAL_MATERIALS
from pourcast.sheet import decode
from pourcast.sheet.text import LONGEST_FILE

router = APIRouter(prefix="/upload")

_MOST_SCAN = 200_000_001  # bytes; one more than its reader takes, so that it can say so
_MOST_PICTURE = 60_000_001
_MOST_BESIDE = 50  # files of an OBJ; as many as its reader takes

_NOTHING: Mapping[str, str] = MappingProxyType({})

Given = Annotated[UploadFile, File()]
Maybe = Annotated[UploadFile | None, File()]
Some = Annotated[list[UploadFile] | None, File()]
Word = Annotated[str, Form(max_length=60)]
Name = Annotated[str, Form(max_length=120)]


@router.get("")
def ask(request: Request, studio: StudioOf, visitor: VisitorOf) -> HTMLResponse:
    """Return the page that takes a file."""
    return _page(request, studio, visitor)


@router.post("/piece")
def piece_file(request: Request, studio: StudioOf, visitor: VisitorOf, file: Given) -> Response:
    """Put a piece file on the shelf, if it has no fault."""
    try:
        # One byte more is read, so that the reader can refuse the file by name.
        text = decode(file.file.read(LONGEST_FILE + 1))
        made = studio.add(text)
    except SheetError as fault:
        return _page(request, studio, visitor, faults=fault.faults)
    return RedirectResponse(f"/piece/{made.id}", status_code=303)


@router.post("/draft")
async def keep_draft(request: Request, studio: StudioOf, visitor: VisitorOf) -> Response:
    """Keep a form as it stands, whatever is in it; a file cannot be kept by a browser."""
    async with request.form() as form:
        fields = {name: text for name, text in form.items() if isinstance(text, str)}
    place = fields.pop("form", "")
    if place in FORMS:
        _drafts(studio).write(visitor.session, place, fields)
    return Response(status_code=204)


@router.post("/scan")
def scan(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    file: Given,
    beside: Some = None,
    corrections: Maybe = None,
    without: Word = "",
    name: Name = "",
    unit: Word = "",
    gate: Word = "lowest",
    place: Word = "",
    rod: Word = "",
    blade: Word = "",
    lump: Word = "",
) -> Response:
    """Put the parts of a scan on the shelf."""
    if not can_scan():
        raise NotThereError("Scans cannot be read here.")
    typed = dict(zip(SCAN, (name, unit, gate, place, rod, blade, lump), strict=True))
    _drafts(studio).write(visitor.session, "scan", typed)
    said = read_scan_form(typed, studio.look)
    if said.faults:
        return _page(request, studio, visitor, told=said.faults, at="scan")
    calls = called(said.name, file.filename or "")
    try:
        right = _corrections(studio, "scan", calls, corrections, without)
    except SheetError as fault:
        told = {"corrections": told_of(fault)}
        return _page(request, studio, visitor, told=told, at="scan")
    try:
        measured = measured_scan(
            file.file.read(_MOST_SCAN),
            file_name=file.filename or "",
            name=said.name,
            unit=said.unit,
            gate=said.gate,
            materials=said.materials,
            beside=_beside(beside or ()),
        )
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), at="scan")
    return _taken(request, studio, visitor, measured, "scan", right)


@router.post("/photographs")
def photographs(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    first: Given,
    second: Maybe = None,
    third: Maybe = None,
    corrections: Maybe = None,
    without: Word = "",
    name: Name = "",
    mark: Word = "",
    thickness: Word = "",
    blade: Word = "",
    rod: Word = "",
    lump: Word = "",
    foot: Word = "",
    foot2: Word = "",
    foot3: Word = "",
) -> Response:
    """Put the parts that photographs show on the shelf."""
    if not can_photograph():
        raise NotThereError("Photographs cannot be read here.")
    values = (name, mark, thickness, blade, rod, lump, foot, foot2, foot3)
    typed = dict(zip(PHOTOGRAPHS, values, strict=True))
    _drafts(studio).write(visitor.session, "photographs", typed)
    pictures = [first, *(each for each in (second, third) if each is not None and each.filename)]
    said = read_photograph_form(typed, studio.look, len(pictures))
    if said.faults:
        return _page(request, studio, visitor, told=said.faults, at="photographs")
    try:
        right = _corrections(studio, "photographs", said.name, corrections, without)
    except SheetError as fault:
        told = {"corrections": told_of(fault)}
        return _page(request, studio, visitor, told=told, at="photographs")
    try:
        measured = measured_photographs(
            [each.file.read(_MOST_PICTURE) for each in pictures],
            name=said.name,
            mark=said.mark,
            leaf=said.leaf,
            materials=said.materials,
            feet=said.feet,
        )
    except InputError as fault:
        return _page(request, studio, visitor, fault=str(fault), at="photographs")
    return _taken(request, studio, visitor, measured, "photographs", right)


def _drafts(studio: Studio) -> UploadDrafts:
    return UploadDrafts(studio.folder / "uploads")


def _beside(files: Sequence[UploadFile]) -> dict[str, bytes]:
    """Return what lies beside an OBJ, by the last step of each name."""
    return {
        PurePath((each.filename or "").replace("\\", "/")).name: each.file.read(_MOST_PICTURE)
        for each in files[:_MOST_BESIDE]
        if each.filename
    }


def _corrections(
    studio: Studio, form: str, name: str, given: UploadFile | None, without: str
) -> str:
    """Return the text of the corrections to be made: those given, else those kept; "": none."""
    if given is not None and given.filename:
        return read_text(given.file.read(LONGEST_FILE + 1))
    return "" if without else kept_of(studio).read(form, name)


def _taken(
    request: Request,
    studio: Studio,
    visitor: Visitor,
    measured: Measured,
    form: str,
    right: str,
) -> HTMLResponse:
    """Put a piece on the shelf, and tell what was found."""
    try:
        taken = made(measured, read(right))
        piece = studio.add(taken.text)
    except SheetError as fault:
        return _page(request, studio, visitor, faults=fault.faults, at=form)
    _drafts(studio).write(visitor.session, form, {})
    if right:
        kept_of(studio).write(form, measured.name, right)
    keep_taken(studio, piece.id, form, measured, taken, right)
    return show_taken(request, studio, piece.id)


def _page(
    request: Request,
    studio: Studio,
    visitor: Visitor,
    *,
    faults: tuple[Fault, ...] = (),
    fault: str = "",
    told: Mapping[str, str] = _NOTHING,
    at: str = "file",
) -> HTMLResponse:
    """Return the page; with faults of a file, one of a form, or those of its boxes."""
    return show(
        request,
        "upload.html.j2",
        status=422 if faults or fault or told else 200,
        here="shelf",
        faults=faults,
        fault=fault,
        told=told,
        place=at,
        typed=_drafts(studio).read(visitor.session),
        kept={form: kept_of(studio).names(form) for form in FORMS},
        can_scan=can_scan(),
        can_photograph=can_photograph(),
        units=UNITS,
        gates=(*ENDS, PLACE),
        shapes=SHAPES,
        usual=USUAL_MATERIALS,
        materials=material_words("original"),
    )
