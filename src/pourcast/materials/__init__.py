"""What is it made of: material values with their range, kind and source."""

from pourcast.materials.draws import draw, quantile
from pourcast.materials.load import alloy, library
from pourcast.materials.model import Fact, Group, Library, Material, Value

__all__ = [
    "Fact",
    "Group",
    "Library",
    "Material",
    "Value",
    "alloy",
    "draw",
    "library",
    "quantile",
]
