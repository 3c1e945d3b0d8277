"""English of the pages: the frame, the door and the shelf; other pages have files of their own."""

import importlib
import importlib.util
from collections.abc import Mapping

_BASE: Mapping[str, str] = {
    "lang": "en",
    "base.skip": "Go to the page",
    "base.pages": "Pages",
    "base.more": "More pages",
    "base.demo": "invented demo",
    "base.home": "pourcast",
    "nav.shelf": "Shelf",
    "nav.piece": "Piece",
    "nav.day": "Kiln day",
    "nav.breakout": "Break-out",
    "nav.book": "Book",
    "nav.store": "Store",
    "nav.values": "Values",
    "nav.settings": "This studio",
    "level.STOP": "Stop.",
    "level.WATCH": "Watch.",
    "level.GOOD": "Good.",
    "guard.host": "This address is not one of this program’s own.",
    "guard.method": "This cannot be asked of a page.",
    "guard.origin": "This came from another page, so nothing was changed.",
    "guard.join_first": "This phone is not joined to the laptop yet.",
    "guard.too_often": "Too many requests. Wait a little.",
    "guard.too_long": "This is too long; at most {most} can be taken.",
    "guard.fault": "Something went wrong in the program. Nothing that was kept is lost.",
    "guard.token": "This form was opened too long ago, or on another device.",
    "guard.reader": "You look in as a reader, so nothing was changed.",
    "guard.owner_only": "Only an owner of this book can change that, so nothing was changed.",
    "guard.no_book": "The server of the book does not answer. Nothing was changed.",
    "base.reader": "You look in as {name}, a reader: nothing can be changed from here.",
    "guard.link": "To the shelf",
    "guard.join": "Join it",
    "guard.page": (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        "<title>{title}</title></head><body><main><h1>{title}</h1>"
        '<p><a href="{path}">{link}</a></p></main></body></html>'
    ),
    "fault.title": "That did not work",
    "fault.not_there": "There is no such page.",
    "fault.back": "Back to the shelf",
    "fault.form": "This was not understood: {places}.",
    "fault.conflict": "Changed elsewhere",
    "fault.conflict.said": (
        "This piece was changed on another device or in another window after you opened it. "
        "Nothing was written over. Yours is on the left, what stands now on the right."
    ),
    "fault.conflict.who": "{who} kept text {revision} on {day} at {time} UTC.",
    "fault.conflict.changed": "What changed in it (- went, + came)",
    "fault.conflict.aside": "Yours is kept aside with the texts of the piece, whatever you choose.",
    "fault.conflict.yours": "Yours, made from text {base}",
    "fault.conflict.theirs": "What stands now, text {revision}",
    "fault.conflict.put": "Put mine in its place (the other stays among the earlier texts)",
    "fault.conflict.leave": "Leave what stands",
    "number.1": "one",
    "number.2": "two",
    "number.3": "three",
    "number.4": "four",
    "number.5": "five",
    "number.6": "six",
    "number.7": "seven",
    "number.8": "eight",
    "number.9": "nine",
    "number.10": "ten",
    "number.11": "eleven",
    "number.12": "twelve",
    "guard.only_laptop": "Only the laptop itself can do this.",
    "serve.at": "The pages: {address}",
    "serve.first": (
        "This is the first start: what is worked out often is compiled now, once. The first "
        "forecast takes a minute or two."
    ),
    "serve.book": "The book: {place}",
    "serve.end": "They stay open until you press Ctrl-C.",
    "serve.no_network": "This machine is on no network, so no phone can join.",
    "serve.join": (
        "To join a phone on the same network within ten minutes, point its camera at the "
        "picture, or open {plain} and type {code}"
    ),
    "serve.care": (
        "Take care: this goes over the network as plain text. Others on the same network can "
        "read along. Use a network of your own, such as the hotspot of the phone."
    ),
}

_FILES = (
    "shelf",
    "new",
    "upload",
    "values",
    "settings",
    "book",
    "store",
    "piece",
    "cells",
    "compare",
    "day",
    "breakout",
    "tests",
)
"""Pages with a catalogue of their own, ``words_<page>_en.py``."""


def _all() -> Mapping[str, str]:
    words = dict(_BASE)
    for page in _FILES:
        name = f"pourcast.app.words_{page}_en"
        if importlib.util.find_spec(name):
            words.update(importlib.import_module(name).WORDS)
    return words


WORDS: Mapping[str, str] = _all()
