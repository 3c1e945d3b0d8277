"""Answers: what a page says when a request cannot be met, never more than the caster needs."""

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException

from pourcast.app.faults import ConflictError, NotThereError
from pourcast.app.pages import show
from pourcast.app.words import say
from pourcast.errors import InputError, PourcastError, SheetError, SourceError


def add_to(app: FastAPI) -> None:
    """Give an application its answers to faults."""
    app.add_exception_handler(RequestValidationError, _not_understood)
    app.add_exception_handler(HTTPException, _refused)
    app.add_exception_handler(PourcastError, _fault)


def wants_json(request: Request) -> bool:
    """Return whether the asker is a script that reads JSON."""
    return "application/json" in request.headers.get("accept", "")


async def _not_understood(request: Request, fault: Exception) -> Response:
    assert isinstance(fault, RequestValidationError)
    # What came is never sent back: it may hold a number that JSON cannot.
    found = [
        {
            "place": ".".join(str(step) for step in error.get("loc", ())),
            "fault": str(error.get("msg", "")),
        }
        for error in fault.errors()
    ]
    if wants_json(request):
        return JSONResponse({"faults": found}, status_code=422)
    places = "; ".join(f"{each['place']}: {each['fault']}" for each in found)
    return show(request, "fault.html.j2", status=422, said=say("fault.form", places=places))


async def _refused(request: Request, fault: Exception) -> Response:
    assert isinstance(fault, HTTPException)
    status = fault.status_code
    said = say("fault.not_there") if status == 404 else str(fault.detail)
    if wants_json(request):
        return JSONResponse({"fault": said}, status_code=status, headers=fault.headers)
    answer = show(request, "fault.html.j2", status=status, said=said)
    answer.headers.update(fault.headers or {})
    return answer


async def _fault(request: Request, fault: Exception) -> Response:
    if isinstance(fault, ConflictError):
        return _conflict(request, fault)
    status = 500
    if isinstance(fault, NotThereError):
        status = 404
    elif isinstance(fault, (InputError, SourceError)):
        status = 422
    if wants_json(request):
        return JSONResponse({"fault": str(fault)}, status_code=status)
    faults = fault.faults if isinstance(fault, SheetError) else ()
    return show(request, "fault.html.j2", status=status, said=str(fault), faults=faults)


def _conflict(request: Request, fault: ConflictError) -> Response:
    if wants_json(request):
        return JSONResponse(
            {
                "fault": str(fault),
                "yours": fault.yours,
                "theirs": fault.theirs,
                "revision": fault.revision,
            },
            status_code=409,
        )
    return show(request, "conflict.html.j2", status=409, fault=fault)
