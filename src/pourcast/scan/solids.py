"""Solids: how much each part of a scan comes to, as the piece file will hold it.

The parts are written as rods, blades and lumps of a piece file, so their volumes are those of
`pourcast.piece`, and they are worked out from the poses: a lump is cut off by what it grows on
and by what stands on its tip.
"""

from dataclasses import replace

from pourcast import units as si
from pourcast.piece.lumps import lump_volume
from pourcast.piece.solids import flat_taper_volume, round_taper_volume
from pourcast.scan.model import ScannedPart
from pourcast.scan.poses import Pose, posed


def with_volumes(parts: tuple[ScannedPart, ...]) -> tuple[ScannedPart, ...]:
    """Return the parts, each with the volume that the piece file will hold.

    Parameters
    ----------
    parts : tuple of ScannedPart
        Each after its parent.

    Returns
    -------
    tuple of ScannedPart
    """
    poses = posed(parts) if parts else ()
    return tuple(replace(pose.part, volume=_volume(pose)) for pose in poses)


def _volume(pose: Pose) -> si.CubicMetre:
    part = pose.part
    if part.shape == "rod":
        return round_taper_volume(part.length, *part.width)
    if part.shape == "blade":
        return flat_taper_volume(part.length, part.width, part.thickness)
    return lump_volume(part.length, part.width[0], part.thickness[0], pose.base, pose.tip)
