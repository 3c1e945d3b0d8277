"""Write the answer of the worked example into README.md, as the program gives it today.

``make checks-table`` runs it; the tests hold README.md against the same answer.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
COMMAND = ("-m", "pourcast", "forecast", "examples/larch_twig.toml")
BLOCK = re.compile(r"(<!-- demo: begin [^\n]*-->\n```text\n)(.*?)(```\n<!-- demo: end -->)", re.S)


def answer() -> str:
    """Return what the second command of the README prints, 80 columns wide."""
    done = subprocess.run(
        [sys.executable, *COMMAND],
        cwd=ROOT,
        env=os.environ | {"COLUMNS": "80", "NO_COLOR": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def told(text: str) -> str:
    """Return what README.md says that it prints."""
    found = BLOCK.search(text)
    if found is None:
        raise SystemExit("README.md has no place for the worked example")
    return found[2]


def main() -> int:
    """Write the block; return 0."""
    text = README.read_text(encoding="utf-8")
    told(text)
    made = answer()
    README.write_text(BLOCK.sub(lambda found: found[1] + made + found[3], text), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
