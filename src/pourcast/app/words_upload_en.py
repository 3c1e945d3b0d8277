"""English of the upload: a piece file, a scan or photographs."""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "upload.title": "Bring a file",
    "upload.faults": "This file has faults, so nothing was taken in.",
    "upload.file": "A piece file",
    "upload.file.said": "A text that ends in .toml, as pourcast new writes it; up to 1 MB.",
    "upload.file.act": "Put it on the shelf",
    "upload.file.pick": "Piece file",
    "upload.scan": "A scan",
    "upload.scan.said": (
        "A closed mesh of the original: STL, PLY, OBJ, 3MF or GLB, z up. Its parts are found and "
        "written as measures that you can put right. It may take a minute."
    ),
    "upload.scan.pick": "File of the scan",
    "upload.scan.beside": "Colours of an OBJ (if you have them)",
    "upload.scan.beside.how": (
        "The material file (.mtl) and the pictures that it names, picked together. STL, PLY, 3MF "
        "and GLB hold theirs themselves. A part comes with its colour."
    ),
    "upload.scan.unit": "Unit of the file",
    "upload.scan.unit.none": "as the file says",
    "upload.scan.gate": "The button goes",
    "upload.scan.gate.lowest": "at the lowest place",
    "upload.scan.gate.highest": "at the highest place",
    "upload.scan.gate.place": "at a place that I name",
    "upload.scan.gate.how": (
        "Where the original meets its wax button: metal enters there, and all ways begin there."
    ),
    "upload.scan.unit.how": "STL, PLY and OBJ do not say it. A wrong one makes all measures wrong.",
    "upload.scan.place": "That place",
    "upload.scan.place.how": (
        "Three numbers as the file has them, in its unit, such as 1.5, 0, 12; with a comma as "
        "decimal sign, put semicolons between them."
    ),
    "upload.material.rod": "What is round is",
    "upload.material.blade": "What is flat is",
    "upload.material.lump": "Lumps are",
    "upload.material.none": "not said",
    "upload.material.scan.how": (
        "What it burns away from: char and ash are reckoned from it. Not said: it is taken for "
        "the usual of its shape, and can be put right in the piece file."
    ),
    "upload.material.photographs.how": (
        "What it burns away from: char and ash are reckoned from it. Each part can be put right "
        "in the piece file."
    ),
    "upload.draft": (
        "What you type is kept as you go. The browser does not keep a file: pick it again."
    ),
    "upload.box_faults": "Some boxes are wrong, so nothing was taken in. Pick the file again.",
    "upload.what.place": "place of the button",
    "upload.what.mark": "length of the bar",
    "upload.what.thickness": "thickness",
    "upload.what.foot": "place of the button",
    "upload.what.foot2": "place of the button",
    "upload.what.foot3": "place of the button",
    "upload.must.place": "three numbers such as 1.5, 0, 12",
    "upload.must.foot": "column and row in the picture, such as 640, 1890",
    "upload.must.foot2": "column and row in the picture, such as 640, 1890",
    "upload.must.foot3": "column and row in the picture, such as 640, 1890",
    "upload.corrections": "Corrections (if you have them)",
    "upload.corrections.how": (
        "A text that names a part by its place, as it stands above the part in the piece file: "
        "[[part]] with at_mm, and name, material, a size, drop = true or join = true. It is kept "
        "for the next file of the same name."
    ),
    "upload.corrections.kept": "Kept, and made again for these names: {names}.",
    "upload.corrections.without": "Leave them out this time",
    "upload.corrections.fault": "line {line}, {what} {text}",
    "upload.corrections.more": "and {number} more",
    "upload.name": "What you call it",
    "upload.act": "Find its parts",
    "upload.photographs": "Photographs",
    "upload.photographs.said": (
        "One photograph, or two a quarter turn apart and perhaps a third half way between, against "
        "a plain light ground, the original upright, with a straight dark bar of known length "
        "beside it."
    ),
    "upload.photographs.first": "Photograph",
    "upload.photographs.second": "After a quarter turn (if you have it)",
    "upload.photographs.third": "Half way between the two (if it is bushy)",
    "upload.photographs.mark": "Length of the bar",
    "upload.photographs.thickness": "Thickness of what is flat (caliper, lightly)",
    "upload.photographs.mark.how": "Of the dark bar in the picture. All measures hang on it.",
    "upload.photographs.thickness.how": "A picture does not show it.",
    "upload.photographs.foot": "Where the button goes, first photograph",
    "upload.photographs.foot2": "Where the button goes, second photograph",
    "upload.photographs.foot3": "Where the button goes, third photograph",
    "upload.photographs.foot.how": (
        "Column and row in the picture, counted in pixels from its upper left corner, such as "
        "640, 1890. Left empty: the lowest place of the original."
    ),
    "taken.title": "Its parts are found",
    "taken.parts.one": "{number} part stands in the piece file.",
    "taken.parts.many": "{number} parts stand in the piece file.",
    "taken.said": (
        "Hold them beside the original before you trust them: what was not seen was not measured."
    ),
    "taken.picture.scan": "Three views of the parts, each with its number",
    "taken.picture.photographs": "Photograph {number} with the parts that were read from it",
    "taken.picture.how": "Open it to see it large.",
    "taken.corrections": "Put right what is wrong",
    "taken.corrections.found.none": "No correction found its part.",
    "taken.corrections.found.one": "{number} correction found its part.",
    "taken.corrections.found.many": "{number} corrections found their parts.",
    "taken.corrections.kept": (
        "They are kept, and made again when you bring another file of {name}. To change them, "
        "take the file, edit it and bring it with the next."
    ),
    "taken.corrections.file": "Take the file of corrections",
    "taken.corrections.how": (
        "Open a part, by its number or name in the picture. A box that is left empty stays as "
        "it was measured. What you put right is made again for the next file of this piece."
    ),
    "taken.corrections.worked_on": (
        "The piece was worked on since, so what you put right here makes a second piece on the "
        "shelf, and the first stays as it is."
    ),
    "taken.corrections.faults": "Some boxes are wrong, so nothing was changed.",
    "taken.corrections.act": "Put it right",
    "taken.gone": (
        "What was measured on this piece is no longer at hand. Bring its file again: what you "
        "put right is kept, and made again."
    ),
    "taken.part.on": "on {parent}",
    "taken.part.button": "the button",
    "taken.part.name": "Name",
    "taken.part.fate": "This part",
    "taken.part.fate.found": "is there, as found",
    "taken.part.fate.drop": "is not there",
    "taken.part.fate.join": "is a piece of what it grows on",
    "taken.part.fate.keep": "is there, whatever the group says",
    "taken.part.fate.group": "as the group in the corrections says",
    "taken.part.length": "Length",
    "taken.part.diameter": "Diameter",
    "taken.part.width": "Width",
    "taken.part.thickness": "Thickness",
    "taken.part.taper.how": (
        "Of a taper write base and tip with a semicolon between them, such as 1.2; 0.8."
    ),
    "taken.part.taper": "{base} to {tip}",
    "taken.part.material": "Made of",
    "taken.part.material.none": "as said with the file",
    "taken.lost": "These found no part:",
    "taken.lost.part": "the part at {at} mm {name}",
    "taken.lost.group": "a group that means no part {name}",
    "taken.texts": "Look over the piece file",
    "taken.piece": "To the piece",
}
