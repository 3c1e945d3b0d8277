"""Equations made wrong: which places of a source file, and how.

Taken are numbers, + - * / and powers, signs, least and greatest, and comparisons.
Left alone are texts, the types of arguments, what is raised, the counting of array places, and the
records' own refusals: there a change is one of words or of form and not of an equation.

A wrong source is written anew from its tree, so it has no comments; nothing reads those.
"""

import ast
import copy

FACTOR = 1.3

_OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
}
_COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE,
    ast.GtE: ast.Lt,
    ast.Gt: ast.LtE,
    ast.LtE: ast.Gt,
}
_EXTREMES = {"min": "max", "max": "min", "minimum": "maximum", "maximum": "minimum"}
_LEFT_ALONE = (ast.JoinedStr, ast.Raise, ast.Subscript, ast.Assert, ast.keyword, ast.ImportFrom)


def wrong_equations(source: str) -> list[str]:
    """Return what can be made wrong in one module, in the order of its lines.

    Parameters
    ----------
    source : str
        Of the module.

    Returns
    -------
    list of str
        Line, what stands there, and what it would become; the same text twice is told by a number.
    """
    names: list[str] = []
    for node in _places(ast.parse(source)):
        twin = copy.deepcopy(node)
        _make_wrong(twin)
        name = f"line {node.lineno}: {ast.unparse(node)} → {ast.unparse(twin)}"
        again = sum(kept.partition(" (again")[0] == name for kept in names)
        names.append(f"{name} (again {again})" if again else name)
    return names


def places(source: str) -> list[tuple[int, int]]:
    """Return line and column of each place, in the order of `wrong_equations`."""
    return [(node.lineno, node.col_offset) for node in _places(ast.parse(source))]


def with_wrong(source: str, place: int) -> str:
    """Return the source with one place made wrong.

    Parameters
    ----------
    source : str
    place : int
        In the list of `wrong_equations`.
    """
    tree = ast.parse(source)
    _make_wrong(_places(tree)[place])
    return ast.unparse(tree) + "\n"


def _places(tree: ast.AST) -> list[ast.expr]:
    """Return all nodes that can be made wrong, in the order of the source."""
    found: list[ast.expr] = []

    def look(node: ast.AST) -> None:
        if isinstance(node, _LEFT_ALONE):
            return
        if isinstance(node, ast.expr) and _is_equation(node):
            found.append(node)
        for child in ast.iter_child_nodes(node):
            look(child)

    look(tree)
    return found


def _is_equation(node: ast.expr) -> bool:
    match node:
        case ast.Constant(value=float(number)):
            return number != 0.0
        case ast.BinOp(op=operator):
            if isinstance(operator, ast.Pow):
                return isinstance(node.right, ast.Constant)
            # "a" + "b" and lists are no equations.
            texts = any(isinstance(side, ast.List | ast.Tuple) or _is_text(side)
                        for side in (node.left, node.right))  # fmt: skip
            return type(operator) in _OPERATORS and not texts
        case ast.UnaryOp(op=ast.USub()):
            return True
        case ast.Compare(ops=[comparison]):
            return type(comparison) in _COMPARISONS
        case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name)):
            return name in _EXTREMES and len(node.args) > 1
    return False


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def _make_wrong(node: ast.expr) -> None:
    match node:
        case ast.Constant(value=float(number)):
            node.value = float(f"{number * FACTOR:.9g}")
        case ast.BinOp(op=ast.Pow(), right=ast.Constant() as power):
            node.right = ast.BinOp(left=power, op=ast.Add(), right=ast.Constant(1))
        case ast.BinOp(op=operator):
            node.op = _OPERATORS[type(operator)]()
        case ast.UnaryOp():
            node.op = ast.UAdd()
        case ast.Compare(ops=[comparison]):
            node.ops = [_COMPARISONS[type(comparison)]()]
        case ast.Call(func=ast.Name() as function):
            function.id = _EXTREMES[function.id]
        case ast.Call(func=ast.Attribute() as function):
            function.attr = _EXTREMES[function.attr]
