"""Plans: keep what was forecast, before anything is poured, and never change it.

A plan is kept as it was: the piece file sign by sign, the forecast as JSON, and
what made it (seed, version, hashes).  Pieces of one name are one piece, unless
the caster says that this is another one.
"""

import json
import math
from collections.abc import Mapping
from datetime import datetime
from pathlib import PurePosixPath, PureWindowsPath
from typing import Any

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import KeptPlan, PartChance
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.errors import InputError

MG_PER_G = 1000


@retried
def keep_plan(
    book: Book,
    *,
    sheet: str,
    file_name: str,
    document: Mapping[str, Any],
    alloy: str,
    powder: str,
    at: datetime,
    piece_id: str | None = None,
    new_piece: bool = False,
) -> KeptPlan:
    """Keep a plan with its forecast, and return it as it was kept.

    Parameters
    ----------
    book : Book
    sheet : str
        The piece file, sign by sign.
    file_name : str
        Its folder is left off.
    document : mapping
        The forecast, as `pourcast.forecast.document.document` makes it.
    alloy, powder : str
        Keys of the values file.
    at : datetime
        Now, with its zone.
    piece_id : str or None
        The piece that the plan is of; None: that of the same name, or a new one.
    new_piece : bool
        True: a new piece, also where one has that name.

    Raises
    ------
    InputError
        If the document is no forecast, holds a number that is not finite, or if
        several pieces have that name.
    """
    written = _as_text(document)
    name, parts = _piece_of(document)
    fill, weigh = document["fill"], document["weigh"]
    plan_id = new_id()
    row = {
        "id": plan_id,
        "created": at,
        "file_name": base_name(file_name),
        "chance_whole": float(fill["chance_all"]),
        "draws": document["draws"],
        "seed": document["seed"],
        "version": document["version"],
        "inputs_sha256": document["inputs_sha256"],
        "kernels_sha256": document["kernels_sha256"],
        "calibration": document.get("calibration"),
        "alloy": alloy,
        "powder": powder,
        "metal_mg": round(float(weigh["metal_g"]) * MG_PER_G),
        "powder_mg": round(float(weigh["powder_g"]) * MG_PER_G),
        "sheet": sheet,
        "document": written,
    }
    with book.writing() as connection:
        if piece_id is not None:
            row["piece_id"] = find_id(connection, tables.pieces, piece_id)
        else:
            row["piece_id"] = _piece(connection, name, at, new_piece=new_piece)
        connection.execute(tables.plans.insert(), row)
        connection.execute(
            tables.plan_parts.insert(),
            [
                {
                    "plan_id": plan_id,
                    "number": number,
                    "name": part.name,
                    "count": part.count,
                    "chance_full": part.chance_full,
                }
                for number, part in enumerate(parts)
            ],
        )
    return read_plan(book, plan_id)


def read_plan(book: Book, asked: str) -> KeptPlan:
    """Return a kept plan by its id, or by the first signs of it."""
    with book.reading() as connection:
        return load_plan(connection, find_id(connection, tables.plans, asked))


def latest_plan(book: Book, piece_id: str) -> KeptPlan:
    """Return the plan of a piece that was kept last."""
    with book.reading() as connection:
        found = find_id(connection, tables.pieces, piece_id)
        plans = tables.plans.c
        order = sa.select(plans.id).where(plans.piece_id == found)
        latest = order.order_by(plans.created.desc(), plans.id.desc()).limit(1)
        return load_plan(connection, connection.execute(latest).scalar_one())


def kept_as(book: Book, piece_id: str, sheet: str) -> datetime | None:
    """Return when the latest plan of a piece was kept, if it is of this very sheet; else None.

    The book itself compares the two: neither the forecast nor the sheet is handed out.

    Parameters
    ----------
    book : Book
    piece_id : str
        Whole.
    sheet : str
        Text of the piece file.
    """
    plans = tables.plans.c
    same = sa.case((plans.sheet == sheet, 1), else_=0).label("same")
    asked = sa.select(plans.created, same).where(plans.piece_id == piece_id)
    latest = asked.order_by(plans.created.desc(), plans.id.desc()).limit(1)
    with book.reading() as connection:
        row = connection.execute(latest).first()
    return row.created if row is not None and row.same else None


def load_plan(connection: Connection, plan_id: str) -> KeptPlan:
    """Return a kept plan by its whole id."""
    plans, parts = tables.plans, tables.plan_parts.c
    name = tables.pieces.c.name.label("piece_name")
    asked = sa.select(*tables.told(plans, who=True), name).join(tables.pieces)
    row = connection.execute(asked.where(plans.c.id == plan_id)).mappings().one()
    listed = sa.select(parts.name, parts.count, parts.chance_full)
    rows = connection.execute(listed.where(parts.plan_id == plan_id).order_by(parts.number))
    return KeptPlan(
        **row,
        parts=tuple(
            PartChance(name=name, count=count, chance_full=chance) for name, count, chance in rows
        ),
    )


def pieces_named(book: Book, name: str) -> tuple[str, ...]:
    """Return the ids of the pieces of a name, the newest first."""
    pieces = tables.pieces.c
    asked = sa.select(pieces.id).where(pieces.name == name)
    with book.reading() as connection:
        found = connection.execute(asked.order_by(pieces.created.desc(), pieces.id))
        return tuple(found.scalars())


def base_name(written: str) -> str:
    r"""Return the last part of a path of either kind; a folder is nobody's business.

    Examples
    --------
    >>> base_name("../../etc/fern.toml"), base_name("C:\\work\\fern.toml"), base_name("..")
    ('fern.toml', 'fern.toml', 'unnamed')
    """
    last = PureWindowsPath(PurePosixPath(written.replace("\0", "")).name).name
    return last[:200] if last not in ("", ".", "..") else "unnamed"


def _piece(connection: Connection, name: str, at: datetime, *, new_piece: bool) -> str:
    pieces = tables.pieces
    if not new_piece:
        asked = sa.select(pieces.c.id).where(pieces.c.name == name).limit(2)
        found = connection.execute(asked).scalars().all()
        if len(found) > 1:
            raise InputError(
                "piece", name, "", "one of that name", "Several have it; name one with --piece ID."
            )
        if found:
            return str(found[0])
    made = new_id()
    connection.execute(pieces.insert(), {"id": made, "name": name, "created": at})
    return made


def _piece_of(document: Mapping[str, Any]) -> tuple[str, tuple[PartChance, ...]]:
    from pourcast.forecast.document import SCHEMA

    if document.get("schema") != SCHEMA:
        raise InputError("schema of the forecast", document.get("schema"), "", SCHEMA)
    parts = tuple(
        PartChance(name=part["name"], count=part["count"], chance_full=float(part["chance_full"]))
        for part in document["fill"]["parts"]
    )
    return str(document["piece"]["name"]), parts


def _as_text(document: Mapping[str, Any]) -> str:
    _refuse_not_finite(document, "forecast")
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _refuse_not_finite(value: Any, place: str) -> None:
    if isinstance(value, float) and not math.isfinite(value):
        raise InputError(place, value, "", "a finite number")
    if isinstance(value, Mapping):
        for key, inner in value.items():
            _refuse_not_finite(inner, f"{place}.{key}")
    elif isinstance(value, list | tuple):
        for number, inner in enumerate(value):
            _refuse_not_finite(inner, f"{place}[{number}]")
