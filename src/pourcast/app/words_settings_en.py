"""English of the page on the studio: figures, phones, flasks and money."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "settings.title": "This studio",
    "settings.look": "How figures and days are written",
    "settings.lengths": "Lengths without a unit are in",
    "settings.lengths.mm": "millimetres",
    "settings.lengths.in": "inches",
    "settings.decimal": "Figures are written with a",
    "settings.decimal.point": "point: 2.5",
    "settings.decimal.comma": "comma: 2,5",
    "settings.days": "A day is written",
    "settings.days.year first": "2026-03-01",
    "settings.days.day first": "1.3.2026",
    "settings.days.month first": "3/1/2026",
    "settings.look.where": (
        "These hold on the shelf, the sheet of measures, the book, the store and the values. "
        "The page of a piece follows too, but writes days in words, such as Sat 28 Nov."
    ),
    "settings.keep": "Keep",
    "settings.kept": "Kept.",
    "settings.money": "Money",
    "settings.currency": "Currency, by its three letters (ISO 4217)",
    "settings.rate": "An hour of work is worth",
    "settings.margin": "Put on top of the cost for a client, as a share",
    "settings.least": "Say that stock runs low below, in g of {kind}",
    "settings.kind.metal": "metal",
    "settings.kind.powder": "powder",
    "settings.kind.wax": "wax",
    "settings.flasks": "Flasks on the shelf",
    "settings.flask.name": "Name",
    "settings.flask.inside": "Inside, mm",
    "settings.flask.height": "Height, mm",
    "settings.flask.wall": "Wall",
    "settings.flask.count": "How many",
    "settings.flask.add": "Put it on the list",
    "settings.flask.none": "No flask is listed yet.",
    "settings.wall.solid": "solid",
    "settings.wall.perforated": "perforated",
    "settings.phones": "Phones",
    "settings.phones.off": ("Phones can join when the pages are opened with: pourcast open --lan"),
    "settings.phones.said": "A phone on the same network can look in once it is joined.",
    "settings.phones.invite": "Join a phone",
    "settings.phones.code": (
        "Point the phone at the picture, or open {address} on it and type {code}. "
        "It lets one phone in, within ten minutes."
    ),
    "settings.phones.picture": "A picture for the camera of the phone",
    "settings.phones.stop": "Close it again",
    "settings.phones.none": "No phone is joined.",
    "settings.phones.one": "{name}, joined {day}",
    "settings.phones.forget": "Forget it",
    "settings.phones.care": (
        "Take care: this goes over the network as plain text. Others on the same network can "
        "read along. Use a network of your own, such as the hotspot of the phone."
    ),
    "settings.phones.laptop": "The list of phones is shown on the laptop itself.",
    "settings.phones.for": "It is for a phone of {name}.",
    "settings.phones.whose": "Whose phone",
    "settings.phones.of": "{name}, of {user}, joined {day}",
    "settings.users": "Who works in this book",
    "settings.users.none": (
        "Nobody is listed, so whoever joins may do all that a phone can. The first to be listed "
        "must be an owner."
    ),
    "settings.users.name": "Name",
    "settings.users.role": "Role",
    "settings.users.role.owner": "Owner: does everything, and says who may do what",
    "settings.users.role.maker": "Maker: pieces, plans, days and outcomes",
    "settings.users.role.reader": "Reader: looks and prints, changes nothing",
    "settings.users.short.owner": "owner",
    "settings.users.short.maker": "maker",
    "settings.users.short.reader": "reader",
    "settings.users.col.since": "Since",
    "settings.users.col.do": "Change",
    "settings.users.add": "Put on the list",
    "settings.users.change": "Change the role",
    "settings.users.forget": "Forget",
    "settings.users.new_role": "New role of {name}",
    "settings.users.said": (
        "A user’s phones join by a code that is made for that user. Who is forgotten is shut out "
        "at once; what they wrote keeps their name. This machine itself is an owner's."
    ),
    "settings.shared": "The book is shared, at {place}.",
    "settings.data": "All of it lies in {folder}.",
}
