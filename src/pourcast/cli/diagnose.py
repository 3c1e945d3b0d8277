"""Diagnose: what may be behind what was seen at the break-out."""

import json as writer
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from pourcast.signs.model import Answer, Diagnosis
    from pourcast.speech import Speech


def diagnose(
    what: Annotated[
        str | None,
        typer.Argument(
            metavar="[PIECE]", help="Id or name of a piece with an outcome, or its piece file."
        ),
    ] = None,
    seen: Annotated[
        list[str] | None, typer.Option(metavar="SIGN", help="What you see, besides the record.")
    ] = None,
    yes: Annotated[
        list[str] | None,
        typer.Option(metavar="KEY", help="Yes to a question of the answer, by its key."),
    ] = None,
    no: Annotated[
        list[str] | None,
        typer.Option(metavar="KEY", help="No to a question of the answer, by its key."),
    ] = None,
    signs: Annotated[bool, typer.Option("--signs", help="List what can be seen, and end.")] = False,
    json: AsJson = False,
    data: Annotated[
        Path | None,
        typer.Option(
            "--data", metavar="FOLDER", help="Folder of the book; left out: the system's."
        ),
    ] = None,
) -> None:
    """Say what may have gone wrong, from the signs on the casting and the record of the pour."""
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError
    from pourcast.signs.solve import diagnose as solve
    from pourcast.signs.table import SIGNS
    from pourcast.speech import CELSIUS

    if signs:
        write_out("".join(f"{key:<15} {sign.text}\n" for key, sign in SIGNS.items()))
        return
    words, record, speech = ([], {}, CELSIUS) if what is None else _on_record(what, data)
    words += [word for word in seen or [] if word not in words]
    record |= _answers(yes or [], "yes") | _answers(no or [], "no")
    if not words:
        raise InputError(
            "sign", "none", "", "at least one", "Enter the outcome, or name one: --seen short_tip"
        )
    found = solve(words, record)
    if json:
        write_out(writer.dumps(_tree(words, record, found), indent=1) + "\n")
    else:
        write_out("\n".join(_lines(words, record, found, speech)) + "\n")


def _on_record(what: str, data: Path | None) -> "tuple[list[str], dict[str, Answer], Speech]":
    from pourcast.book.as_poured import up_to_the_pour
    from pourcast.book.days import readings_of
    from pourcast.book.evidence import record_of, seen_of
    from pourcast.book.metal_used import metal_used
    from pourcast.book.outcomes import pours_of, revisions
    from pourcast.book.plans import latest_plan
    from pourcast.book.store import open_book
    from pourcast.cli.outcome import find_piece
    from pourcast.errors import InputError
    from pourcast.sheet.spoken import speech_of_text

    with open_book(data) as book:
        plan = latest_plan(book, find_piece(book, what))
        # The latest pour may not be out of its mould yet; then the one before it counts.
        told = next(
            filter(None, (revisions(book, each.id) for each in pours_of(book, plan.id))), ()
        )
        if not told:
            raise InputError(
                "piece", plan.piece_name, "", "one with an outcome", "Enter it: pourcast outcome"
            )
        pour = told[-1].pour_id
        readings = up_to_the_pour(book, pour, readings_of(book, pour))
        metal = metal_used(book, pour)
    record = record_of(plan, told[-1], readings, metal)
    return list(seen_of(told[-1])), record, speech_of_text(plan.sheet)


def _answers(keys: Iterable[str], answer: "Answer") -> "dict[str, Answer]":
    return dict.fromkeys(keys, answer)


def _lines(
    words: list[str], record: "dict[str, Answer]", found: "Diagnosis", speech: "Speech"
) -> list[str]:
    from pourcast.page import words_signs
    from pourcast.signs.table import LOOKS_LIKE, SIGNS

    texts = [SIGNS[word].text if word in SIGNS else word for word in words]
    said = [f"Seen: {'; '.join(texts)}."]
    if not found.likely:
        return [*said, words_signs.NOT_KNOWN]
    for each, sentence in zip(found.likely, words_signs.causes(found), strict=True):
        said += ["", sentence]
        if any(len(LOOKS_LIKE.get(word, ())) > 1 for word in words):
            said.append(f"  It would look like this: {each.sign.text}.")
        said.append(f"  {words_signs.why(each, record, speech)}")
    said += ["", f"First change: {words_signs.remedy(found, speech)} {words_signs.ONE_CHANGE}"]
    asked = words_signs.questions(found, speech)
    if asked:
        said += ["", "What would tell them apart (--yes KEY or --no KEY):"]
        said += [f"  {key:<15} {question}" for key, question in asked]
    return [*said, "", words_signs.RANKS]


def _tree(words: list[str], record: "dict[str, Answer]", found: "Diagnosis") -> dict[str, object]:
    return {
        "schema": "pourcast.diagnosis/1",
        "seen": words,
        "record": record,
        "likely": [
            {
                "sign": each.sign.key,
                "cause": each.cause.key,
                "text": each.cause.text,
                "remedy": each.cause.remedy,
                "points": each.points,
                "for": list(each.speaks_for),
                "against": list(each.speaks_against),
                "unknown": list(each.unknown),
                "kind": each.cause.kind,
                "source": each.cause.source,
            }
            for each in found.likely
        ],
        "ask": list(found.ask),
    }
