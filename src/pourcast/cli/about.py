"""About: which program this is, what it stands on, and what is missing here."""

import importlib.metadata
import importlib.util
import json as writer
import platform
import re
from typing import Any

from pourcast.cli.stages import AsJson

PACKAGE = "pourcast"

_NAME = re.compile(r"^[A-Za-z0-9_.-]+")
_EXTRA = re.compile(r"extra\s*==\s*['\"]([^'\"]+)['\"]")


def about(
    json: AsJson = False,
) -> None:
    """Say which versions are here, where things are kept, and what is missing."""
    from pourcast.cli.signs import write_out

    found = _found()
    if json:
        write_out(writer.dumps(found, indent=1) + "\n")
        return
    write_out("\n".join(_lines(found)) + "\n")


def _found() -> dict[str, Any]:
    from pourcast import __version__
    from pourcast.book.store import default_folder
    from pourcast.execute.made_with import made_with
    from pourcast.kernels import HASH, cache_folder
    from pourcast.materials import library

    needed, extras = _requirements()
    return {
        "schema": "pourcast.about/1",
        "version": __version__,
        "python": platform.python_version(),
        "machine": f"{platform.system()} {platform.machine()}",
        "kernels_sha256": HASH,
        "made_with": made_with(),
        "values": len(library().find("")),
        "book": str(default_folder()),
        "kernels": str(cache_folder().parent),
        "libraries": {name: _version(name) for name in needed},
        "extras": {
            extra: {name: _version(name) for name in names} for extra, names in extras.items()
        },
    }


def _requirements() -> tuple[list[str], dict[str, list[str]]]:
    """Return the libraries that are needed, and those of each extra."""
    needed: list[str] = []
    extras: dict[str, list[str]] = {}
    for line in importlib.metadata.requires(PACKAGE) or []:
        name = _NAME.match(line)
        if name is None or name[0] == PACKAGE:
            continue
        extra = _EXTRA.search(line)
        if extra is None:
            needed.append(name[0])
        else:
            extras.setdefault(extra[1], []).append(name[0])
    return sorted(needed), {extra: sorted(names) for extra, names in sorted(extras.items())}


def _version(name: str) -> str | None:
    try:
        return importlib.metadata.version(name)
    except importlib.metadata.PackageNotFoundError:
        return None


def _lines(found: dict[str, Any]) -> list[str]:
    made = found["made_with"]
    said = [
        f"pourcast {found['version']}, Python {found['python']}, {found['machine']}",
        f"Values with a source: {found['values']}",
        f"Kernels: {found['kernels_sha256'][:16]} for {made['processor']}, {made['library']}, "
        f"kept in {found['kernels']}",
        f"Release: {made['release_sha256'][:16]}; where it is the same, so are the answers "
        "(docs/same-again.md)",
        f"Book: {found['book']}",
        "",
        "Libraries: "
        + ", ".join(
            f"{name} {version or 'MISSING'}" for name, version in found["libraries"].items()
        ),
    ]
    for extra, names in found["extras"].items():
        missing = [name for name, version in names.items() if version is None]
        if missing:
            said.append(f"[{extra}] is not whole: {', '.join(missing)} missing.")
        else:
            said.append(f"[{extra}] is here.")
    return said
