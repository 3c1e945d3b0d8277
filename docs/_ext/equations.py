"""Equations as MathML, so that a page needs no script and no network for them.

docutils turns the common commands of TeX into MathML; what it does not know is an
error of the build, and the equation is then to be written more plainly.
"""

from typing import Any

from docutils import nodes
from docutils.utils.math import MathError
from docutils.utils.math.latex2mathml import tex2mathml
from sphinx.application import Sphinx
from sphinx.errors import SphinxError


def as_mathml(equation: str, *, block: bool) -> str:
    """Return an equation written in TeX as MathML; raise `SphinxError` if it is not known."""
    try:
        return str(tex2mathml(equation, as_block=block))
    except MathError as fault:
        raise SphinxError(f"equation {equation!r}: {fault}") from fault


def _inline(writer: Any, node: nodes.math) -> None:
    writer.body.append(as_mathml(node.astext(), block=False))
    raise nodes.SkipNode


def _block(writer: Any, node: nodes.math_block) -> None:
    # The place that links lead to is written by the parser, round this one.
    number = f'<span class="eqno">({node["number"]})</span>' if node.get("number") else ""
    drawn = as_mathml(node.astext(), block=True)
    writer.body.append(f'<div class="equation">{drawn}{number}</div>\n')
    raise nodes.SkipNode


def setup(app: Sphinx) -> dict[str, Any]:
    """Offer the renderer under the name "mathml"."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
