"""English of the page of a piece; what the forecast says comes from `pourcast.page`."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "piece.unnamed": "A piece without a name",
    "piece.was": "was {was}",
    "piece.was_said": "Was: {was}",
    "piece.not_said": "not said",
    "piece.usual": "usual {low} to {high}; {note}",
    "piece.type_a_number": "a number, with its unit if it is another one",
    "piece.knob.coat": "Wax or lacquer on {part}",
    "piece.knob.thick": "Thickness of {part} at its base",
    "piece.knob.wide": "Width of {part} at its base",
    "piece.knob.flask_inside": "Flask across the inside",
    "piece.knob.flask_height": "Height of the flask",
    "piece.knob.water": "Water to powder, by weight",
    "piece.knob.gate": "Gate, where the piece begins",
    "piece.knob.button": "Button across its rim",
    "piece.knob.button_height": "Height of the button",
    "piece.knob.top": "Top of the button after the pour",
    "piece.word.open": "open",
    "piece.word.covered": "covered",
    "piece.less": "{label}: less",
    "piece.more": "{label}: more",
    "piece.set.short": "Set",
    "piece.more_knobs": "More of the piece and its flask",
    "piece.working": "Working it out.",
    "piece.first_answer": (
        "First answer, from {draws} pours. All {all} are being worked out; the figures may move."
    ),
    "piece.not_refined": "The whole could not be worked out; this answer is from {draws} pours.",
    "piece.at_once": "at once",
    "piece.start": "The bench begins",
    "piece.start.set": "Set the clock",
    "piece.start.usual": "This hour is a guess until you set it.",
    "piece.start.must": "a day and an hour such as 2026-12-05T18:30",
    "piece.turned.one": "You turned “{label}” from {was} to {now}.",
    "piece.turned.up": "You turned “{label}” from {was} up to {now}.",
    "piece.turned.down": "You turned “{label}” from {was} down to {now}.",
    "piece.turned.many": "You turned {count} knobs: {each}.",
    "piece.turned.each": "“{label}” from {was} to {now}",
    "piece.turned.back": "You turned a knob and turned it back.",
    "piece.turned.wax": "You changed {each}.",
    "piece.moved.same": "Whole stays at {whole}.",
    "piece.moved.whole": "Whole went from {was} to {now}.",
    "piece.moved.noise": (
        "Whole went from {was} to {now}; that is within the noise of these pours, {error} in 100."
    ),
    "piece.moved.pour.same": "the pour is no later",
    "piece.moved.pour.later": "the pour comes {by} later",
    "piece.moved.pour.sooner": "the pour comes {by} sooner",
    "piece.moved.quench.later": "the quench window opens {by} later after the pour",
    "piece.moved.quench.sooner": "the quench window opens {by} sooner after the pour",
    "piece.before": "before: {counts}",
    "piece.keep": "Keep",
    "piece.back": "Go back",
    "piece.undo": "Undo the last turn",
    "piece.nothing_kept": "Nothing is kept until you press Keep.",
    "piece.elsewhere": (
        "This piece was changed on another device or in another window: it stands at text "
        "{revision} now. What you turned stands on text {base}."
    ),
    "piece.elsewhere.bring": "Turn the same knobs on the newer text",
    "piece.parts": "Part by part, in 100 pours",
    "piece.parts.number": "Number in the drawing",
    "piece.parts.part": "part",
    "piece.parts.count": "how\nmany",
    "piece.parts.thin": "thinnest",
    "piece.parts.weakest": "weakest\none fills",
    "piece.parts.every": "every\none fills",
    "piece.parts.solid": "solid\nafter",
    "piece.parts.stops": "what stops it",
    "piece.parts.sub": "{count} of {thin}\u00a0mm",
    "piece.plate": (
        "Darker means surer: the chance in 100 that metal reaches the spot. Numbers point to the "
        "table. Drawn to scale as it hangs at the pour, cup up; hair-thin parts a little stouter."
    ),
    "piece.show": "Show the piece",
    "piece.show.plate": "drawn",
    "piece.show.chance": "turn it round",
    "piece.show.solid": "when it is solid",
    "piece.show.burn": "burnout, hour by hour",
    "piece.show.freeze": "freezing, second by second",
    "piece.show.cells": "one casting in cells",
    "piece.show.canvas": (
        "The piece in its flask, to be turned round. The table of parts gives the same figures."
    ),
    "piece.show.slider": "Time",
    "piece.show.chance.said": (
        "Darker means surer: the chance in 100 that metal reaches the spot. To scale, as it hangs "
        "at the pour."
    ),
    "piece.show.solid.said": (
        "Darker is solid sooner, counted from the pour, in the middle of the draws."
    ),
    "piece.show.burn.said": (
        "Dark is cold. The piece has the shade of the core of the block, the cup that of its wall, "
        "in the middle of the draws."
    ),
    "piece.show.freeze.said": "Dark is solid, pale is liquid, in the middle of the draws.",
    "piece.show.cells.said": (
        "The block cut through its axis, dark where it is cold, and the skin of the metal that is "
        "not solid yet."
    ),
    "piece.show.earlier": "Earlier",
    "piece.show.later": "Later",
    "piece.show.play": "Let it run",
    "piece.show.nearer": "Nearer",
    "piece.show.farther": "Farther",
    "piece.show.help": "Drag to turn, press a part to pick it; the table names it too.",
    "piece.show.none": "This browser cannot draw in the round; the drawing stays.",
    "piece.watch.one": "One more to watch for",
    "piece.watch.many": "{number} more to watch for",
    "piece.first": "What to change first",
    "piece.first.working": "Being worked out; the best may still change.",
    "piece.first.line": "{after} whole, give or take {error}",
    "piece.first.line.noise": "within the noise",
    "piece.first.same": "no stop",
    "piece.first.right": "put right",
    "piece.first.noise": "within the noise",
    "piece.wax": "What could be changed on the wax",
    "piece.wax.try": "Try it",
    "piece.wax.note": "None of these is ranked: try one and see what moves. Nothing is kept by it.",
    "piece.wax.label": "the wax: {name}",
    "piece.wax.gone": "This is not proposed any more.",
    "piece.first.none": "No change within reach was found that helps beyond the noise.",
    "piece.first.note": "Counted on {poured}.",
    "piece.day": "The day, by the clock",
    "piece.findings": "Findings",
    "piece.findings.beside": "What to stop or to watch for stands beside its act.",
    "piece.findings.none": "Nothing was found that needs a word.",
    "piece.findings.good": "{count} findings that are good",
    "piece.rests": "What this rests on",
    "piece.rests.said": (
        "{estimates} The figure says how closely a value goes with the share that fills: 0 is not "
        "at all, 1 or −1 is wholly. The first moves the answer most: find that one out first."
    ),
    "piece.made": (
        "{alloy}. {draws} pours followed, seed {seed}, pourcast {version}. Text {revision} of "
        "the piece."
    ),
    "piece.run_sheet": "Run sheet for paper",
    "piece.calendar": "The same for the calendar",
    "piece.texts": "The piece file and its earlier texts",
    "piece.no_knob": "This piece has no such knob.",
    "piece.onward": "Onward",
    "piece.book": "Put this plan in the book",
    "piece.book.there": (
        "This plan stands in the book since {day}. After the pour say under Break-out what "
        "came out."
    ),
    "piece.book.said": ("Do this before the pour: the book holds each plan against what came out."),
}
