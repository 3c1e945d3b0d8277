"""The site of documents, built once for all tests and all workers of a run."""

import fcntl
import importlib
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
EXTENSIONS = DOCS / "_ext"


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the built site; a warning of the build is an error."""
    own = tmp_path_factory.getbasetemp()
    # Workers of one run share the folder above their own.
    shared = own.parent if own.name.startswith("popen-") else own
    made, log = shared / "site", shared / "site.log"
    with (shared / "site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not log.exists():
            how = ["-W", "--keep-going", "-E", "-q", "-b", "html", "-d", str(shared / "doctrees")]
            said = subprocess.run(
                [sys.executable, "-m", "sphinx", *how, str(DOCS), str(made)],
                capture_output=True,
                text=True,
                check=False,
            )
            log.write_text("" if said.returncode == 0 else said.stdout + said.stderr or "failed")
    assert log.read_text() == ""
    return made


@pytest.fixture(scope="session")
def made() -> ModuleType:
    """Return the extension that makes pages from the program."""
    return of_site("made")


def of_site(name: str) -> ModuleType:
    """Return a module of the site's own extensions."""
    if str(EXTENSIONS) not in sys.path:
        sys.path.insert(0, str(EXTENSIONS))
    return importlib.import_module(name)
