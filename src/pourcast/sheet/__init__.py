"""Sheet: what the caster wrote in the piece file, and whether it is whole."""

from pourcast.sheet.new import new_sheet
from pourcast.sheet.read import read_plan
from pourcast.sheet.text import decode

__all__ = ["decode", "new_sheet", "read_plan"]
