"""Break-out: say what came out of the mould, and read what may be behind it."""

import json
from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import UploadFile

from pourcast.app.breakout import FIRST_SIGN, Fault, Told, fields_of, read_told
from pourcast.app.breakout_picture import numbered
from pourcast.app.pages import StudioOf, show
from pourcast.app.routes_shelf import PieceId
from pourcast.app.standing import stands
from pourcast.app.studio import Studio
from pourcast.app.words import say
from pourcast.book.as_poured import up_to_the_pour
from pourcast.book.days import readings_of
from pourcast.book.evidence import record_of, seen_of
from pourcast.book.history import trials_of, whole_trial_of
from pourcast.book.metal_used import metal_used
from pourcast.book.model import KeptPlan, Outcome, Pour
from pourcast.book.outcomes import keep_first_outcome, keep_outcome, latest_pour, revisions
from pourcast.book.pictures import keep_photograph
from pourcast.book.plans import latest_plan
from pourcast.book.scores import brier
from pourcast.book.tell import in_words
from pourcast.book.words import BUTTONS, SIGN_AMOUNTS, SIGNS, STATES, SURE
from pourcast.errors import PourcastError
from pourcast.page import words_signs
from pourcast.sheet import read_plan
from pourcast.sheet.spoken import speech_of_text
from pourcast.signs.model import Answer
from pourcast.signs.solve import diagnose
from pourcast.signs.table import LOOKS_LIKE
from pourcast.signs.tells import TELLS

router = APIRouter(prefix="/break-out")

DRAFT = "break-out.json"
"""Beside the texts of a piece: the form as it was left."""

_FIELDS = {"day of the pour": "poured", "day of the break-out": "seen"}
_MOST_FIELDS = 600
_LONGEST = 20_000


@router.get("")
def which(request: Request, studio: StudioOf) -> HTMLResponse:
    """Ask which piece is out of its mould."""
    shown = [stands(studio, piece_id) for piece_id in studio.pieces.ids()]
    order = sorted(shown, key=lambda each: (each.kept is None, each.came is not None))
    return show(request, "breakout_which.html.j2", here="breakout", shown=order)


@router.get("/{piece_id}")
def form(request: Request, studio: StudioOf, piece_id: PieceId) -> HTMLResponse:
    """Return the form, as it was left."""
    return _form(request, studio, piece_id, _draft(studio, piece_id))


@router.post("/{piece_id}/keep")
def keep_plan_first(studio: StudioOf, piece_id: PieceId) -> Response:
    """Keep the plan that stands, so that the outcome has something to be held against."""
    studio.keep_in_book(piece_id)
    return RedirectResponse(f"/break-out/{piece_id}", status_code=303)


@router.post("/{piece_id}/draft")
async def keep_draft(request: Request, studio: StudioOf, piece_id: PieceId) -> Response:
    """Keep the form as it stands, whatever is in it."""
    fields, _ = await _fields(request)
    studio.pieces.note(piece_id, DRAFT, json.dumps(fields))
    return Response(status_code=204)


@router.post("/{piece_id}")
async def write(request: Request, studio: StudioOf, piece_id: PieceId) -> Response:
    """Write the outcome into the book; a form with faults comes back as it was filled in."""
    fields, photo = await _fields(request)
    studio.pieces.note(piece_id, DRAFT, json.dumps(fields))
    plan = _plan(studio, piece_id)
    if plan is None:
        return RedirectResponse(f"/break-out/{piece_id}", status_code=303)
    pour = _pour(studio, plan)
    told, faults = read_told(
        fields, plan, studio.look, date.today(), poured=pour.day if pour else None
    )
    if told is None:
        return _form(request, studio, piece_id, fields, faults)
    try:
        kept = _keep(studio, plan, told, another=fields.get("another") == "yes")
        if photo is not None:
            keep_photograph(
                studio.book,
                photo[1],
                photo[0],
                piece_id=plan.piece_id,
                pour_id=kept.pour_id,
                at=datetime.now(UTC),
            )
    except PourcastError as fault:
        return _form(request, studio, piece_id, fields, (Fault(field=_of(fault), text=str(fault)),))
    studio.pieces.note(piece_id, DRAFT, "{}")
    return RedirectResponse(f"/break-out/{piece_id}/came", status_code=303)


@router.get("/{piece_id}/came")
def came(request: Request, studio: StudioOf, piece_id: PieceId) -> Response:
    """Return what came beside what was forecast, and what may be behind it."""
    plan = _plan(studio, piece_id)
    pour = _pour(studio, plan)
    told = revisions(studio.book, pour.id) if pour else ()
    if plan is None or pour is None or not told:
        return RedirectResponse(f"/break-out/{piece_id}", status_code=303)
    chances = {part.name: part for part in plan.parts}
    trials, whole = trials_of(plan, told), whole_trial_of(plan, told)
    return show(
        request,
        "breakout_came.html.j2",
        here="breakout",
        piece_id=piece_id,
        plan=plan,
        rows=[
            (part.part, chances[part.part].chance_full, in_words(part, chances[part.part].count))
            for part in told[-1].parts
        ],
        whole=whole,
        score=brier(trials) if trials else None,
        outcome=told[-1],
        pour=pour,
        **_behind(studio, plan, told[-1], request.query_params),
    )


def _of(fault: PourcastError) -> str:
    """Return the field that a fault is about; "" where it is of none, or of several."""
    return _FIELDS.get(getattr(fault, "what", ""), "")


def _behind(
    studio: Studio, plan: KeptPlan, outcome: Outcome, asked: Mapping[str, str]
) -> dict[str, Any]:
    """Return the diagnosis, with the answers that the address holds."""
    seen = seen_of(outcome)
    pour = outcome.pour_id
    readings = up_to_the_pour(studio.book, pour, readings_of(studio.book, pour))
    record = record_of(plan, outcome, readings, metal_used(studio.book, pour))
    said: dict[str, Answer] = {}
    for key, answer in asked.items():
        if key in TELLS and answer == "yes":
            said[key] = "yes"
        elif key in TELLS and answer == "no":
            said[key] = "no"
    record |= said
    speech = speech_of_text(plan.sheet)
    found = diagnose(seen, record)
    return {
        "seen": seen,
        "said": said,
        "tells": {key: speech.text(asks) for key, asks in TELLS.items()},
        "causes": [
            (sentence, words_signs.why(each, record, speech), each.sign.text)
            for each, sentence in zip(found.likely, words_signs.causes(found), strict=True)
        ],
        "several": any(len(LOOKS_LIKE.get(word, ())) > 1 for word in seen),
        "remedy": words_signs.remedy(found, speech),
        "questions": words_signs.questions(found, speech),
        "signs_words": words_signs,
    }


def _form(
    request: Request,
    studio: Studio,
    piece_id: str,
    fields: Mapping[str, str],
    faults: tuple[Fault, ...] = (),
) -> HTMLResponse:
    plan = _plan(studio, piece_id)
    pour = _pour(studio, plan)
    told = revisions(studio.book, pour.id) if pour else ()
    if not fields and plan is not None and pour is not None and told:
        fields = fields_of(told[-1], pour.day, plan)
    piece = studio.piece(piece_id)
    sheet = None if plan is None else read_plan(plan.sheet, file=plan.file_name)
    return show(
        request,
        "breakout.html.j2",
        status=422 if faults else 200,
        here="breakout",
        piece_id=piece_id,
        plan=plan,
        called=studio.plan(piece).piece.name if plan is None else plan.piece_name,
        changed=plan is not None and plan.sheet != piece.text,
        picture=None if sheet is None else numbered(sheet),
        invented=sheet is not None and sheet.invented,
        before=bool(told),
        fields=fields,
        faults=faults,
        faulty={fault.field for fault in faults},
        today=date.today().isoformat(),
        pour=pour,
        states=tuple(STATES),
        first_sign=FIRST_SIGN,
        signs={key: text for key, text in SIGNS.items() if key != FIRST_SIGN},
        amounts=("", *SIGN_AMOUNTS),
        others_open=any(fields.get(f"sign-{key}") for key in SIGNS if key != FIRST_SIGN),
        buttons=("", *BUTTONS),
        sures=tuple(SURE),
        unit=studio.look.lengths,
        title=say("breakout.title"),
    )


async def _fields(request: Request) -> tuple[dict[str, str], tuple[str, bytes] | None]:
    """Return the fields of a form as they were typed, and its photograph."""
    fields: dict[str, str] = {}
    photo = None
    async with request.form() as form:
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                if name == "photo" and value.size:
                    photo = (value.filename or "photograph", await value.read())
            elif name != "token" and len(fields) < _MOST_FIELDS:
                fields[name[:100]] = value[:_LONGEST]
    return fields, photo


def _draft(studio: Studio, piece_id: str) -> dict[str, str]:
    noted = studio.pieces.noted(piece_id, DRAFT)
    return {} if noted is None else {str(k): str(v) for k, v in json.loads(noted).items()}


def _plan(studio: Studio, piece_id: str) -> KeptPlan | None:
    studio.piece(piece_id)
    book_piece = studio.pieces.book_piece(piece_id)
    return None if book_piece is None else latest_plan(studio.book, book_piece)


def _pour(studio: Studio, plan: KeptPlan | None) -> Pour | None:
    return None if plan is None else latest_pour(studio.book, plan.id)


def _keep(studio: Studio, plan: KeptPlan, told: Told, *, another: bool) -> Outcome:
    entry: dict[str, Any] = {
        "seen": told.seen,
        "at": datetime.now(UTC),
        "sure": told.sure,
        "button": told.button,
        "note": told.note,
    }
    pour = _pour(studio, plan)
    if pour is None or another:
        return keep_first_outcome(studio.book, plan.id, told.parts, poured=told.poured, **entry)
    return keep_outcome(studio.book, pour.id, told.parts, poured=told.poured, **entry)
