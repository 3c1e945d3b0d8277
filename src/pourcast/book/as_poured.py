"""As poured: a plan, with what the gauge showed at the pour where that is not what was meant.

What came out tells of the metal that ran that day.  A part that stopped under 50 kPa says little
of one poured under the 85 kPa of its plan, so learning takes the gauge.  A gauge that is as near
to the plan as gauges err changes nothing: two readings of one gauge are not two plans.

Left out: what the gauge showed before and after, and the temperature of the metal that was
dipped.  The second moves the chance little, and which of the dips is that of the pour
nobody enters.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast import units as si
from pourcast.book import tables
from pourcast.book.model import Reading
from pourcast.book.pour_days import standing
from pourcast.book.store import Book
from pourcast.book.words import GAUGE
from pourcast.day.gauge import GAUGE_LOW
from pourcast.forecast.air import air_of
from pourcast.sheet.model import Plan


def as_poured(plan: Plan, shown: si.Pascal | None) -> Plan:
    """Return the plan with the vacuum under which it was poured; the plan itself where as meant.

    Parameters
    ----------
    plan : Plan
    shown : float or None [Pa]
        By the gauge at the pour, below the air outside; None: nobody entered it.  More than the
        air of that place presses is no reading, and is left aside.
    """
    meant = plan.assist.vacuum
    if shown is None or meant is None or abs(shown - meant) <= GAUGE_LOW:
        return plan
    if shown >= air_of(plan.studio):
        return plan
    return replace(plan, assist=replace(plan.assist, vacuum=shown))


def taken_as_poured(name: str, meant: Plan, poured: Plan) -> str:
    """Return a sentence on a pour that is not learnt from as it was planned; "" where it is.

    Parameters
    ----------
    name : str
        Of the pour.
    meant, poured : Plan
        As kept, and from `as_poured`.
    """
    planned, shown = meant.assist.vacuum, poured.assist.vacuum
    if planned is None or shown is None or planned == shown:
        return ""
    speech = meant.speech
    return (
        f"{name}. The gauge showed {speech.vacuum(shown)}, so it counts as poured under that and "
        f"not under the {speech.vacuum(planned)} of its plan."
    )


def gauges_at_the_pour(
    connection: Connection, pour_ids: Collection[str]
) -> Mapping[str, si.Pascal]:
    """Return what the gauge showed last before the metal went in, of those where it was entered.

    Parameters
    ----------
    connection : Connection
    pour_ids : collection of str

    Returns
    -------
    mapping of str to float [Pa]
        By pour.  Readings after the act "poured" do not count; where no such act stands the last
        reading of the day does.
    """
    readings = tables.readings.c
    ended = _poured_at(connection, pour_ids)
    asked = sa.select(readings.pour_id, readings.taken, readings.value).where(
        readings.kind == GAUGE, readings.pour_id.in_(pour_ids)
    )
    shown: dict[str, si.Pascal] = {}
    for row in connection.execute(asked.order_by(readings.taken, readings.entry)):
        end = ended.get(row.pour_id)
        if end is None or row.taken <= end:
            shown[row.pour_id] = si.to_si(row.value, "kPa")
    return shown


def up_to_the_pour(book: Book, pour_id: str, readings: Iterable[Reading]) -> list[Reading]:
    """Return readings without those of the gauge that were taken after the metal went in.

    A pump that is turned off, or a block that is taken away, says nothing of the pour.

    Parameters
    ----------
    book : Book
    pour_id : str
    readings : iterable of Reading
        Of that pour.
    """
    with book.reading() as connection:
        end = _poured_at(connection, [pour_id]).get(pour_id)
    return [each for each in readings if each.kind != GAUGE or end is None or each.taken <= end]


def _poured_at(connection: Connection, pour_ids: Collection[str]) -> dict[str, datetime]:
    """Return when the metal went in, of those pours where it was entered."""
    events = tables.events.c
    acts = sa.select(events.pour_id, events.at).where(
        events.act == "poured", events.pour_id.in_(pour_ids), standing()
    )
    return {row.pour_id: row.at for row in connection.execute(acts)}
