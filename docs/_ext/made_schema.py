"""The page of the forecast as JSON, from its schema."""

from collections.abc import Iterator, Mapping
from typing import Any

from made_words import code, plain, table

from pourcast.forecast.document import schema as read_schema


def schema() -> str:
    """Return a table for each part of the document: key, type and what it is."""
    tree = read_schema()
    said = []
    for path, node in _objects(tree, "", tree):
        title = f"## {path}" if path else "## The document"
        said += [title, "", plain(node.get("description", "")), ""]
        needed = set(node.get("required", ()))
        rows = [
            [code(key), _type(part, tree), "yes" if key in needed else "", _what(part, tree)]
            for key, part in node["properties"].items()
        ]
        said.append(table(["key", "type", "always there", "what"], rows))
    return "\n".join(said)


def _whole(node: Mapping[str, Any], tree: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return a node with its reference followed."""
    if "$ref" not in node:
        return node
    found: Mapping[str, Any] = tree
    for step in node["$ref"].removeprefix("#/").split("/"):
        found = found[step]
    return {**found, **{key: value for key, value in node.items() if key != "$ref"}}


def _objects(
    node: Mapping[str, Any], path: str, tree: Mapping[str, Any]
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Yield each object with keys of its own, with the way to it."""
    if "$ref" in node and path:
        node = _whole(node, tree)
    if "properties" in node:
        yield path, node
        for key, part in node["properties"].items():
            yield from _objects(part, f"{path}.{key}".lstrip("."), tree)
    if "items" in node:
        yield from _objects(node["items"], f"{path}[]", tree)
    for way in ("oneOf", "anyOf"):
        for part in node.get(way, ()):
            yield from _objects(part, path, tree)


def _type(node: Mapping[str, Any], tree: Mapping[str, Any]) -> str:
    node = _whole(node, tree)
    if "const" in node:
        return code(str(node["const"]))
    if "enum" in node:
        return ", ".join("null" if each is None else code(str(each)) for each in node["enum"])
    if "anyOf" in node or "oneOf" in node:
        return " or ".join(_type(part, tree) for part in node.get("anyOf", node.get("oneOf", ())))
    kind = node.get("type", "any")
    said = " or ".join(kind) if isinstance(kind, list) else str(kind)
    if said == "array" and "items" in node:
        return f"list of {_type(node['items'], tree)}"
    return said


def _what(node: Mapping[str, Any], tree: Mapping[str, Any]) -> str:
    node = _whole(node, tree)
    said = [plain(node.get("description", ""))]
    low, high = node.get("minimum"), node.get("maximum")
    if low is not None or high is not None:
        said.append(_span(low, high))
    return " ".join(filter(None, said))


def _span(low: float | None, high: float | None) -> str:
    if high is None:
        return f"{low} or more."
    return f"{high} or less." if low is None else f"{low} to {high}."
