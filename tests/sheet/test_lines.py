"""Lines of keys, held against TOML as its specification writes it."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.sheet.lines import line_map
from tests.sheet.small import SMALL

EXAMPLES = Path(__file__).parents[2] / "examples"

TRICKY = '''\
# [not.a.table]
top = "a # in a string"   # and a comment = 1
"quoted key" = 'literal # "x"'
"esc\\u0061ped" = 1
note = """
[[part]]
name = "not a key"
""\\" still inside \\\\"""
flat = \'\'\'
[flask] # not a section
it''s\'\'\'
five = """two quotes end it"""""
[flask]
height_mm = 100
[flask.deep . "er"]
x.y = 2
x."z" = [1, # one
  "], 2 #",
  [3,
   4],
]
[[part]]
name = "a"
[[part]]
name = "b"
size = { w = 1, t.a = "}", list = [ { q = 1 }, { q = 2 } ] }
when = 1979-05-27 07:32:00
[part.more]
v = -1.5e3
[[part.step]]
to = 1
[[part.step]]
to = 2
'''


def paths(node: Any, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Return the path of each key, table and member of a list in a document."""
    inside: list[tuple[str | int, Any]] = []
    if isinstance(node, dict):
        inside = list(node.items())
    elif isinstance(node, list):
        inside = list(enumerate(node))
    own = {path} if path else set()
    return own.union(*(paths(value, (*path, step)) for step, value in inside))


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 2),
        (("quoted key",), 3),
        (("escaped",), 4),
        (("note",), 5),
        (("flat",), 9),
        (("five",), 12),
        (("flask",), 13),
        (("flask", "height_mm"), 14),
        (("flask", "deep"), 15),
        (("flask", "deep", "er"), 15),
        (("flask", "deep", "er", "x", "y"), 16),
        (("flask", "deep", "er", "x", "z"), 17),
        (("part",), 22),
        (("part", 0, "name"), 23),
        (("part", 1), 24),
        (("part", 1, "name"), 25),
        (("part", 1, "size", "t", "a"), 26),
        (("part", 1, "size", "list", 1, "q"), 26),
        (("part", 1, "when"), 27),
        (("part", 1, "more", "v"), 29),
        (("part", 1, "step", 0, "to"), 31),
        (("part", 1, "step", 1, "to"), 33),
    ],
)
def test_a_key_is_found_on_its_line_among_strings_comments_and_tables(
    path: tuple[str | int, ...], line: int
) -> None:
    """Source: lines counted by hand in the text above."""
    assert line_map(TRICKY)[path] == line


def test_members_of_a_list_have_their_own_lines() -> None:
    """Source: lines counted by hand."""
    lines = line_map("a = [\n 1,\n\n 2, 3,\n]\n")

    assert [lines[("a", place)] for place in range(3)] == [2, 4, 4]


def test_line_ends_of_other_systems_do_not_shift_the_lines() -> None:
    """Source: TOML 1.0, "newline": LF or CRLF."""
    assert line_map(SMALL.replace("\n", "\r\n")) == line_map(SMALL)


@pytest.mark.parametrize(
    "text", [SMALL, TRICKY, *(kept.read_text("utf-8") for kept in EXAMPLES.glob("*.toml"))]
)
def test_the_map_holds_just_the_paths_that_the_standard_reader_gives(text: str) -> None:
    """Source: `tomllib` of Python, an independent reader of the same text."""
    deep = 6  # steps; the map keeps no more
    want = {path for path in paths(tomllib.loads(text)) if len(path) <= deep}

    assert set(line_map(text)) == want


STRINGS = st.sampled_from(
    ['"#"', "'\\'", '"\\""', '"""a\n[x]\nb = 1"""', "'''\n# \"\n'''", '"""""x"""', '"é\\\\"', "''"]
)
SCALARS = STRINGS | st.sampled_from(["1", "-2.5", "true", "inf", "2001-02-03", "0x1F", "1_000"])
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda items: "[" + ",\n ".join(items) + " # ]\n]")
        | st.lists(inner, max_size=3).map(
            lambda items: "{" + ", ".join(f"k{i} = {item}" for i, item in enumerate(items)) + "}"
        )
    ),
    max_leaves=5,
)
KEYS = st.sampled_from(["plain", '"a b"', "'c.d'", '"e#f"', '"g\\n"', "1", "x.y", 'x . "z"'])
GAPS = st.sampled_from(["", "\n", "# [x]\n", "  # a = 1\n\n", "\t\n"])
HEADS = st.sampled_from(["", "[t{}]\n", "[[aot]]\n", "[ 'u{}' . v ] # x\n", "[[aot.inner]]\n"])


@settings(max_examples=300, deadline=None)
@given(st.lists(st.tuples(GAPS, HEADS, st.dictionaries(KEYS, VALUES, max_size=3)), max_size=5))
def test_any_toml_gives_the_line_on_which_each_key_was_written(
    blocks: list[tuple[str, str, dict[str, str]]],
) -> None:
    """Source: the writer of this test, which counts the lines as it writes them."""
    text, want = "", {}
    tables: dict[str, int] = {"aot": 0, "inner": 0}
    for place, (gap, head, pairs) in enumerate(blocks):
        if "aot.inner" in head and not tables["aot"]:
            head = "[[aot]]\n"
        text += gap + head.format(place)
        if place and not head:
            continue
        table = table_of(head, place, tables)
        for key, value in pairs.items():
            want[table + keys_of(tomllib.loads(f"{key} = 0"))] = text.count("\n") + 1
            text += f"{key} = {value}\n"

    lines = line_map(text)

    assert set(lines) == {path for path in paths(tomllib.loads(text)) if len(path) <= 6}
    assert {path: lines[path] for path in want} == want


def table_of(head: str, place: int, tables: dict[str, int]) -> tuple[str | int, ...]:
    """Return the path of a header, and count the tables of a list."""
    if "t{}" in head:
        return (f"t{place}",)
    if "u{}" in head:
        return (f"u{place}", "v")
    if "inner" in head:
        tables["inner"] += 1
        return ("aot", tables["aot"] - 1, "inner", tables["inner"] - 1)
    if "aot" in head:
        tables["aot"] += 1
        tables["inner"] = 0
        return ("aot", tables["aot"] - 1)
    return ()


def keys_of(document: dict[str, Any]) -> tuple[str, ...]:
    """Return the path of the only key of a document."""
    ((key, inner),) = document.items()
    return (key, *(keys_of(inner) if isinstance(inner, dict) else ()))
