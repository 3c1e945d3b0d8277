"""English of the book: chances against outcomes, and the pieces that stand in it."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "book.title": "The book",
    "book.head.none": "No forecast has its outcome yet.",
    "book.head.one": "{number} part forecast has its outcome.",
    "book.head.many": "{number} part forecasts have their outcome.",
    "book.said": (
        "A chance is good if it comes true as often as it says: of the parts forecast at 80 to 90 "
        "in 100, about 85 in 100 should come whole. Ten pours say little."
    ),
    "book.too_late.one": "{number} was told before its plan was kept, and counts for nothing.",
    "book.too_late.many": "{number} were told before their plans were kept, and count for nothing.",
    "book.how": (
        "Put a plan in the book before its pour, on the page of the piece; say under Break-out "
        "what came out. In a terminal these are “pourcast book keep” and “pourcast outcome”."
    ),
    "book.parts": "Part by part",
    "book.wholes": "Whole pieces",
    "book.picture": (
        "Of {classes} classes of chance, the share that came whole against the chance that was "
        "forecast. The same figures stand in the table."
    ),
    "book.axis.chance": "forecast, in 100",
    "book.axis.came": "came whole, in 100",
    "book.even": "as often as it said",
    "book.col.class": "forecast, in 100",
    "book.col.mean": "on the mean",
    "book.col.count": "how many",
    "book.col.came": "came whole",
    "book.col.share": "in 100",
    "book.col.range": "likely",
    "book.class": "{low} to {high}",
    "book.range": "{low} to {high}",
    "book.score.brier": "Brier score",
    "book.score.brier.how": (
        "Mean square of chance less what came. 0 is best; half and half each time is 0.25."
    ),
    "book.score.logarithmic": "Logarithmic score",
    "book.score.logarithmic.how": "0 is best; half and half each time is 0.693.",
    "book.score.skill": "Skill",
    "book.score.skill.how": (
        "Gain over saying each time the share that came. 1 is best, below 0 is worse than that."
    ),
    "book.score.none": "not yet: all came, or none",
    "book.pieces": "Pieces in the book",
    "book.pieces.none": "Nothing is kept yet.",
    "book.col.piece": "piece",
    "book.col.kept": "plan kept",
    "book.col.plans": "plans",
    "book.col.chance": "whole, in 100",
    "book.col.poured": "poured",
    "book.col.how": "how it came",
    "book.not_poured": "not yet",
    "book.in_kiln": "in the kiln since {day}, no pour told",
    "book.not_told": "not told",
    "book.came.whole": "whole",
    "book.came.short": "short",
    "book.came.missing": "parts missing",
    "book.came.not seen": "not seen",
    "book.older": "Older pieces",
    "book.newer": "Newer pieces",
}
