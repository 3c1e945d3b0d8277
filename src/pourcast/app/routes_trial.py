"""Trial: the knobs of a piece are turned, and what was turned is kept or dropped."""

from typing import Annotated, NamedTuple

from fastapi import APIRouter, Form, Request
from fastapi.responses import Response

from pourcast.app.desk import desk_of, texts_of
from pourcast.app.faults import NotThereError
from pourcast.app.knob import Knob
from pourcast.app.knob_edits import edits_for
from pourcast.app.knobs import knobs
from pourcast.app.pages import StudioOf, VisitorOf
from pourcast.app.piece_answer import answer, to
from pourcast.app.piece_view import Fault
from pourcast.app.routes_shelf import PieceId
from pourcast.app.studio import Studio
from pourcast.app.trials import Trial, Turn
from pourcast.app.visitor import Visitor
from pourcast.app.words import say
from pourcast.errors import PourcastError, SheetError
from pourcast.page.figures import clean
from pourcast.sheet.edit import edited

router = APIRouter()

KnobId = Annotated[str, Form(max_length=200)]
Typed = Annotated[str, Form(max_length=400)]
By = Annotated[int, Form(ge=-100, le=100)]


@router.post("/knob")
def turn_knob(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    piece_id: PieceId,
    knob: KnobId,
    value: Typed = "",
    by: By = 0,
) -> Response:
    """Turn a knob: to what was typed, or by so many steps."""
    with desk_of(request).trials.turning(visitor.session, piece_id):
        wrong, row = _turn(request, studio, visitor, piece_id, _Ask(knob, value, by))
    if wrong is not None:
        return answer(request, studio, visitor, piece_id, wrong)
    return to(piece_id, row)


class _Ask(NamedTuple):
    """What a knob shall be turned to."""

    knob: str
    value: str
    by: int


def _turn(
    request: Request, studio: Studio, visitor: Visitor, piece_id: str, ask: _Ask
) -> tuple[Fault | None, str]:
    """Turn a knob; return why it cannot be, and the row of the knob."""
    desk = desk_of(request)
    texts = texts_of(request, studio, visitor, piece_id)
    pair = desk.forecasts.pair(texts.now, texts.kept.text)
    knob = _knob(knobs(pair.now, studio.look), ask.knob)
    typed = knob.turned(ask.by) if ask.by else ask.value.strip()
    try:
        text = edited(texts.now, edits_for(knob, typed, texts.now))
        if text != texts.now and knob.shown != typed:
            desk.forecasts.pair(text, texts.kept.text)
            before = texts.trial or Trial(base=texts.kept.revision, text=texts.kept.text)
            turn = Turn(knob=knob.id, label=knob.label, typed=typed)
            desk.trials.write(visitor.session, piece_id, before.turned(turn, text))
    except SheetError as fault:
        said = "; ".join(dict.fromkeys(each.text for each in fault.faults))
        return Fault(knob=knob.id, typed=typed, said=clean(said)), knob.row
    except PourcastError as fault:
        return Fault(knob=knob.id, typed=typed, said=clean(str(fault))), knob.row
    return None, knob.row


def _knob(there: list[Knob], knob_id: str) -> Knob:
    for knob in there:
        if knob.id == knob_id:
            return knob
    raise NotThereError(say("piece.no_knob"))


@router.post("/trial/take")
def take(
    request: Request,
    studio: StudioOf,
    visitor: VisitorOf,
    piece_id: PieceId,
    name: Annotated[str, Form(max_length=200)],
) -> Response:
    """Try a change of the wax that was proposed."""
    desk = desk_of(request)
    texts = texts_of(request, studio, visitor, piece_id)
    found = desk.first.proposal(texts.now, name)
    if found is None:
        raise NotThereError(say("piece.wax.gone"))
    text = edited(texts.now, found.edits)
    desk.forecasts.pair(text, texts.kept.text)
    before = texts.trial or Trial(base=texts.kept.revision, text=texts.kept.text)
    turn = Turn(knob="wax", label=say("piece.wax.label", name=clean(name)), typed=name)
    desk.trials.write(visitor.session, piece_id, before.turned(turn, text))
    return to(piece_id, "main")


@router.post("/trial/keep")
def keep(request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId) -> Response:
    """Keep what was turned, unless the piece was changed elsewhere."""
    desk = desk_of(request)
    trial = desk.trials.read(visitor.session, piece_id)
    if trial is not None:
        studio.save(piece_id, trial.text, base=trial.base)
        desk.trials.write(visitor.session, piece_id, None)
    return to(piece_id, "main")


@router.post("/trial/drop")
def drop(request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId) -> Response:
    """Go back to the kept plan."""
    studio.piece(piece_id)
    desk_of(request).trials.write(visitor.session, piece_id, None)
    return to(piece_id, "main")


@router.post("/trial/undo")
def undo(request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId) -> Response:
    """Take the last turn back."""
    studio.piece(piece_id)
    desk = desk_of(request)
    trial = desk.trials.read(visitor.session, piece_id)
    if trial is not None:
        desk.trials.write(visitor.session, piece_id, trial.undone())
    return to(piece_id, "main")


@router.post("/trial/bring")
def bring(request: Request, studio: StudioOf, visitor: VisitorOf, piece_id: PieceId) -> Response:
    """Turn the same knobs on the newer text; one that is not there any more stays as it is."""
    desk = desk_of(request)
    trial = desk.trials.read(visitor.session, piece_id)
    piece = studio.piece(piece_id)
    if trial is not None and trial.base != piece.revision:
        moved = Trial(base=piece.revision, text=piece.text)
        there = {
            knob.id: knob
            for knob in knobs(desk.forecasts.pair(piece.text, piece.text).now, studio.look)
        }
        for turn in trial.turns:
            knob = there.get(turn.knob)
            if knob is not None and knob.label == turn.label:
                text = edited(moved.text, edits_for(knob, turn.typed, moved.text))
                moved = moved.turned(turn, text)
        desk.trials.write(visitor.session, piece_id, moved if moved.turns else None)
    return to(piece_id, "main")
