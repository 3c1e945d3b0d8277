"""English of kiln day."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "day.title": "Kiln day",
    "day.which": "Whose kiln day is it?",
    "day.none": (
        "No plan with a kiln is kept in the book yet. Open a piece, keep its plan, then come back."
    ),
    "day.begin": "Begin the day",
    "day.begin.at": "The block goes into the kiln at",
    "day.begin.which": "Piece",
    "day.begin.bad": "Write a day and a time, such as 2026-12-05 05:00.",
    "day.going": "Days that were begun",
    "day.went_in": "went in {day} at {time}",
    "day.now": "Now {time}. Next, {far}",
    "day.nothing_next": "Now {time}. Nothing more is planned.",
    "day.in_minutes": "in {minutes} minutes",
    "day.in_hours": "in {hours} h {minutes}",
    "day.due": "now",
    "day.overdue": "{minutes} minutes ago",
    "day.turn_to": "Turn to {setting}",
    "day.hold_at": "Hold at {temperature}",
    "day.rise_from": "Rise from {temperature}",
    "day.fall_from": "Come down from {temperature}",
    "day.then": "Then",
    "day.reads.kiln": "The kiln reads",
    "day.place": "Which thermometer",
    "day.place.kiln": "kiln",
    "day.place.wall": "flask",
    "day.place.core": "block",
    "day.place.metal": "metal",
    "day.expected": "{temperature} is what we expect now.",
    "day.step": "{by} degrees",
    "day.write": "Write it down",
    "day.ago": "Minutes ago, if not just now",
    "day.acts": "What I did",
    "day.setting": "Dial to",
    "day.turned": "Turned it",
    "day.act.out": "Took it out",
    "day.act.blew": "Blew it out",
    "day.act.in": "Back in",
    "day.act.sealed": "Set down, sealed",
    "day.act.lit": "Lit the furnace",
    "day.act.molten": "Metal is ready",
    "day.act.poured": "Poured",
    "day.act.quenched": "Quenched",
    "day.act.undo": "Take the last act back",
    "day.line": "Or in words",
    "day.line.as": "such as: {line}",
    "day.runs.on_time": "The day runs on time",
    "day.runs.late": "The day runs {span} late",
    "day.runs.early": "You are {span} ahead",
    "day.was": "was {time}",
    "day.between": "between {low} and {high}",
    "day.done": "done",
    "day.is_now": "now",
    "day.not_today": "not in this day, as it looks",
    "day.order": "One furnace, several flasks: in this order",
    "day.again": "The day once more",
    "day.again.said": (
        "What was read and done by each moment, and what was said of the day then. It goes by the "
        "times of the readings, not by when they were written down."
    ),
    "day.again.slider": "Time since the block went in",
    "day.again.value": "{hours} h {minutes} after the block went in",
    "day.again.back": "Earlier",
    "day.again.on": "Later",
    "day.again.play": "Let it run",
    "day.again.show": "Show",
    "day.then.at": "As it looked at {time}",
    "day.longer": "What would it do to hold the hottest step longer?",
    "day.longer.by": "{hours} h longer",
    "day.questioned": "This reading does not fit: {reading} at {time}. Is it right?",
    "day.right": "It is right",
    "day.wrong": "It is wrong",
    "day.found": "Take note",
    "day.pour": "The pour",
    "day.curve": "Readings on the curve",
    "day.log": "All that was read and done",
    "day.joined": (
        "Joined to the studio laptop. If the link drops, what you write waits on this phone and "
        "the page says so."
    ),
    "day.lost": "Not joined since {time}. {number} written here wait on this phone.",
    "day.alarms": "Alarms for the calendar",
    "day.instrument": "A thermometer of its own",
    "day.instrument.said": (
        "A small program may send readings: POST {address} with the line "
        "“Authorization: Bearer …” and a body such as "
        "{example}. Make a token for this day; the one before it then opens nothing any more."
    ),
    "day.instrument.make": "Make a token",
    "day.instrument.token": "Write it down now, it is not shown again: {token}",
    "day.poured_on": "Poured on {day}, by the book.",
    "day.begun.poured": "poured {day}",
    "day.begun.mistaken": "Begun by mistake",
    "day.mistake": "Was the day begun on the wrong piece?",
    "day.mistake.said": (
        "Then say so, and begin the right one. This piece stands as before, out of the kiln. All "
        "that was read and done stays in the book, counts for nothing, and can be looked at here."
    ),
    "day.mistake.wrong": "This day was begun by mistake",
    "day.mistaken": "Begun by mistake",
    "day.mistaken.said": (
        "It began on {day} at {time}, and was said to be a mistake on {said_day} at {said_time}. "
        "It counts for nothing; this piece is not in the kiln."
    ),
    "day.mistaken.other": "Begin the right day",
    "day.mistaken.log": "What was read and done",
    "day.mistaken.again": (
        "What is of another piece goes into its day by hand, with its time: “kiln 240 C 06:40”."
    ),
    "day.mistaken.not": "Was it no mistake?",
    "day.mistaken.right": "This day is right: count it again",
    "day.to_breakout": "To the break-out",
    "day.care": "Take care.",
}
