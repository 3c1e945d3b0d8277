"""What stands on the page of a kiln day where the chance under a gauge is not to be had."""

import re
import time
from html import unescape
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from pourcast.app import gauges
from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.page.words_pour_day import FILL_FAILED, FILL_WAITS
from tests.app.test_day import HOLLY, OWN, begun_in_studio


def test_a_chance_that_cannot_be_worked_out_is_told_and_not_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """House rule: what failed is said; the page said for good that it was being worked out."""

    def fails(*_: object) -> None:
        raise RuntimeError("no room left")

    monkeypatch.setattr(gauges, "fill_now", fails)
    with Studio(tmp_path, threads=1) as studio:
        browser = TestClient(
            make_app(studio), OWN, client=("127.0.0.1", 50_000), headers={"origin": OWN}
        )
        _, day = begun_in_studio(studio, HOLLY)
        page = browser.get(day).text
        token = re.search(r'name="form-token" content="([^"]+)"', page)
        assert token

        line = {"token": token[1], "line": "gauge 40 kPa 1 min ago"}
        page = browser.post(f"{day}/entry", data=line).text
        for _ in range(100):
            if FILL_WAITS not in unescape(page):
                break
            time.sleep(0.05)
            page = browser.get(f"{day}/now").text

    assert FILL_FAILED in unescape(page)
