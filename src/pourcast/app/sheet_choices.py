"""Sheet choices: what may be picked in a box, in the caster's words."""

from collections.abc import Mapping

from pourcast.app.words import say
from pourcast.errors import SourceError
from pourcast.materials import library
from pourcast.page.figures import clean
from pourcast.sheet.takes import Choice, Material, Takes


def choices(takes: Takes) -> tuple[tuple[str, str], ...]:
    """Return what may be picked, each with its words; empty where the box is typed into."""
    if isinstance(takes, Choice):
        return tuple((word, say(f"word.{word}")) for word in takes.words)
    if isinstance(takes, Material):
        return material_words(takes.kind)
    return ()


def material_words(kind: str) -> tuple[tuple[str, str], ...]:
    """Return the records of a kind, each with its name: "alloy", "powder", "wax", "original"."""
    book = library()
    if kind == "alloy":
        return tuple(
            (key, f"{kept.name} ({kept.designation})" if kept.designation else kept.name)
            for key, kept in book.alloys.items()
        )
    if kind == "powder":
        return tuple((key, book.investment[key].name) for key in book.powders)
    waxes = tuple((key, kept.name) for key, kept in book.waxes.items())
    if kind == "wax":
        return waxes
    return (*((key, book.plants[key].name) for key in book.organs), *waxes)


def flags(fields: Mapping[str, str]) -> Mapping[str, str]:
    """Return what to know of the alloy that is picked, by the name of its box."""
    picked = fields.get("metal.alloy", "")
    try:
        flag = library().alloy(picked).flag if picked else ""
    except SourceError:
        flag = ""
    return {"metal.alloy": clean(flag)} if flag else {}
