"""English of the shelf, of joining a phone, and of the texts of a piece."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "shelf.title": "The shelf",
    "shelf.head.none": "Nothing stands here yet.",
    "shelf.wait.one": "One waits.",
    "shelf.wait.many": "{number} wait.",
    "shelf.poured.one": "One is poured.",
    "shelf.poured.many": "{number} are poured.",
    "shelf.key": (
        "Ink: poured and whole. Brown: poured, something short. Outline: the original itself, "
        "still here."
    ),
    "shelf.to_pour": "Still to pour",
    "shelf.poured": "Poured",
    "shelf.drafts": "Half filled in",
    "shelf.draft": "{name}, last written to {day}",
    "shelf.draft.no_name": "a sheet without a name",
    "shelf.in_book": "In the book, without a place on the shelf",
    "shelf.in_book.put": "Put it on the shelf",
    "shelf.new": "A new piece",
    "shelf.new.from": "from measures",
    "shelf.new.from_all": "from measures, a scan or photographs",
    "shelf.chance": "{whole} of 100 whole",
    "shelf.was": "forecast was {whole}",
    "shelf.not_worked_out": "not worked out yet",
    "shelf.faults": "its file has faults: open it",
    "shelf.not_kept": "not kept in the book yet",
    "shelf.kept": "plan kept {day}",
    "shelf.changed_since": "changed since its plan was kept",
    "shelf.came.whole": "came out whole",
    "shelf.came.short": "came short",
    "shelf.came.missing": "parts are missing",
    "shelf.came.not seen": "not looked at yet",
    "shelf.came.none": "poured {day}; what came out is not told yet",
    "shelf.picture": "{name} as it stands on its button",
    "shelf.more": "Further pieces",
    "shelf.back": "Earlier on the shelf",
    "join.title": "Join this phone",
    "join.said": "Type the code that the laptop shows.",
    "join.code": "Code",
    "join.name": "What this phone is called on the list",
    "join.name.usual": "phone",
    "join.act": "Join",
    "join.wrong": "That was not the code, or it has run out. The laptop shows a new one.",
    "join.tries.one": "One try is left for now.",
    "join.tries.many": "{number} tries are left for now.",
    "join.tries.none": "No try is left for now. Wait ten minutes.",
    "join.care": (
        "Take care: this goes over the network as plain text. Others on the same network can "
        "read along."
    ),
    "join.done": "This phone is joined.",
    "texts.by": "by {who}",
    "texts.asides": "Texts that had no place",
    "texts.asides.said": (
        "Another text was kept first when these were written. Nothing of them is in the piece."
    ),
    "texts.aside": "made from text {revision}, {day}",
    "texts.title": "Texts of {name}",
    "texts.said": "Each change is kept. An earlier text can be put back; nothing is lost by it.",
    "texts.text": "Text {revision}",
    "texts.now": "stands now",
    "texts.put_back": "Put text {revision} back",
    "texts.edit": "The piece file",
    "texts.edit.said": "As it stands. Each key says its unit; a text may say another.",
    "texts.keep": "Keep this text",
    "texts.to_piece": "To the piece",
    "texts.file": "Save the file",
}
