"""Words of two plans side by side, in English."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "compare.title": "Two plans side by side",
    "compare.said": (
        "Choose two pieces, or two texts of one piece. Both are poured with the same draws, so "
        "that what differs between them is the plan and not luck."
    ),
    "compare.one": "First plan",
    "compare.other": "Second plan",
    "compare.none": "choose",
    "compare.act": "Lay them side by side",
    "compare.swap": "Change sides",
    "compare.working": "Pouring both, {draws} times each. This takes some seconds.",
    "compare.no_script": "Pour both and show it",
    "compare.fault": "They could not be laid side by side.",
    "compare.not_kept": "No plan of this piece is kept in the book.",
    "compare.stands": "As it stands: {name}",
    "compare.turned": "With your knobs: {name}",
    "compare.kept": "In the book, {day}: {name}",
    "compare.earlier": "Text {revision} of {day}: {name}",
    "compare.first": "First",
    "compare.second": "Second",
    "compare.differs": "What differs",
    "compare.what": "What",
    "compare.moves": "What it moves",
    "compare.parts": "How often every one of a part fills, in 100 pours",
    "compare.part": "Part",
    "compare.difference": "Difference",
    "compare.alone.first": "Only in the first: {names}.",
    "compare.alone.second": "Only in the second: {names}.",
    "compare.short": "What stops a part, in 100 pours",
    "compare.stops": "What would stop you",
    "compare.stops.none": "Nothing in either.",
    "compare.rests": "{draws} pours of each with the same draws, seed {seed}.",
    "compare.from_shelf": "Lay two of them side by side",
    "compare.from_piece": "Lay it beside another plan",
    "compare.from_text": "Lay it beside what stands now",
}
