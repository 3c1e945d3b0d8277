"""Reads a page as strictly as the tests need: every tag closed, in order."""

from html.parser import HTMLParser
from xml.etree import ElementTree

VOID = frozenset({"meta", "br", "link", "img", "input", "hr", "source", "wbr"})
"""Elements that HTML closes by itself (HTML living standard, void elements)."""


class Page(HTMLParser):
    """Tags, attributes and text of a page; refuses a tag that is not closed in order."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self.rows: dict[str, list[list[str]]] = {}
        self._table = ""
        self.feed(text)
        self.close()
        assert self.open == [], f"left open: {self.open}"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        kept = {name: value or "" for name, value in attrs}
        self.tags.append((tag, kept))
        if tag not in VOID:
            self.open.append(tag)
        if tag == "table":
            self._table = kept["class"]
            self.rows[self._table] = []
        if tag == "tr":
            self.rows[self._table].append([])
        if tag in ("td", "th"):
            self.rows[self._table][-1].append("")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" in self.open:
            return
        self.words.append(data)
        cell = {"td", "th"} & set(self.open)
        if cell and "span" not in self.open:
            self.rows[self._table][-1][-1] += data

    @property
    def text(self) -> str:
        """All words of the page with single spaces."""
        return " ".join(" ".join(self.words).split())

    def classes(self) -> list[str]:
        """Every class name of every tag."""
        return [name for _, kept in self.tags for name in kept.get("class", "").split()]


def pictures(text: str) -> list[ElementTree.Element]:
    """Return each SVG of a page, read as XML."""
    found = []
    rest = text
    while "<svg" in rest:
        start = rest.index("<svg")
        end = rest.index("</svg>", start) + len("</svg>")
        found.append(ElementTree.fromstring(rest[start:end]))
        rest = rest[end:]
    return found
