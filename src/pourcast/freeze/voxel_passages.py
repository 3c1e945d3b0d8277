"""Passages: the segments of a network as tapers with a place, and which of them are thin.

A segment is thin where its least way across, at its middle, is less than three
cells: cells cannot show it well, and `pourcast.freeze.stacks` takes it.  A steep taper
(the round end of a lump) goes with the thickest of its member.

An end is moved out where the surface would gape: at a bend of the angle d by
half of the section times tan(d/2); at the base of a member by one cell and half of
its thickness, into its parent, where the cells are metal already.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_distance import COLUMNS
from pourcast.piece.model import RECTANGLE, Button, Network

THIN_BELOW = 3.0  # cells; measured: a rod of 2 cells may freeze 30 % off, one of 3 cells 14 %
_STEEP = 0.5  # fall of the thickness over the length; a round end of a lump is steeper
_LEAST_LENGTH = 1e-9  # m


@dataclass(frozen=True, slots=True, kw_only=True)
class Passages:
    """The segments of a network as tapers.

    Parameters
    ----------
    rows : array [by column], shape (segments, COLUMNS)
        As `pourcast.freeze.voxel_distance.nearest_passage` takes them.
    volume : array [m³], shape (segments,)
    section_area, girth : array [m²] and [m], shape (segments,)
        At the middle.
    least : array [m], shape (segments,)
        Least way across, at the middle.
    part : array of int, shape (segments,)
    thin : array of bool, shape (segments,)
    present : array of bool, shape (segments,)
        Metal reached it.
    """

    rows: si.Table
    volume: si.CubicMetres
    section_area: si.SquareMetres
    girth: si.Metres
    least: si.Metres
    part: si.Integers
    thin: si.Booleans
    present: si.Booleans


def passages_of(network: Network, voxel: si.Metre, filled: si.Ratios | None = None) -> Passages:
    """Return the segments of a network as tapers.

    Parameters
    ----------
    network : Network
    voxel : float [m]
    filled : array or None [-], shape (segments,)

    Returns
    -------
    Passages
    """
    count = network.length.size
    line = network.end_position - network.start_position
    reach = np.maximum(np.linalg.norm(line, axis=1), _LEAST_LENGTH)
    direction = line / reach[:, None]
    across = _square_to(direction, network.across)
    width, thickness = network.width, network.thickness
    middle_width, middle_thickness = width.mean(axis=1), thickness.mean(axis=1)
    flat = network.section == RECTANGLE
    least = np.minimum(middle_width, middle_thickness)
    slope = np.abs(np.diff(thickness, axis=1)[:, 0]) / np.maximum(network.length, _LEAST_LENGTH)
    members = network.member_part.size
    thickest = np.zeros(members)
    np.maximum.at(thickest, network.member, least)
    judged = np.where(slope > _STEEP, thickest[network.member], least)

    rows = np.zeros((count, COLUMNS))
    rows[:, 0:3] = network.start_position
    rows[:, 3:6] = direction
    rows[:, 6:9] = across
    rows[:, 9] = reach
    rows[:, 10:12] = width / 2
    rows[:, 12:14] = thickness / 2
    rows[:, 16] = network.section
    rows[:, 17] = np.cos(np.arctan(np.diff(width, axis=1)[:, 0] / 2 / reach))
    rows[:, 18] = np.where(
        (network.width == network.thickness).all(axis=1),
        1.0,  # a round taper leans once, not twice
        np.cos(np.arctan(np.diff(thickness, axis=1)[:, 0] / 2 / reach)),
    )
    thin = judged < THIN_BELOW * voxel
    present = np.ones(count, dtype=np.bool_) if filled is None else filled >= 0.5
    _move_ends(rows, network, direction, voxel, present & ~thin)
    box = (
        network.length
        * (
            2 * width[:, 0] * thickness[:, 0]
            + width[:, 0] * thickness[:, 1]
            + width[:, 1] * thickness[:, 0]
            + 2 * width[:, 1] * thickness[:, 1]
        )
        / 6
    )
    a, b = middle_width / 2, middle_thickness / 2
    # Ramanujan (1914), first formula of the girth of an ellipse, from memory.
    ellipse = np.pi * (3 * (a + b) - np.sqrt((3 * a + b) * (a + 3 * b)))
    shape = np.where(flat, 1.0, np.pi / 4)
    return Passages(
        rows=rows,
        volume=box * shape,
        section_area=middle_width * middle_thickness * shape,
        girth=np.where(flat, 2 * (middle_width + middle_thickness), ellipse),
        least=least,
        part=network.member_part[network.member],
        thin=thin,
        present=present,
    )


def button_row(button: Button, voxel: si.Metre) -> tuple[si.Table, si.CubicMetre]:
    """Return the button as a taper that stands on the gate, and its volume.

    Parameters
    ----------
    button : Button
    voxel : float [m]

    Returns
    -------
    rows : array [by column], shape (1, COLUMNS)
    volume : float [m³]
    """
    row = np.zeros((1, COLUMNS))
    row[0, 5] = row[0, 6] = 1.0
    row[0, 9] = button.height
    row[0, 10] = row[0, 12] = button.gate_diameter / 2
    row[0, 11] = row[0, 13] = button.diameter / 2
    row[0, 15] = voxel
    slope = (button.diameter - button.gate_diameter) / 2 / button.height
    row[0, 17], row[0, 18] = 1.0 / np.hypot(1.0, slope), 1.0
    first, last = button.gate_diameter, button.diameter
    return row, np.pi * button.height * (first * first + first * last + last * last) / 12


def _square_to(direction: si.Ratios, across: si.Ratios | None) -> si.Ratios:
    if across is None:
        # Any direction that is not along the part will do for round sections.
        across = np.zeros_like(direction)
        across[np.arange(direction.shape[0]), np.abs(direction).argmin(axis=1)] = 1.0
    square = across - (across * direction).sum(axis=1)[:, None] * direction
    return np.asarray(square / np.linalg.norm(square, axis=1)[:, None])


def _move_ends(
    rows: si.Table,
    network: Network,
    direction: si.Ratios,
    voxel: si.Metre,
    in_cells: si.Booleans,
) -> None:
    half = np.maximum(network.width, network.thickness) / 2
    follows = np.zeros(network.length.size, dtype=np.bool_)
    follows[1:] = (network.member[1:] == network.member[:-1]) & (
        network.start[1:] == network.end[:-1]
    )
    rows[:, 14] = np.where(follows, 0.0, voxel + network.thickness[:, 0] / 2)
    bend = np.flatnonzero(follows)
    cosine = np.clip((direction[bend] * direction[bend - 1]).sum(axis=1), -1.0, 1.0)
    # Beyond a right angle the mitre would grow without end.
    gape = np.minimum(np.tan(np.minimum(np.arccos(cosine), np.pi / 2) / 2), 1.0)
    rows[bend, 14] = half[bend, 0] * gape
    rows[bend - 1, 15] = half[bend - 1, 1] * gape
    on = bend[in_cells[bend] & in_cells[bend - 1]]
    rows[on, 19] = rows[on - 1, 20] = 1.0
