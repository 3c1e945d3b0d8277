"""English of the break-out: what came out, and what may be behind it."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "breakout.title": "Break-out",
    "breakout.which": "Which piece is out of its mould?",
    "breakout.none": "Nothing stands on the shelf yet.",
    "breakout.waits": "poured, not told yet",
    "breakout.not_kept": "no plan of it is kept in the book",
    "breakout.head": "Say what came short.",
    "breakout.said": (
        "The numbers lead to the rows. Leave the rest: a part that you leave alone counts as full."
    ),
    "breakout.picture": "{name} on its button, its parts numbered",
    "breakout.to_part": "Part {number}, {name}: to its row",
    "breakout.keep_first": (
        "No plan of this piece is kept in the book yet. Keep the one that stands, then say what "
        "came out. A forecast that is kept after the break-out counts in no score."
    ),
    "breakout.keep": "Keep the plan",
    "breakout.changed": (
        "The piece was changed after its plan was kept. What you say here is held against the "
        "plan that was kept on {day}."
    ),
    "breakout.before": "This pour was told before. What you write now is kept beside it.",
    "breakout.another": "This is another pour of the same plan",
    "breakout.state.filled": "all there",
    "breakout.state.short": "short",
    "breakout.state.missing": "missing",
    "breakout.state.not seen": "not seen",
    "breakout.members": "How many of {count}",
    "breakout.by": "Short by, the worst",
    "breakout.porosity": "Holes and pits",
    "breakout.amount.none": "none seen",
    "breakout.amount.some": "a few",
    "breakout.amount.many": "many",
    "breakout.where": "Where",
    "breakout.where.all": "all over",
    "breakout.others": "Anything else on the skin or the shape",
    "breakout.button": "The button",
    "breakout.button.none_said": "not looked at",
    "breakout.button.full": "full",
    "breakout.button.sunk": "sunk",
    "breakout.button.porous": "full of holes",
    "breakout.button.none": "none left",
    "breakout.sure": "How did you look?",
    "breakout.sure.guessed": "a guess",
    "breakout.sure.fairly": "by eye",
    "breakout.sure.sure": "with a lens",
    "breakout.sure.weighed": "weighed too",
    "breakout.poured": "Poured on",
    "breakout.seen": "Broken out on",
    "breakout.poured_on": "Poured on {day}.",
    "breakout.lit": "Kiln lit on {day}; the pour is often a day later.",
    "breakout.note": "In your words",
    "breakout.photo": "A photograph",
    "breakout.write": "Write it in the book",
    "breakout.faults": "This cannot be written down yet:",
    "breakout.care": (
        "The block is hot for long after the quench, and its dust is silica: break it out wet. "
        "Local codes and the maker’s data sheet come first."
    ),
    "breakout.folded": "What the forecast had said",
    "breakout.folded.why": "Folded away so that it does not lead the eye.",
    "breakout.folded.part": "{name}: full in {chance} of 100 pours",
    "breakout.folded.whole": "Whole in {chance} of 100 pours.",
    "breakout.done": "It is in the book.",
    "breakout.came_whole": "It came out whole; the forecast had {chance} in 100.",
    "breakout.came_not": "It did not come out whole; the forecast had {chance} in 100.",
    "breakout.not_all_seen": "Not all of it was looked at; the forecast had {chance} in 100.",
    "breakout.part": "part",
    "breakout.expected": "full in 100",
    "breakout.found": "came out",
    "breakout.score": (
        "Brier score of this pour {score}: 0 is best, and saying 50 in 100 each time gets 0.250."
    ),
    "breakout.no_score": "Not scored: the plan was kept after the break-out, or no part was seen.",
    "breakout.why": "What may be behind it",
    "breakout.looks": "It would look like this: {text}.",
    "breakout.first": "First change",
    "breakout.ask": "What would tell them apart",
    "breakout.yes": "Yes",
    "breakout.no": "No",
    "breakout.unsaid": "Not known",
    "breakout.again": "Look again with these answers",
    "breakout.correct": "Correct what is written",
    "breakout.to_piece": "To the piece",
}
