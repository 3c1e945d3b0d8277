"""How long a kiln day takes to be forecast again, and a reading to its answer on the page.

Processor seconds of one thread for a forecast with the kiln's gauge alone, where the particles
are drawn anew, and with 36 000 readings, each beside the first.  Then the pages are served to
this machine: an instrument sends ten readings a second, and a caster writes one down every
second; told is the time from the press to the whole answer, in wall-clock seconds, with the
load of the machine.  There is no pass or fail: machines differ.
"""

import os
import re
import socket
import statistics
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

import httpx2 as httpx
import numpy as np
import uvicorn

from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.book.day_tokens import new_token
from pourcast.book.kiln_days import begin_day
from pourcast.burnout.days import heat_days
from pourcast.day.case import DayCase, day_case
from pourcast.day.model import DayForecast, DayLog, DayReading, Place
from pourcast.day.particles import rows_of
from pourcast.day.solve import reforecast
from pourcast.sheet import read_plan

FILE = Path(__file__).parent.parent / "examples" / "sea_holly.toml"
RUNS = 7
A_SECOND = 10  # readings that the instrument sends
ANSWERS = 40  # that are timed
HOUR = 3600.0


def readings(case: DayCase, at: np.ndarray, place: Place = "kiln") -> tuple[DayReading, ...]:
    """Return readings of a day that goes as planned; of the core those of an early draw."""
    if place == "kiln":
        said = np.interp(at, case.planned.time, case.planned.temperature)
    else:
        heat = heat_days(rows_of(case.block, np.array([0])), case.planned)
        said = np.interp(at, heat.time, heat.core[0])
    pairs = zip(at.tolist(), said.tolist(), strict=True)
    return tuple(DayReading(place=place, at=moment, temperature=read) for moment, read in pairs)


def middle(work: Callable[[], DayForecast]) -> tuple[float, DayForecast]:
    """Return the middle of the processor seconds of some runs, and the answer."""
    answer, spent = work(), []
    for _ in range(RUNS):
        begun = time.process_time()
        answer = work()
        spent.append(time.process_time() - begun)
    return statistics.median(spent), answer


def alone() -> None:
    """Tell what one forecast costs."""
    case = day_case(read_plan(FILE.read_text(encoding="utf-8"), file=FILE.name), threads=1)
    gauge = readings(case, np.arange(0.0, 7.0 * HOUR, 900.0))
    core = readings(case, np.arange(1800.0, 7.0 * HOUR, 1800.0), "core")
    dense = readings(case, np.linspace(0.0, HOUR, 36_000))
    logs = {
        "gauge every 15 min": gauge,
        "and the core every 30 min: drawn anew": (*gauge, *core),
        "36 000 readings in an hour": dense,
    }
    first = None
    for name, kept in logs.items():
        log = DayLog(start=0.0, readings=kept)
        spent, said = middle(partial(reforecast, case, log))
        first = first or spent
        anew = ", drawn anew" if said.renewed else ""
        print(f"{name}: {spent:.3f} s of the processor, {spent / first:.2f} times{anew}")


@contextmanager
def served(studio: Studio) -> Iterator[str]:
    """Serve the pages of a studio, and give their address."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    config = uvicorn.Config(make_app(studio), host="127.0.0.1", port=port, log_level="error")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join()


def on_the_page() -> None:
    """Tell how long a caster waits for the answer while an instrument sends readings."""
    with tempfile.TemporaryDirectory() as folder, Studio(Path(folder), threads=2) as studio:
        piece = studio.add(FILE.read_text(encoding="utf-8"))
        plan = studio.keep_in_book(piece.id)
        began = datetime.now(UTC) - timedelta(hours=2)
        pour = begin_day(studio.book, plan.id, start=began, at=began)
        secret, done, sent = new_token(studio.book, pour.id), threading.Event(), [0]
        with served(studio) as address, httpx.Client(base_url=address, timeout=60.0) as browser:

            def instrument() -> None:
                with httpx.Client(base_url=address, timeout=60.0) as line:
                    head = {"authorization": f"Bearer {secret}"}
                    due = time.monotonic()
                    while not done.is_set():
                        body = {"celsius": 60.0 + 0.001 * sent[0], "at": time.time()}
                        line.post(f"/day/{pour.id}/reading", json=body, headers=head)
                        sent[0] += 1
                        due += 1.0 / A_SECOND
                        time.sleep(max(due - time.monotonic(), 0.0))

            page = browser.get(f"/day/{pour.id}").text
            found = re.search(r'name="form-token" content="([^"]+)"', page)
            assert found is not None
            head = {"origin": address, "hx-request": "true"}
            thread = threading.Thread(target=instrument)
            thread.start()
            waits, begun, spent = [], time.monotonic(), time.process_time()
            for number in range(ANSWERS):
                fields = {"token": found[1], "number": f"{60 + number / 10}", "unit": "C"}
                pressed = time.monotonic()
                answer = browser.post(f"/day/{pour.id}/entry", data=fields, headers=head)
                waits.append(time.monotonic() - pressed)
                assert answer.status_code == 200
                time.sleep(1.0)
            span, spent = time.monotonic() - begun, time.process_time() - spent
            done.set()
            thread.join()
    shares = np.percentile(waits, [10, 50, 90, 95, 100])
    told = ", ".join(f"{share:.2f}" for share in shares)
    print(
        f"from the press to the answer, {ANSWERS} readings by hand beside {sent[0] / span:.1f} a "
        f"second by an instrument:\n10, 50, 90, 95 and 100 of 100 within {told} s; "
        f"{100.0 * sum(wait <= 0.5 for wait in waits) / ANSWERS:.0f} of 100 within 0.5 s; "
        f"{spent / span:.2f} processors busy with it; load of the machine "
        f"{os.getloadavg()[0]:.1f} on {os.cpu_count()} cores"
    )


if __name__ == "__main__":
    alone()
    on_the_page()
