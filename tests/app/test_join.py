"""Joining a phone: by a code or a picture, once, and not by trying codes.

That a code is short-lived, used once and limited in tries is common practice (NIST SP 800-63B,
5.1.2 and 5.2.2 on look-up secrets and throttling); our limits are our own choice.
"""

import math
from pathlib import Path

import pytest

from pourcast.app.devices import (
    CODE_LENGTH,
    LETTERS,
    MOST_WRONG,
    OPEN_FOR,
    SECRET_BYTES,
    TRIES,
    TRIES_IN,
    Devices,
)
from pourcast.app.serve import join_address
from pourcast.errors import InputError
from tests.app.client import LAN, PHONE, browser, opened, token


class Clock:
    """Seconds that go forward when told."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def devices(tmp_path: Path, clock: Clock) -> Devices:
    return Devices(tmp_path, clock=clock)


def test_picture_carries_a_secret_of_128_bits_that_is_never_sent() -> None:
    """NIST SP 800-63B: 112 bits or more where tries are not limited; RFC 3986, 3.5: not sent."""
    address = join_address("192.0.2.2", 8760, "SECRET")

    assert SECRET_BYTES * 8 >= 112
    assert address.partition("#")[2] == "SECRET"
    assert "SECRET" not in address.partition("#")[0]


def test_code_cannot_be_found_by_trying() -> None:
    """NIST SP 800-63B, 5.1.2: at least 20 bits with throttling; ours has 39."""
    bits = CODE_LENGTH * math.log2(len(LETTERS))

    assert bits >= 20 + math.log2(MOST_WRONG)
    assert len(set(LETTERS)) == len(LETTERS)
    assert not set("01IO") & set(LETTERS)


@pytest.mark.parametrize("spelling", ["{code}", "{lower}", "{spaced}", "{secret}"])
def test_right_code_or_secret_lets_one_phone_in_once(devices: Devices, spelling: str) -> None:
    made = devices.invite()
    code = made.code
    given = spelling.format(
        code=code, lower=code.lower(), spaced=f" {code[:4]} {code[4:]} ", secret=made.secret
    )

    joined = devices.join(given, "phone", "a")

    assert joined is not None
    assert devices.is_known(joined.id)
    assert devices.join(given, "other", "b") is None


def test_code_runs_out(devices: Devices, clock: Clock) -> None:
    made = devices.invite()

    clock.now += OPEN_FOR + 1.0

    assert devices.join(made.code, "phone", "a") is None
    assert devices.open_invitation() is None
    assert devices.invite().code != made.code


def test_nothing_is_open_until_the_laptop_opens_it(devices: Devices) -> None:
    assert devices.join("", "phone", "a") is None
    assert devices.open_invitation() is None


def test_stranger_uses_up_his_own_tries_and_not_those_of_the_caster(
    devices: Devices, clock: Clock
) -> None:
    made = devices.invite()
    for _ in range(TRIES):
        assert devices.join("wrong", "x", "stranger") is None

    with pytest.raises(InputError, match="tries"):
        devices.join(made.code, "x", "stranger")
    assert devices.tries_left("stranger") == 0
    assert devices.join(made.code, "phone", "caster") is not None
    clock.now += TRIES_IN + 1.0
    assert devices.tries_left("stranger") == TRIES


def test_many_strangers_make_the_laptop_show_another_code(devices: Devices) -> None:
    made = devices.invite()

    for number in range(MOST_WRONG):
        devices.join("wrong", "x", f"stranger {number}")

    assert devices.join(made.code, "phone", "caster") is None
    shown = devices.open_invitation()
    assert shown is not None
    assert devices.join(shown.code, "phone", "caster") is not None


def test_list_is_still_there_after_a_new_start_and_a_forgotten_phone_is_not(
    devices: Devices, tmp_path: Path
) -> None:
    first = devices.join(devices.invite().code, "first", "a")
    second = devices.join(devices.invite().code, "second", "b")
    assert first is not None
    assert second is not None

    devices.forget(first.id)

    again = Devices(tmp_path)
    assert [device.name for device in again.all()] == ["second"]
    assert not again.is_known(first.id)


def test_forgotten_phone_is_shut_out_at_its_next_request(tmp_path: Path) -> None:
    with opened(tmp_path, hosts=(LAN,)) as (_, app):
        phone = browser(app, base=f"http://{LAN}:8760", client=PHONE)
        laptop = browser(app)
        code = app.state.devices.invite().code
        phone.post("/join", data={"token": token(phone, "/join"), "code": code})
        assert phone.get("/values").status_code == 200
        device = app.state.devices.all()[0].id

        forgot = laptop.post("/studio/forget", data={"token": token(laptop), "device": device})

        assert forgot.status_code == 303
        assert phone.get("/values").status_code == 401


def test_phone_cannot_invite_or_forget(tmp_path: Path) -> None:
    with opened(tmp_path, hosts=(LAN,)) as (_, app):
        phone = browser(app, base=f"http://{LAN}:8760", client=PHONE)
        code = app.state.devices.invite().code
        phone.post("/join", data={"token": token(phone, "/join"), "code": code})
        given = {"token": token(phone), "device": "x"}

        told = [
            phone.post(f"/studio/{act}", data=given).status_code
            for act in ("invite", "withdraw", "forget")
        ]

        assert told == [403, 403, 403]
        assert str(tmp_path) not in phone.get("/studio").text


def test_wrong_code_is_told_and_counted_on_the_page(tmp_path: Path) -> None:
    with opened(tmp_path, hosts=(LAN,)) as (_, app):
        app.state.devices.invite()
        phone = browser(app, base=f"http://{LAN}:8760", client=PHONE)
        given = {"token": token(phone, "/join"), "code": "wrong"}

        told = [phone.post("/join", data=given).status_code for _ in range(TRIES + 1)]

        assert told == [403] * TRIES + [429]


def test_laptop_shows_picture_and_code_once_it_is_asked(tmp_path: Path) -> None:
    with opened(tmp_path, hosts=(LAN,)) as (_, app):
        app.state.port = 8760
        laptop = browser(app)
        before = laptop.get("/studio").text

        laptop.post("/studio/invite", data={"token": token(laptop)})

        after = laptop.get("/studio").text
        made = app.state.devices.open_invitation()
        assert 'class="qr"' not in before
        assert 'class="qr"' in after
        assert f"{made.code[:4]} {made.code[4:]}" in after
        assert made.secret not in after
