"""A kiln day in the book: what is typed and what a log holds, kept once and for good.

House rules.
"""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from pourcast.book.day_entries import enter, moment_of
from pourcast.book.day_kiln import days_ended, joined, kiln_before, kiln_learnt
from pourcast.book.day_logs import TakenIn, keep_rows, rows_of_day
from pourcast.book.day_tokens import new_token, token_opens
from pourcast.book.kiln_days import (
    begin_day,
    day_begun,
    day_log,
    events_of,
    keep_event,
    read_on,
)
from pourcast.book.model import Pour
from pourcast.book.open_days import open_days
from pourcast.book.store import Book
from pourcast.day.judge import judged
from pourcast.day.kilns import plain_kiln
from pourcast.day.typed import Typed
from pourcast.errors import InputError, SheetError
from pourcast.materials import library
from tests.book.conftest import kept

START = datetime(2026, 12, 5, 5, 0, tzinfo=UTC)


@pytest.fixture
def pour(book: Book) -> Pour:
    """Begin a day."""
    return begin_day(book, kept(book).id, start=START, at=START)


def after(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def type_in(book: Book, pour: Pour, line: str, minutes: float, key: str | None = None) -> None:
    enter(book, pour.id, line, now=after(minutes), zone=UTC, unit="degC", key=key)


def take_log(book: Book, pour_id: str, text: str, name: str, *, now: datetime) -> TakenIn:
    """Keep the rows of a kiln log that the book does not have yet."""
    start = datetime.fromtimestamp(day_log(book, pour_id).start, UTC)
    return keep_rows(book, pour_id, rows_of_day(text, name, start=start, zone=UTC), now=now)


def test_a_day_is_found_again_by_its_plan_and_start(book: Book, pour: Pour) -> None:
    assert day_begun(book, pour.plan_id, START) == pour
    assert day_begun(book, pour.plan_id, after(1)) is None


def test_what_is_typed_comes_out_as_the_log_of_the_day(book: Book, pour: Pour) -> None:
    type_in(book, pour, "turned to 2", 0.0)
    type_in(book, pour, "120", 30.0)
    type_in(book, pour, "flask 200 F 05:20", 31.0)

    log = day_log(book, pour.id)

    assert log.start == START.timestamp()
    assert [event.setting for event in log.events] == [2.0]
    found = {each.place: (each.at - log.start, each.temperature) for each in log.readings}
    assert found["kiln"] == pytest.approx((1800.0, 393.15))
    assert found["wall"] == pytest.approx((1200.0, 366.4833), abs=1e-3)


def test_an_entry_sent_twice_is_one(book: Book, pour: Pour) -> None:
    for _ in range(3):
        type_in(book, pour, "out", 60.0, key="phone 17")
        type_in(book, pour, "300", 61.0)

    log = day_log(book, pour.id)

    assert len(log.events) == 1
    assert len(log.readings) == 1


def test_undo_takes_the_last_act_back_and_keeps_both(book: Book, pour: Pour) -> None:
    type_in(book, pour, "out", 60.0)
    type_in(book, pour, "poured", 61.0)
    type_in(book, pour, "undo", 62.0)

    assert [event.act for event in day_log(book, pour.id).events] == ["out"]
    kept_all = [event.act for event in events_of(book, pour.id, all_of_them=True)]
    assert kept_all == ["began", "out", "poured", "taken back"]
    type_in(book, pour, "undo", 63.0)
    with pytest.raises(InputError, match="act of this day"):
        type_in(book, pour, "undo", 64.0)


def test_right_is_said_of_the_reading_that_was_questioned(book: Book, pour: Pour) -> None:
    for line, minutes in (("400", 300.0), ("22", 310.0), ("right", 311.0)):
        type_in(book, pour, line, minutes)

    (said,) = day_log(book, pour.id).events

    assert (said.act, said.place) == ("right", "kiln")
    assert said.at == after(310.0).timestamp()


def test_wrong_is_said_of_the_reading_that_was_questioned(book: Book, pour: Pour) -> None:
    """The page asks about that one; a good reading that came since is not the one meant."""
    for line, minutes in (("400", 300.0), ("22", 310.0), ("410", 320.0), ("wrong", 321.0)):
        type_in(book, pour, line, minutes)

    assert [each.doubt for each in judged(day_log(book, pour.id))] == [None, "said wrong", None]


def test_what_was_said_to_be_wrong_is_right_again_when_it_is_said(book: Book, pour: Pour) -> None:
    """The reading in question is the one that was called wrong, not the one that came after it."""
    for line, minutes in (("400", 300.0), ("wrong", 301.0), ("410", 310.0), ("right", 311.0)):
        type_in(book, pour, line, minutes)

    log = day_log(book, pour.id)

    assert [(each.act, each.at) for each in log.events] == [
        ("wrong", after(300.0).timestamp()),
        ("right", after(300.0).timestamp()),
    ]
    assert [each.doubt for each in judged(log)] == [None, None]


@pytest.mark.parametrize(
    ("line", "minutes"), [("400 C 04:30", 10.0), ("poured 14:30", 525.0), ("out 20 min ago", 10.0)]
)
def test_a_moment_before_the_block_went_in_is_refused_and_told(
    book: Book, pour: Pour, line: str, minutes: float
) -> None:
    """A slip of the hour would count for nothing, and one of the pour would end the day at once."""
    with pytest.raises(InputError, match="after the block went in, 05:00"):
        type_in(book, pour, line, minutes)

    log = day_log(book, pour.id)
    assert not log.readings
    assert not log.events


def test_the_dial_may_be_turned_before_the_block_goes_in(book: Book, pour: Pour) -> None:
    type_in(book, pour, "turned to 2 04:30", 10.0)

    (turned,) = day_log(book, pour.id).events
    assert turned.at == after(-30.0).timestamp()


@pytest.mark.parametrize(
    ("zone", "now", "clock", "want"),
    [
        ("UTC", "2026-12-05T17:00+00:00", "16:40", "2026-12-05T16:40+00:00"),
        ("UTC", "2026-12-06T00:10+00:00", "23:50", "2026-12-05T23:50+00:00"),
        # The clock goes back at 03:00: of the two 02:30 the later one that has passed.
        ("Europe/Berlin", "2026-10-25T01:40+00:00", "02:30", "2026-10-25T01:30+00:00"),
        ("Europe/Berlin", "2026-10-25T00:40+00:00", "02:30", "2026-10-25T00:30+00:00"),
        # It goes forward over 02:30 on 29 March; that of the day before is meant.
        ("Europe/Berlin", "2026-03-29T02:00+00:00", "02:30", "2026-03-28T01:30+00:00"),
    ],
)
def test_a_clock_time_is_the_last_one_that_the_wall_has_shown(
    zone: str, now: str, clock: str, want: str
) -> None:
    """Published: the changes of the clocks in the time zone database (zoneinfo)."""
    hour, minute = clock.split(":")
    said = Typed(act="poured", clock=3600.0 * int(hour) + 60.0 * int(minute))

    found = moment_of(said, datetime.fromisoformat(now), ZoneInfo(zone))

    assert found == datetime.fromisoformat(want)


LOG = "time,temperature C,dial\n05:00,20,1\n05:15,61,1\n05:30,102,2\n"


def test_a_log_is_taken_in_once_however_often_it_is_read(book: Book, pour: Pour) -> None:
    first = take_log(book, pour.id, LOG, "kiln.csv", now=after(40))
    second = take_log(book, pour.id, LOG, "kiln.csv", now=after(41))
    grown = take_log(book, pour.id, LOG + "05:45,140,2\n", "kiln.csv", now=after(46))

    assert (first.readings, first.turns) == (3, 2)
    assert (second.readings, second.turns) == (0, 0)
    assert (grown.readings, grown.turns) == (1, 0)
    assert len(day_log(book, pour.id).readings) == 4


def test_a_row_that_is_being_written_waits(book: Book, pour: Pour) -> None:
    torn = take_log(book, pour.id, LOG + "05:45,1", "kiln.csv", now=after(46))

    assert torn.readings == 3


def test_a_bad_row_is_told_and_the_others_are_kept(book: Book, pour: Pour) -> None:
    text = LOG + "05:45,broken,2\n06:00,180,2\n"

    taken = take_log(book, pour.id, text, "kiln.csv", now=after(61))

    assert taken.readings == 4
    assert any("kiln.csv:5" in told for told in taken.told)
    with pytest.raises(SheetError):
        take_log(book, pour.id, "a,b\n1,2\n", "bad.csv", now=after(61))


def test_a_dated_log_of_many_days_gives_its_own_day_alone(book: Book, pour: Pour) -> None:
    text = "time,temperature C\n2026-12-03 05:15,500\n2026-12-05 05:15,61\n2026-12-05 05:30,102\n"

    taken = take_log(book, pour.id, text, "kiln.csv", now=after(40))

    assert (taken.readings, taken.early) == (2, 1)
    at = sorted(each.at for each in day_log(book, pour.id).readings)
    assert at == [after(15).timestamp(), after(30).timestamp()]


def test_a_token_opens_its_own_day_and_a_new_one_shuts_the_old(book: Book, pour: Pour) -> None:
    other = begin_day(book, pour.plan_id, start=after(600), at=after(600))
    token = new_token(book, pour.id)

    assert token_opens(book, pour.id, token)
    assert not token_opens(book, other.id, token)
    assert not token_opens(book, pour.id, token + "x")
    assert new_token(book, pour.id) != token
    assert not token_opens(book, pour.id, token)


def test_the_kiln_of_an_earlier_day_is_found(book: Book, pour: Pour) -> None:
    plain = plain_kiln(library().kiln, 5, 293.15)
    assert kiln_before(book, after(3000), plain) is None
    rows = "".join(
        f"{5 + minute // 60:02d}:{minute % 60:02d},{20 + minute},{1 + minute // 120}\n"
        for minute in range(0, 360, 15)
    )
    take_log(book, pour.id, "time,temperature C,dial\n" + rows, "k.csv", now=after(400))

    found = kiln_before(book, after(3000), plain)

    assert found is not None
    assert found[1] == pour.id
    assert found[0].readings > 0
    assert kiln_before(book, START, plain) is None


def test_acts_that_lack_what_they_need_are_refused(book: Book, pour: Pour) -> None:
    for act in ("turned", "taken back", "jumped"):
        with pytest.raises(InputError):
            keep_event(book, pour.id, act, at=START, entered=START)
    with pytest.raises(InputError, match="one of this day"):
        keep_event(book, pour.id, "taken back", at=START, entered=START, takes_back="nothing")
    bare = begin_day(book, pour.plan_id, start=after(5), at=after(5))
    keep_event(
        book,
        bare.id,
        "taken back",
        at=START,
        entered=START,
        takes_back=events_of(book, bare.id)[0].id,
    )
    with pytest.raises(InputError, match="begun"):
        day_log(book, bare.id)


def test_a_day_that_has_ended_teaches_the_kiln_and_one_that_goes_on_does_not(
    book: Book, pour: Pour
) -> None:
    """House rule: the forecast of a piece does not move with every reading of today."""
    rows = "".join(
        f"{5 + minute // 60:02d}:{minute % 60:02d},{20 + minute},{1 + minute // 120}\n"
        for minute in range(0, 360, 15)
    )
    take_log(book, pour.id, "time,temperature C,dial\n" + rows, "k.csv", now=after(400))
    assert kiln_learnt(book) is None

    type_in(book, pour, "poured", 500.0)
    learnt = kiln_learnt(book)

    assert learnt is not None
    assert {each.key for each in learnt.overrides} == {"kiln.fastest_ramp", "kiln.fastest_cooling"}
    assert all(0.0 < each.low <= each.value <= each.high for each in learnt.overrides)
    assert kiln_learnt(book, before=START) is None
    assert [each[0] for each in days_ended(book)] == [pour.id]
    type_in(book, pour, "undo", 501.0)
    assert kiln_learnt(book) is None
    assert joined(None, learnt) == learnt
    both = joined(learnt, learnt)
    assert both is not None
    assert both.overrides == learnt.overrides


def test_a_log_that_is_read_on_is_that_of_the_book(book: Book, pour: Pour) -> None:
    """Exact: new, late, doubled and superseding readings; read on against read anew."""
    before = None
    for line, minutes in (
        ("20 C", 0.0),
        ("30 C", 10.0),
        ("flask 25 C", 10.0),
        ("27 C", 5.0),
        ("31 C", 10.0),
        ("turned to 2", 11.0),
        ("40 C", 20.0),
        ("40 C", 20.0),
        ("undo", 21.0),
        ("50 C", 30.0),
    ):
        type_in(book, pour, line, minutes)
        before = read_on(book, pour.id, before)

        anew = day_log(book, pour.id)
        assert set(before.log.readings) == set(anew.readings)
        assert len(before.log.readings) == len(anew.readings)
        assert before.log.events == anew.events


def test_days_that_go_on_are_those_not_poured(book: Book, pour: Pour) -> None:
    assert open_days(book, after(60.0)) == (pour.id,)
    type_in(book, pour, "poured", 90.0)
    assert open_days(book, after(100.0)) == ()
    type_in(book, pour, "undo", 101.0)
    assert open_days(book, after(102.0)) == (pour.id,)
    assert open_days(book, after(3.0 * 1440.0)) == ()
