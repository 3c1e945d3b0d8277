"""What is handed out: the wheel holds what the program needs and nothing of this machine.

Held against the packaging rules of Python's own core metadata, version 2.x, and the zip
and tar files as Python's library reads them.  The slow half, a new environment with no
network, is ``make release-check``.
"""

import email
import os
import re
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path

import pytest

import pourcast

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "pourcast"


@pytest.fixture(scope="module")
def archives(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the wheel and the source archive."""
    return _build(tmp_path_factory.mktemp("dist"))


def _build(folder: Path) -> Path:
    words = [sys.executable, "-m", "hatchling", "build", "-d", str(folder)]
    done = subprocess.run(
        words,
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | {"SOURCE_DATE_EPOCH": "1767225600"},
    )
    assert done.returncode == 0, done.stderr
    return folder


def _wheel(folder: Path) -> zipfile.ZipFile:
    return zipfile.ZipFile(next(folder.glob("*.whl")))


def test_wheel_holds_every_file_of_the_package(archives: Path) -> None:
    """Data, templates, scripts, schema and licences travel with the code."""
    kept = {
        path.relative_to(PACKAGE.parent).as_posix()
        for path in PACKAGE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }

    with _wheel(archives) as wheel:
        held = {name for name in wheel.namelist() if ".dist-info/" not in name}

    assert held == kept
    assert any(name.endswith("schema.json") for name in held)
    assert any(name.endswith("py.typed") for name in held)


def test_metadata_says_what_it_is(archives: Path) -> None:
    """Core metadata: name, version, licence, Python, one entry for the command."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]

    with _wheel(archives) as wheel:
        folder = f"pourcast-{project['version']}.dist-info"
        told = email.message_from_bytes(wheel.read(f"{folder}/METADATA"))
        entry = wheel.read(f"{folder}/entry_points.txt").decode()
        assert f"{folder}/licenses/LICENSE" in wheel.namelist()

    assert told["Name"] == "pourcast"
    assert told["Version"] == project["version"] == pourcast.__version__
    assert told["License-Expression"] == "MIT"
    assert told["Requires-Python"] == ">=3.11"
    assert "pourcast = pourcast.cli.main:main" in entry


def test_nothing_of_this_machine_travels(archives: Path) -> None:
    """No path of a machine and no host of a registry in any text of either archive."""
    forbidden = re.compile(rb"/(?:work|home|Users)/[A-Za-z]|(?:pypi|npmjs)\.(?:org|com)")
    with _wheel(archives) as wheel:
        texts = {name: wheel.read(name) for name in wheel.namelist()}
    with tarfile.open(next(archives.glob("*.tar.gz"))) as source:
        for member in source.getmembers():
            stream = source.extractfile(member) if member.isfile() else None
            if stream is not None:
                texts[member.name] = stream.read()

    found = [
        name
        for name, text in texts.items()
        if not name.endswith("test_archives.py") and forbidden.search(text)
    ]

    assert not found


def test_source_archive_can_be_worked_on(archives: Path) -> None:
    with tarfile.open(next(archives.glob("*.tar.gz"))) as source:
        names = {name.split("/", 1)[1] for name in source.getnames()}

    assert {"Makefile", "pyproject.toml", "README.md", ".ci/run", "LICENSE"} <= names
    assert {f"examples/{path.name}" for path in (ROOT / "examples").glob("*.toml")} <= names
    assert "tests/test_layers.py" in names


def test_what_a_page_shows_or_links_to_travels_with_it(archives: Path) -> None:
    """Pictures and pages: the site can be built, and read as files, from the source archive."""
    with tarfile.open(next(archives.glob("*.tar.gz"))) as source:
        names = {name.split("/", 1)[1] for name in source.getnames() if "/" in name}
        pages = [name for name in names if name.endswith(".md")]
        missing = []
        for page in pages:
            stream = source.extractfile(f"{source.getnames()[0].split('/')[0]}/{page}")
            assert stream is not None
            text = stream.read().decode()
            for link in re.findall(r"\]\((?!\w+:|#)([^)#\s]+)", text):
                aim = os.path.normpath(os.path.join(os.path.dirname(page), link))
                if aim not in names and not any(name.startswith(f"{aim}/") for name in names):
                    missing.append(f"{page}: {link}")

    assert len(pages) > 50
    assert missing == []


@pytest.mark.long
def test_site_is_built_from_the_source_archive(archives: Path, tmp_path: Path) -> None:
    """What `make docs` runs, in the unpacked archive; a warning is an error."""
    with tarfile.open(next(archives.glob("*.tar.gz"))) as source:
        source.extractall(tmp_path, filter="data")
    unpacked = next(tmp_path.iterdir())
    how = ["-W", "--keep-going", "-E", "-q", "-b", "html", "docs", "docs/_build/html"]

    done = subprocess.run(
        [sys.executable, "-m", "sphinx", *how],
        cwd=unpacked,
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0, done.stderr
    assert (unpacked / "docs/_build/html/index.html").exists()


def test_same_sources_give_the_same_bytes(archives: Path, tmp_path: Path) -> None:
    """Reproducible builds: SOURCE_DATE_EPOCH fixes every time stamp in both archives."""
    again = _build(tmp_path)

    for one in archives.iterdir():
        assert one.read_bytes() == (again / one.name).read_bytes(), one.name


def test_changelog_names_the_version() -> None:
    """What is handed out has its own section in CHANGELOG.md (Keep a Changelog 1.1.0)."""
    text = (ROOT / "CHANGELOG.md").read_text()

    assert f"\n## [{pourcast.__version__}] - " in text


def test_tag_of_this_commit_is_the_version() -> None:
    """A commit tagged v1.2.3 holds version 1.2.3."""
    if not (ROOT / ".git").exists():
        pytest.skip("no history here")
    said = subprocess.run(
        ["git", "tag", "--points-at", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    tags = [tag for tag in said.stdout.split() if re.match(r"v\d", tag)]

    assert tags in ([], [f"v{pourcast.__version__}"])
