"""Day wrong: what the page says of a kiln day that was begun by mistake, and all that it holds."""

from datetime import timedelta
from typing import Any

from pourcast.app.day_view import acts_told, gauges_told
from pourcast.app.studio import Studio
from pourcast.book.days import readings_of
from pourcast.book.kiln_days import PLACES, as_read, events_of
from pourcast.book.model import Pour
from pourcast.book.plans import read_plan
from pourcast.book.words import BEGAN, GAUGE
from pourcast.page.words_day import clock, reading_told
from pourcast.page.zones import zone_record
from pourcast.sheet.spoken import speech_of_text


def wrong_values(studio: Studio, pour: Pour) -> dict[str, Any]:
    """Return what the page of such a day shows; nothing of it is forecast.

    Parameters
    ----------
    studio : Studio
    pour : Pour
    """
    pour_id = pour.id
    events = events_of(studio.book, pour_id, all_of_them=True)
    start = max(event.at for event in events if event.act == BEGAN)
    said = max(event.created for event in events if event.takes_back is not None)
    zone = zone_record(None, None, start, start + timedelta(days=2))
    kept = read_plan(studio.book, pour.plan_id)
    speech = speech_of_text(kept.sheet)
    lines = acts_told(studio, pour_id)
    readings = readings_of(studio.book, pour_id)
    lines += [
        (each.taken.timestamp(), reading_told(as_read(each), speech=speech))
        for each in readings
        if each.kind in PLACES
    ]
    lines += gauges_told((each for each in readings if each.kind == GAUGE), speech)
    return {
        "pour_id": pour_id,
        "called": kept.piece_name,
        "began": start.astimezone(),
        "said_at": said.astimezone(),
        "lines": [(clock(zone, at), text) for at, text in sorted(lines)],
    }
