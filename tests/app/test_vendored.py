"""Files of others stand as they were taken in."""

import hashlib
import re
from pathlib import Path

import pytest

VENDOR = Path("src/pourcast/app/static/vendor")
SUMS = dict(
    reversed(line.split())
    for line in re.findall(r"^[0-9a-f]{64}  \S+$", (VENDOR / "VENDORED.md").read_text(), re.M)
)


def test_every_file_is_listed() -> None:
    """Our own rule: a file without a sum is a file that nobody looked at."""
    there = {path.name for path in VENDOR.iterdir()} - {"VENDORED.md"}

    assert there == set(SUMS)


@pytest.mark.parametrize("name", sorted(SUMS))
def test_file_is_what_was_taken_in(name: str) -> None:
    """FIPS 180-4: two files with one SHA-256 are not known."""
    assert hashlib.sha256((VENDOR / name).read_bytes()).hexdigest() == SUMS[name]


def test_each_package_has_its_licence() -> None:
    """MIT asks for its text to go along; so do we for 0BSD, which does not."""
    for package in ("htmx", "htmx-sse", "three", "uplot"):
        assert f"{package}.LICENSE" in SUMS
