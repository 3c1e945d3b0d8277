"""Doubled: a copy of the package in which one kind of operation is done twice; same results.

What a kernel waits for cannot be counted where a machine hides its counters.  But if each
division is done a second time the time says what divisions are worth: by the length of
the chain if the second waits for the first ("after"), by the divider's room if it does
not ("beside").  The second operand is moved by 1e-300, which changes no bit of an
ordinary number and which a compiler cannot leave out.  Functions under @kernel and
@small_kernel are rewritten, of one stage; the rest of the copy is as it was.
"""

import ast
import shutil
from pathlib import Path

SOURCE = Path(__file__).parent.parent / "src"
FUNCTIONS = ("exp", "expm1", "log", "log10", "log1p", "pow")
OWN = {"pour": ("exponential", "logarithm")}
"""What a stage has in place of exp and log, in its file elementary.py."""

KINDS = ("as it is", "exp and log, after", "division and root, after", "division and root, beside")

_HEAD = "import math\n\nfrom pourcast.kernels import small_kernel\n"
_TWICE = """
@small_kernel
def twice_{name}({arguments}):
    one = {call}
    two = {again}
    return {kept}
"""


def _doubles(kind: str, own: tuple[str, ...]) -> str:
    after = kind.endswith("after")
    kept = "two" if after else "one if one > two else two"
    moved = "{0} + one * 1e-300" if after else "{0} + 1e-300"
    made = [_HEAD]
    if own:
        made.append(f"from .elementary import {', '.join(own)}\n")
    for name in (*FUNCTIONS, "sqrt", *own):
        both = name == "pow"
        function = name if name in own else f"math.{name}"
        made.append(
            _TWICE.format(
                name=name,
                arguments="a, b" if both else "a",
                call=f"{function}({'a, b' if both else 'a'})",
                again=f"{function}({moved.format('a')}{', b' if both else ''})",
                kept=kept,
            )
        )
    divided = moved.format("b")
    made.append(
        _TWICE.format(
            name="divide", arguments="a, b", call="a / b", again=f"a / ({divided})", kept=kept
        )
    )
    return "".join(made)


class _Rewrite(ast.NodeTransformer):
    """Puts the doubled operation in the place of each of a kind."""

    def __init__(self, kind: str, own: tuple[str, ...]) -> None:
        self.functions = FUNCTIONS if kind.startswith("exp") else ("sqrt",)
        self.own = own
        self.divides = kind.startswith("division")
        self.count = 0

    def _call(self, name: str, arguments: list[ast.expr]) -> ast.Call:
        self.count += 1
        return ast.Call(ast.Name(f"twice_{name}", ast.Load()), arguments, [])

    def visit_Call(self, node: ast.Call) -> ast.AST:
        self.generic_visit(node)
        asked = node.func
        if (
            isinstance(asked, ast.Attribute)
            and isinstance(asked.value, ast.Name)
            and asked.value.id == "math"
            and asked.attr in self.functions
        ):
            return self._call(asked.attr, node.args)
        if isinstance(asked, ast.Name) and asked.id in self.own:
            return self._call(asked.id, node.args)
        return node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        constant = isinstance(node.right, ast.Constant)
        if self.divides and isinstance(node.op, ast.Div) and not constant:
            return self._call("divide", [node.left, node.right])
        return node


def copy_with(stage: str, kind: str, folder: Path) -> int:
    """Make the copy in a folder; return how many operations of the source are doubled."""
    package = folder / "pourcast"
    shutil.copytree(
        SOURCE / "pourcast",
        package,
        ignore=shutil.ignore_patterns("__pycache__"),
        dirs_exist_ok=True,
    )
    if kind == KINDS[0]:
        return 0
    own = OWN.get(stage, ()) if kind.startswith("exp") else ()
    names = ", ".join(f"twice_{name}" for name in (*FUNCTIONS, "sqrt", "divide", *own))
    found = 0
    for path in sorted((package / stage).glob("*.py")):
        if own and path.stem == "elementary":
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        rewrite = _Rewrite(kind, own)
        for node in tree.body:
            if isinstance(node, ast.FunctionDef) and any(
                isinstance(mark, ast.Name) and mark.id in ("kernel", "small_kernel")
                for mark in node.decorator_list
            ):
                rewrite.visit(node)
        if rewrite.count:
            found += rewrite.count
            first = 1 if ast.get_docstring(tree) is not None else 0
            line = f"from pourcast.{stage}.doubled import {names}"
            tree.body[first:first] = ast.parse(line).body
            path.write_text(ast.unparse(ast.fix_missing_locations(tree)), encoding="utf-8")
    (package / stage / "doubled.py").write_text(_doubles(kind, own), encoding="utf-8")
    return found
