"""A worked notebook as a page: run when the site is built, so its answers are those of today."""

import base64
import tempfile
from pathlib import Path
from typing import Any

import nbformat
from jupyter_client.manager import KernelManager
from nbclient import NotebookClient

FOLDER = Path(__file__).parents[1] / "notebooks"
LONGEST = 600
"""Seconds that one cell may take before the build gives up."""


def notebook(name: str) -> str:
    """Return a notebook with its outputs as Markdown; a cell that fails fails the build."""
    return as_page(run(FOLDER / f"{name}.ipynb"))


def run(path: Path) -> nbformat.NotebookNode:
    """Return a notebook that has been run in its own folder; the file stays as it is."""
    book = nbformat.read(path, as_version=4)
    with tempfile.TemporaryDirectory(prefix="pourcast-") as folder:
        # Messages to the kernel go over sockets in the file system and not over the network.
        kernel = KernelManager(kernel_name="python3", transport="ipc", ip=f"{folder}/kernel")
        client = NotebookClient(
            book, km=kernel, timeout=LONGEST, resources={"metadata": {"path": str(path.parent)}}
        )
        client.execute()
    return book


def as_page(book: nbformat.NotebookNode) -> str:
    """Return cells and outputs as Markdown."""
    said = []
    for cell in book.cells:
        if cell.cell_type == "markdown":
            said.append(cell.source)
            continue
        said.append(f"```python\n{cell.source}\n```")
        said += [_output(each) for each in cell.outputs]
    return "\n\n".join(said)


def _output(output: Any) -> str:
    if output.output_type == "stream":
        return _text(output.text)
    data = output.data
    if "text/html" in data:
        return _raw(f'<div class="pourcast-out">{data["text/html"]}</div>')
    if "image/png" in data:
        held = base64.b64encode(base64.b64decode(data["image/png"])).decode()
        return _raw(
            '<div class="pourcast-out"><img alt="Drawn by the lines above." '
            f'src="data:image/png;base64,{held}"></div>'
        )
    return _text(data["text/plain"])


def _text(said: str) -> str:
    return f"```text\n{said.rstrip()}\n```"


def _raw(held: str) -> str:
    return f"````{{raw}} html\n{held}\n````"
