"""What the reader of photographs takes and what it gives.

A place in a picture is (column, row), counted from the middle of the first
pixel; a place on the bench is x to the right, y away from the first camera and
z up, from the foot of the original.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, TypeAlias

import numpy as np
from numpy.typing import NDArray

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.piece.model import USUAL_MATERIALS, Shape

Pixel: TypeAlias = Annotated[float, si.Unit("px")]
Pixels: TypeAlias = Annotated[si.Floats, si.Unit("px")]
Greys: TypeAlias = NDArray[np.uint8]


CALIPER = 0.05
"""Share by which nine of ten read off with a caliper on soft matter; estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A straight dark bar of known length, to be found in the picture.

    Parameters
    ----------
    length : float [m]
    """

    length: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoPoints:
    """Two places of the picture and how far apart they are on the bench.

    Parameters
    ----------
    first, second : pair of float [px]
        Column and row in the file.
    length : float [m]
    """

    first: tuple[Pixel, Pixel]
    second: tuple[Pixel, Pixel]
    length: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class PerPixel:
    """The width of a pixel on the bench, known beforehand.

    Parameters
    ----------
    size : float [m]
    """

    size: si.Metre


ScaleGiven: TypeAlias = Mark | TwoPoints | PerPixel


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """How large a pixel is in the plane of the mark.

    Parameters
    ----------
    size : float [m]
    error : float [-]
        One standard deviation of the reading, over the size.
    mark : tuple of pair of float [px] or None
        Ends of the mark as found or given.
    """

    size: si.Metre
    error: si.Ratio
    mark: tuple[tuple[Pixel, Pixel], tuple[Pixel, Pixel]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Thickness:
    """Thickness of a class of part, measured by the caster or usual for its matter.

    Parameters
    ----------
    value, low, high : float [m]
    material : str
        Key of a plant or wax record.
    measured : bool
        True if the caster read it with a caliper.
    """

    value: si.Metre
    low: si.Metre
    high: si.Metre
    material: str
    measured: bool

    @classmethod
    def by_caliper(cls, value: si.Metre, material: str) -> "Thickness":
        """Return a thickness that was measured, as sure as `CALIPER` says.

        Parameters
        ----------
        value : float [m]
        material : str
        """
        return cls(
            value=value,
            low=(1.0 - CALIPER) * value,
            high=(1.0 + CALIPER) * value,
            material=material,
            measured=True,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the caster says beside the pictures.

    Parameters
    ----------
    name : str
        Of the piece.
    scales : tuple of Mark, TwoPoints or PerPixel
        One for each photograph.
    leaf : Thickness
        Of what is flat; its material too.
    stalk, bud : str
        Key of the record that rods and lumps are made of.
    camera : float or None [m]
        From the lens to the plane of the mark.
    flat : bool
        True if the original lies in one plane, square to the camera, so that nothing is longer
        than it looks.
    foot : tuple of pair of float [px] or None
        Where the original meets its button, one for each photograph; None: the lowest.
    """

    name: str
    scales: tuple[ScaleGiven, ...]
    leaf: Thickness
    stalk: str = USUAL_MATERIALS["rod"]
    bud: str = USUAL_MATERIALS["lump"]
    camera: si.Metre | None = None
    flat: bool = False
    foot: tuple[tuple[Pixel, Pixel] | None, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Silhouette:
    """The original of one photograph, cut out.

    Parameters
    ----------
    light : array [-], shape (rows, columns)
        Over that of the ground; the original is dark.
    inside : array of bool, shape (rows, columns)
    contrast : float [-]
        Ground less original, over the ground.
    loose : int
        Pieces that do not touch the largest.
    reduced : int
        Pixels of the file along one side of a pixel here.
    """

    light: si.Ratios
    inside: si.Booleans
    contrast: si.Ratio
    loose: int
    reduced: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A stretch of a stick that is one part: a straight taper or a lump.

    Parameters
    ----------
    shape : {"rod", "blade", "lump"}
    start, end : float [px]
        Along the middle line of the stick, from its base.
    width : pair of float [px]
        At start and end; of a lump its largest, twice.
    error : float [px]
        One standard deviation of the width.
    """

    shape: Shape
    start: Pixel
    end: Pixel
    width: tuple[Pixel, Pixel]
    error: Pixel


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A line of parts that go on from each other, in one picture.

    Parameters
    ----------
    parent : int
        Among the sticks of the picture; -1: the foot.
    line : array [px], shape (places, 2)
        Middle line from base to tip, smoothed; columns and rows.
    along : array [px], shape (places,)
        Way from the base.
    width : array [px], shape (places,)
        Square to the line; nan where another part is in the way.
    fork : float [px]
        Where its line meets the middle line of the parent, along the parent.
    on_parent : float [px]
        Where along the parent it leaves the surface.
    hidden : float [px]
        How much of its line, from the fork, lies in the parent.
    sections : tuple of Section
    joined : int
        Stick that its tip runs into; -1: none.
    """

    parent: int
    line: Pixels
    along: Pixels
    width: Pixels
    fork: Pixel = 0.0
    on_parent: Pixel = 0.0
    hidden: Pixel = 0.0
    sections: tuple[Section, ...] = ()
    joined: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What one photograph shows.

    Parameters
    ----------
    scale : Scale
    foot : pair of float [px]
    sticks : tuple of Stick
        A parent before its children.
    crossings : tuple of pair of float [px]
        Where two sticks cross in the picture.
    silhouette : Silhouette
    """

    scale: Scale
    foot: tuple[Pixel, Pixel]
    sticks: tuple[Stick, ...]
    crossings: tuple[tuple[Pixel, Pixel], ...]
    silhouette: Silhouette


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """How far away from the camera a stick begins and ends.

    Parameters
    ----------
    fork, tip : float [m]
        Over the plane of the mark, away from the camera that shows it.
    low, high : float [m]
        Of the tip; nine of ten of what the other pictures leave.
    same : int
        Stick of the other picture that has the same tip; -1: none.
    bow : float [m]
        Of its middle, over that of the straight line between fork and tip.
    off, apart : float [m]
        By which another picture shows its line beside it, and its end elsewhere.
    """

    fork: si.Metre
    tip: si.Metre
    low: si.Metre
    high: si.Metre
    same: int
    bow: si.Metre = 0.0
    off: si.Metre = 0.0
    apart: si.Metre = 0.0

    def along(self, share: si.Ratios) -> si.Metres:
        """Return the depth of places along the stick.

        Parameters
        ----------
        share : array [-], any shape
            Of its length in the picture, from the fork.

        Returns
        -------
        array [m], shape of ``share``
        """
        straight = self.fork + (self.tip - self.fork) * share
        return straight + 4.0 * self.bow * share * (1.0 - share)


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoPart:
    """One part as it was read.

    Parameters
    ----------
    name : str
    parent : int
        Among the parts; -1: the button.
    shape : {"rod", "blade", "lump"}
    length : float [m]
    length_error : float [-]
        One standard deviation, over the length.
    longest : float [m]
        19 of 20 are shorter; the same as the length where two views agree.
    width, thickness : pair of float [m]
    section_error : float [-]
        One standard deviation of width and thickness, over them.
    at : float [-]
    angle, turn, bend : float [rad]
    material : str
    seen_twice : bool
    view, stick, section : int
        Where it comes from.
    middle : tuple of float [m]
        Of its line, on the bench: x, y and z from the foot.
    """

    name: str
    parent: int
    shape: Shape
    length: si.Metre
    length_error: si.Ratio
    longest: si.Metre
    width: tuple[si.Metre, si.Metre]
    thickness: tuple[si.Metre, si.Metre]
    section_error: si.Ratio
    at: si.Ratio
    angle: si.Radian
    turn: si.Radian
    bend: si.Radian
    material: str
    seen_twice: bool
    view: int
    stick: int
    section: int
    middle: tuple[si.Metre, si.Metre, si.Metre]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """All that one to three photographs give.

    Parameters
    ----------
    name : str
    parts : tuple of PhotoPart
        A parent before its children.
    views : tuple of View
    findings : tuple of Finding
    notes : dict of int to str
        By part: what the caster should look at.
    """

    name: str
    parts: tuple[PhotoPart, ...]
    views: tuple[View, ...]
    findings: tuple[Finding, ...]
    notes: Mapping[int, str] = field(default_factory=dict)
