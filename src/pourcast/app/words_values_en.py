"""English of the values page: every number, where it comes from, and the studio's own."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "values.title": "Values",
    "values.head": "Where the numbers come from",
    "values.said": (
        "{all} values. {drawn} of them are varied by forecasts, from low to high. "
        "A value of your own, with a note, takes the place of such a one in every forecast."
    ),
    "values.find": "Find a value",
    "values.find.act": "Find",
    "values.find.all": "All groups",
    "values.found.one": "{number} value.",
    "values.found.many": "{number} values.",
    "values.found.none": "No value has that word.",
    "values.more": "The first {most} are shown; find by a longer word.",
    "values.own": "This studio’s own",
    "values.own.none": "None yet.",
    "values.groups": "Groups",
    "values.group.alloys": "Casting metals",
    "values.group.elements": "Pure metals",
    "values.group.investment": "Investment and block",
    "values.group.waxes": "Waxes",
    "values.group.plants": "Plants and insects",
    "values.group.coatings": "Coats",
    "values.group.kiln": "Kiln and burning",
    "values.group.pour": "Filling",
    "values.group.freeze": "Freezing",
    "values.group.finish": "Finishing",
    "values.group.safety": "Limits in the air",
    "values.col.name": "value",
    "values.col.value": "middle",
    "values.col.low": "from",
    "values.col.high": "to",
    "values.col.unit": "unit",
    "values.col.kind": "kind and source",
    "values.col.used": "where used",
    "values.is_own": "own",
    "values.was": "was {value}",
    "values.used.drawn": "varied by forecasts",
    "values.used.pieces": "varied for {pieces}",
    "values.used.fixed": "taken as it is",
    "values.put": "Your own",
    "values.put.said": "In the place of {value} ({low} to {high}) {unit}; {kind}: {source}",
    "values.put.value": "Middle",
    "values.put.low": "Not less than",
    "values.put.high": "Not more than",
    "values.put.note": "Where it comes from",
    "values.put.note.how": "Who measured it, how, and when. It stands beside the value everywhere.",
    "values.put.act": "Use it in every forecast",
    "values.drop": "Go back to the book’s value",
    "values.back": "To the values",
    "values.condition": "Holds: {condition}",
    "values.note": "Note: {note}",
    "values.cannot": (
        "No forecast varies this value, so one of your own would change nothing. It is taken as "
        "it is, or stands in the piece file."
    ),
    "values.facts": "What can hurt, and the usual precaution",
    "values.facts.said": (
        "Local codes, the maker’s data sheet and licensed people come first. Nothing here says "
        "that an act is without danger."
    ),
}
