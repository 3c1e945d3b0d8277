"""What the files of a stage say of themselves: question, equations, what is left out, source."""

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "src" / "pourcast"


def docstrings(folder: str) -> str:
    """Return the head of each file of a folder as it stands, under the file's name."""
    said = []
    for path in sorted((PACKAGE / folder).glob("*.py")):
        head = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
        if not head or path.name == "__init__.py":
            continue
        said.append(f"### {path.name}\n\n```text\n{head}\n```\n")
    return "\n".join(said)
