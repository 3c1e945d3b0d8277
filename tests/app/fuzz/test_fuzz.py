"""Whatever is asked of any page, the program answers: no request makes it fail.

The requests are made up from the description of the pages by a fuzzer (property-based testing,
Claessen and Hughes 2000); that none may end in a status of 500 or more is our own rule.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest
import requests
import schemathesis
from hypothesis import HealthCheck
from hypothesis import strategies as st

from pourcast.app.server import make_app
from pourcast.app.sheet_fields import REPEATED, SECTIONS, boxes
from pourcast.app.studio import Studio
from tests.app.browser.conftest import serving
from tests.app.client import browser, example, opened, token

NO_ONE = "0" * 16
ENDLESS = ("/progress",)
"""Answers that go on for as long as somebody listens; their page has tests of its own."""

EXAMPLES = 8
"""Requests to each page at least, so that all of them take a minute."""


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Any]]:
    """Serve a studio, and give its address and what may be asked of it."""
    with Studio(tmp_path_factory.mktemp("studio")) as made, serving(made) as address:
        piece = made.add(example())
        known = {
            "piece_id": [piece.id, NO_ONE],
            "draft_id": [made.drafts.begin({"name": "x"}).id, NO_ONE],
            "book_piece": [made.keep_in_book(piece.id).piece_id, NO_ONE],
            "key": ["pour.film_factor", "pour.full_share", "none"],
        }
        asked = make_app(made).openapi()
        for path, acts in list(asked["paths"].items()):
            if path.endswith(ENDLESS):
                del asked["paths"][path]
                continue
            for act in acts.values():
                for parameter in act.get("parameters", []):
                    if parameter["name"] in known:
                        parameter["schema"]["enum"] = known[parameter["name"]]
        yield address, asked


@pytest.fixture(scope="module")
def laptop(studio: tuple[str, Any]) -> requests.Session:
    """Return a browser that holds a cookie and a form token."""
    session = requests.Session()
    session.headers["origin"] = studio[0]
    page = session.get(f"{studio[0]}/new").text
    session.headers["x-form-token"] = page.split('name="form-token" content="')[1].split('"')[0]
    return session


def _statuses(
    operation: Any, address: str, laptop: requests.Session, examples: int = EXAMPLES
) -> set[int]:
    """Return the statuses of a page to made-up requests."""
    seen: set[int] = set()

    @hypothesis.settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @hypothesis.given(case=operation.as_strategy())
    def ask(case: Any) -> None:
        # A busy machine is no fault: learning anew may take a while.
        answer = case.call(
            base_url=address, session=laptop, headers=dict(laptop.headers), timeout=300
        )
        seen.add(answer.status_code)
        assert "content-security-policy" in answer.headers

    ask()
    return seen


def test_no_request_makes_the_program_fail(
    studio: tuple[str, Any], laptop: requests.Session
) -> None:
    address, asked = studio
    told: dict[str, set[int]] = {}
    described: Any = schemathesis.openapi.from_dict(asked)
    for found in described.get_all_operations():
        operation = found.ok()
        told[operation.label] = _statuses(operation, address, laptop)

    failed = {page: seen for page, seen in told.items() if max(seen) >= 500}
    assert failed == {}
    # The requests reach the inside of the pages, and are not all turned away at the door.
    assert len(told) > 30
    assert sum(bool(seen & {200, 303}) for seen in told.values()) > len(told) / 2, told


@pytest.mark.long
def test_forty_thousand_requests(studio: tuple[str, Any], laptop: requests.Session) -> None:
    """The share of the pages in a million made-up inputs; the rest is tests/fuzz."""
    address, asked = studio
    described: Any = schemathesis.openapi.from_dict(asked)
    found = [each.ok() for each in described.get_all_operations()]
    examples = 1 + 40_000 // len(found)

    seen = {each.label: _statuses(each, address, laptop, examples) for each in found}

    assert {page: statuses for page, statuses in seen.items() if max(statuses) >= 500} == {}


_NAMES = [box.name for section in SECTIONS for box in boxes(section)]
_NAMES += [
    box.name for section in REPEATED.values() for place in (0, 1) for box in boxes(section, place)
]
_ODD = st.sampled_from(
    [
        "",
        "0",
        "-1",
        "1e999",
        "nan",
        "3/0 in",
        "1 3/16 in",
        "400 F",
        "'",
        '"',
        "\\",
        "[1]",
        "\u0000",
        "\u202e",
        "# x",
        "true",
        "9" * 400,
        "1:2",
        "100 %",
        "\ud7ff",
        "a\nb",
        "=",
        '"""',
        "{{ 1 }}",
    ]
)

_ACTS = [
    "",
    "check",
    "put",
    "add:part",
    "drop:part:0",
    "up:part:1",
    "add:x",
    "drop:kiln.step:7",
    "drop:part:-1",
    "up:vent:99999999999",
]


def test_sheet_of_measures_takes_whatever_is_typed(tmp_path: Path) -> None:
    """Sixty sheets, each a draft of its own in one studio."""
    with opened(tmp_path) as (_, app):
        page = browser(app)
        given = token(page)

        @hypothesis.settings(
            max_examples=60,
            deadline=None,
            derandomize=True,
            suppress_health_check=list(HealthCheck),
        )
        @hypothesis.given(
            fields=st.dictionaries(
                st.sampled_from(_NAMES) | st.text(max_size=20),
                _ODD | st.text(max_size=30),
                max_size=12,
            ),
            act=st.sampled_from(_ACTS),
        )
        def take(fields: dict[str, str], act: str) -> None:
            at = page.post("/new", data={"token": given}).headers["location"]
            typed = {name: text for name, text in fields.items() if name not in ("token", "act")}

            kept = page.post(f"{at}/keep", data=typed | {"token": given})
            acted = page.post(at, data=typed | {"token": given, "act": act})

            assert kept.status_code in (200, 422)
            assert acted.status_code in (303, 422)
            assert page.get(at).status_code in (200, 404)

        take()
