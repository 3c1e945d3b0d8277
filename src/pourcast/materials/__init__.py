"""What is it made of: material values with their range, kind and source."""

from pourcast.materials.draws import draw, quantile
from pourcast.materials.facts import Burns, Fact, Matter, caution, caution_key
from pourcast.materials.load import alloy, library
from pourcast.materials.model import Group, Library, Material, Value
from pourcast.materials.names import plain

__all__ = [
    "Burns",
    "Fact",
    "Group",
    "Library",
    "Material",
    "Matter",
    "Value",
    "alloy",
    "caution",
    "caution_key",
    "draw",
    "library",
    "plain",
    "quantile",
]
