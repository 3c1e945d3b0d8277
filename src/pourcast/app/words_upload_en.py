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
    "upload.scan.unit": "Unit of the file",
    "upload.scan.unit.none": "as the file says",
    "upload.scan.gate": "The button goes",
    "upload.scan.gate.lowest": "at the lowest place",
    "upload.scan.gate.highest": "at the highest place",
    "upload.name": "What you call it",
    "upload.act": "Find its parts",
    "upload.photographs": "Photographs",
    "upload.photographs.said": (
        "One photograph, or two a quarter turn apart, against a plain light ground, the original "
        "upright, with a straight dark bar of known length beside it."
    ),
    "upload.photographs.first": "Photograph",
    "upload.photographs.second": "After a quarter turn (if you have it)",
    "upload.photographs.mark": "Length of the bar",
    "upload.photographs.thickness": "Thickness of what is flat (caliper, lightly)",
    "upload.photographs.leaf": "What is flat is",
    "upload.photographs.stalk": "What is round is",
    "taken.title": "Its parts are found",
    "taken.parts.one": "{number} part stands in the piece file.",
    "taken.parts.many": "{number} parts stand in the piece file.",
    "taken.said": (
        "Hold them beside the original before you trust them: what was not seen was not measured."
    ),
    "taken.texts": "Look over the piece file",
    "taken.piece": "To the piece",
}
