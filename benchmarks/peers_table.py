"""The peers in one table: what each `peers_*.py` prints at the error of ours, for docs/speed.md.

Each file runs as a process of its own, since each loads other libraries, and its lines are
read.  A file that prints no comparison is an error here, and so is one that fails.
"""

import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from side_by_side import AS_NEAR

HEAD = ("problem", "error of ours", "other", "its cheapest try as near", "times ours")

_AT = re.compile(
    r"^  at (?P<error>\S+ \S+) \((?P<own>.*?)\): (?P<other>.+?) "
    r"(?:(?P<ratio>[\d.]+) times ours \((?P<its>.*)\)|no try came as near, no ratio)$",
    re.MULTILINE,
)
_OURS = re.compile(r"^pourcast +by itself +[\d.]+ s +error +([\d.]+) K$", re.MULTILINE)
_PEER = re.compile(
    r"^(?P<other>\S+) +(?P<its>step [\d.]+ m?s) +\S+ s +error +(?P<error>[\d.]+) K"
    r" +(?P<ratio>[\d.]+) times ours$",
    re.MULTILINE,
)
_MISSING = re.compile(r"^(\S+): not installed, left out$", re.MULTILINE)
_PLACES = re.compile(
    r"^ +(\d+) places .* scipy over ours +([\d.]+), tree over pools +([\d.]+)$", re.MULTILINE
)


def _of_side_by_side(said: str) -> Iterator[tuple[str, str, str, str]]:
    for found in _AT.finditer(said):
        its, ratio = found["its"] or "none came as near", found["ratio"] or "–"
        yield f"{found['error']}, {found['own']}", found["other"], its, ratio


def _of_heat(said: str) -> Iterator[tuple[str, str, str, str]]:
    own = _OURS.search(said)
    if own is None:
        return
    error = float(own[1])
    tries = [found.groupdict() for found in _PEER.finditer(said)]
    for other in dict.fromkeys(one["other"] for one in tries):
        mine = [one for one in tries if one["other"] == other]
        near = [one for one in mine if float(one["error"]) <= AS_NEAR * error]
        best = min(near or mine, key=lambda one: float(one["ratio" if near else "error"]))
        its = best["its"] if near else f"none; {best['its']} came to {best['error']} K"
        yield f"{error:g} K, its own steps", other, its, best["ratio"]
    for missing in _MISSING.finditer(said):
        yield f"{error:g} K, its own steps", missing[1], "not installed", "–"


def _of_feeding(said: str) -> Iterator[tuple[str, str, str, str]]:
    for count, whole, tree in _PLACES.findall(said):
        yield f"none, {int(count):,} places", "scipy", f"its tree over our pools {tree}", whole


PEERS: dict[str, tuple[str, Callable[[str], Iterator[tuple[str, str, str, str]]]]] = {
    "peers_heat.py": ("metal that freezes in mould", _of_heat),
    "peers_pour.py": ("front in a rod", _of_side_by_side),
    "peers_day.py": ("heat of a block", _of_side_by_side),
    "peers_char.py": ("char of a flask", _of_side_by_side),
    "peers_feeding.py": ("until when places are fed", _of_feeding),
}


def rows() -> Iterator[list[str]]:
    """Run each file of peers and return the lines of the table, in the order of `HEAD`."""
    for file, (problem, read) in PEERS.items():
        said = subprocess.run(
            [sys.executable, str(Path(__file__).parent / file)],
            check=True,
            stdout=subprocess.PIPE,
            text=True,
        ).stdout
        found = list(read(said))
        if not found:
            raise SystemExit(f"{file} printed no comparison that could be read:\n{said}")
        yield from ([problem, *one] for one in found)
