"""The program dies in the middle of a form, and nothing that it said was kept is lost.

It is killed with SIGKILL, which it cannot catch: the death of the program, not of the machine.
House rule, so no outside number is held against it.
"""

import random
import re
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2 as httpx
import pytest

ROOT = Path(__file__).parents[3]
ROUNDS = 4


def free_port() -> int:
    """Return a port that was free a moment ago."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def program(folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Start the real command and give it with its address; it is killed at the end."""
    port = free_port()
    command = ["open", "--data", str(folder), "--no-browser", "--port", str(port)]
    started = subprocess.Popen(
        [sys.executable, "-m", "pourcast", *command],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert started.stdout is not None
    try:
        first = started.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:\d+", first)
        assert found is not None, first
        yield started, found[0]
    finally:
        started.kill()
        started.communicate()


@contextmanager
def browser(address: str) -> Iterator[tuple[httpx.Client, str]]:
    """Give a browser and its form token, once the program answers."""
    with httpx.Client(base_url=address, headers={"origin": address}, timeout=60.0) as page:
        while True:
            try:
                text = page.get("/new").text
                break
            except httpx.TransportError:
                time.sleep(0.05)
        found = re.search(r'name="token" value="([^"]+)"', text)
        assert found is not None
        yield page, found[1]


@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL there")
def test_every_field_that_was_said_to_be_kept_is_there_after_a_kill(tmp_path: Path) -> None:
    chance = random.Random(4)
    with program(tmp_path) as (_, address), browser(address) as (page, token):
        draft = page.post("/new", data={"token": token}).headers["location"]
    kept = 0
    for _ in range(ROUNDS):
        with program(tmp_path) as (running, address), browser(address) as (page, token):
            stood = re.search(r'name="name" value="(\d*)"', page.get(draft).text)
            assert stood is not None
            # A field may be on the disk though its answer was cut off; never the other way round.
            assert int(stood[1] or 0) in (kept, kept + 1)
            end = threading.Timer(chance.uniform(0.05, 0.5), running.send_signal, [signal.SIGKILL])
            end.start()
            kept = int(stood[1] or 0)
            try:
                while True:
                    fields = {"token": token, "name": str(kept + 1)}
                    said = page.post(f"{draft}/keep", data=fields)
                    assert said.status_code == 200
                    kept += 1
            except httpx.TransportError:
                pass
            end.join()
            assert running.wait() == -signal.SIGKILL
    assert kept > ROUNDS


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal there")
def test_program_ends_when_it_is_asked_to_and_starts_again_on_its_folder(tmp_path: Path) -> None:
    for _ in range(2):
        with program(tmp_path) as (running, address), browser(address) as (page, _):
            assert page.get("/").status_code == 200

            running.send_signal(signal.SIGINT)

            assert running.wait() == 0


def test_port_that_is_taken_is_told(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        said = subprocess.run(
            [
                sys.executable,
                "-m",
                "pourcast",
                "open",
                "--data",
                str(tmp_path),
                "--no-browser",
                "--port",
                port,
            ],
            capture_output=True,
            text=True,
            cwd=ROOT,
            check=False,
        )

    assert said.returncode == 2
    assert "port" in said.stderr
    assert "Traceback" not in said.stderr
