"""Pages that no list of the first page names, so that none is left out of the site."""

from pathlib import Path

FOLDER = Path(__file__).parents[1]


def others() -> str:
    """Return the names of the pages beside the first one that it does not name itself."""
    named = set((FOLDER / "index.md").read_text(encoding="utf-8").split())
    pages = sorted(path.stem for path in FOLDER.glob("*.md"))
    return "\n".join(name for name in pages if name != "index" and name not in named)
