"""Checks: what the photographs tell the caster, and what they cannot show.

Limits, all estimates: nine of ten lengths within 15 % or the caster is told;
a mark that is read to 2 %; sharp enough if the thinnest part is 8 pixels wide;
neighbours closer than 1 mm, where slurry may not enter (common practice, no
source).
"""

from collections.abc import Sequence

import numpy as np
from scipy import ndimage

from pourcast import units as si
from pourcast.findings import Finding, Kind, Level
from pourcast.photo.model import PhotoPart, View

_LEAST_PIXELS = 8.0
_LEAST_GAP = 1.0e-3  # m
_ROUGH_SCALE = 0.02
_LONGER = 1.15
_OF_100 = {
    2: "8 were missed and 13 were told that are not there",
    3: "6 were missed and 11 were told that are not there",
}
"""Measured on seeds 4000 to 4023; see docs/photographs.md."""


def findings(
    views: Sequence[View], parts: Sequence[PhotoPart], *, camera: si.Metre | None
) -> tuple[Finding, ...]:
    """Tell the caster what was not seen or is not sure.

    Parameters
    ----------
    views : sequence of View
    parts : sequence of PhotoPart
    camera : float or None [m]

    Returns
    -------
    tuple of Finding
    """
    return (
        *_depth(views, parts),
        *_crossings(views),
        *_joined(views),
        *_cut_off(views),
        *_loose(views),
        *_flat(parts),
        *_fine(views, parts),
        *_gaps(views),
        *_near(camera, views),
    )


def _depth(views: Sequence[View], parts: Sequence[PhotoPart]) -> tuple[Finding, ...]:
    told = []
    far = [part for part in parts if part.longest > _LONGER * part.length]
    if far and len(views) == 1:
        worst = max(far, key=lambda part: part.longest / part.length)
        text = (
            f"One photograph does not show what comes towards the camera: {len(far)} of "
            f"{len(parts)} parts may be longer than they look. {worst.name} reads "
            f"{1e3 * worst.length:.1f} mm; 19 of 20 such parts are shorter than "
            f"{1e3 * worst.longest:.1f} mm. Say that it is flat if it is, or turn it a quarter "
            "turn about its stem and take a second photograph."
        )
        ratio = worst.longest / worst.length
        told.append(_told("depth-unseen", "WATCH", text, ratio, _LONGER, "times the length read"))
    elif far:
        text = (
            f"{_listed([part.name for part in far])} could be found in one photograph only, so "
            "how far towards the camera is not known. Measure the length with a caliper."
        )
        told.append(_told("depth-unseen", "WATCH", text, float(len(far)), 0.0, "parts"))
    if len(views) > 1:
        seen = [len(view.sticks) for view in views]
        read = {(part.view, part.stick): part.seen_twice for part in parts}
        twice = sum(read.values())
        if max(*seen, len(read)) > twice:
            text = (
                f"The photographs show {seen[0]} and {seen[1]} stalks with what they bear; {twice} "
                f"are the same in both and {len(read) - twice} were found in one only. Those are "
                "the ones to look at: a stalk may be there twice, or hide in both. Count them. "
                f"Of 100 parts of bushy test twigs {_OF_100[len(views)]}."
            )
            if len(views) == 2:
                text += " A third photograph, half way between the two, finds more of them."
            told.append(
                _told("seen-twice", "WATCH", text, float(twice), float(max(seen)), "stalks")
            )
    return tuple(told)


def _crossings(views: Sequence[View]) -> tuple[Finding, ...]:
    count = sum(len(view.crossings) for view in views)
    if not count:
        return ()
    text = (
        f"Parts cross in the picture at {count} place{'s' if count > 1 else ''}. They are read as "
        "passing each other; if they touch, the metal can run across: join them with tip_on."
    )
    return (_told("picture-crossings", "WATCH", text, float(count), 0.0, "crossings"),)


def _joined(views: Sequence[View]) -> tuple[Finding, ...]:
    count = sum(stick.joined >= 0 for view in views for stick in view.sticks)
    if not count:
        return ()
    text = (
        f"The tip of {count} part{'s' if count > 1 else ''} ends on another in the picture. It may "
        "touch it or lie before it; look, and join it with tip_on if it touches."
    )
    return (_told("tips-joined", "WATCH", text, float(count), 0.0, "tips"),)


def _cut_off(views: Sequence[View]) -> tuple[Finding, ...]:
    masks = [view.silhouette.inside for view in views]
    count = sum(bool(m[0].any() or m[-1].any() or m[:, 0].any() or m[:, -1].any()) for m in masks)
    if not count:
        return ()
    text = (
        "The original runs out of the picture; what lies outside is not read, and a part that is "
        "cut by the edge reads too short."
    )
    return (_told("out-of-the-picture", "WATCH", text, float(count), 0.0, "photographs"),)


def _loose(views: Sequence[View]) -> tuple[Finding, ...]:
    count = max(view.silhouette.loose for view in views)
    if count < 1:
        return ()
    text = (
        f"{count} dark piece{'s' if count > 1 else ''} beside the original "
        f"{'was' if count == 1 else 'were'} left out: crumbs, shadows, or parts whose stalk is "
        "too thin for the picture."
    )
    return (_told("crumbs", "WATCH", text, float(count), 0.0, "pieces"),)


def _flat(parts: Sequence[PhotoPart]) -> tuple[Finding, ...]:
    flat = [part for part in parts if part.shape == "blade"]
    if not flat:
        return ()
    text = (
        f"The thickness of {_listed([part.name for part in flat])} is not to be seen; "
        f"{1e3 * flat[0].thickness[0]:.2f} mm was taken. Measure several together and divide. "
        "A leaf that does not lie flat is read badly: look whether one has become several parts."
    )
    return (_told("blade-thickness", "WATCH", text, 1e3 * flat[0].thickness[0], 0.0, "mm"),)


def _fine(views: Sequence[View], parts: Sequence[PhotoPart]) -> tuple[Finding, ...]:
    size = views[0].scale.size
    told = []
    thin = min(parts, key=lambda part: min(part.width))
    pixels = min(thin.width) / size
    if pixels < _LEAST_PIXELS:
        text = (
            f"{thin.name} is {pixels:.0f} pixels wide; it should be {_LEAST_PIXELS:.0f}. Thinner "
            "parts read too wide or are lost. Go nearer with a longer lens, or send the full size."
        )
        told.append(_told("few-pixels", "WATCH", text, pixels, _LEAST_PIXELS, "pixels"))
    rough = max(view.scale.error for view in views)
    if rough > _ROUGH_SCALE:
        text = (
            f"The scale is read to {100 * rough:.1f} %; all sizes share that error. Give two "
            "points that are farther apart, or a longer mark."
        )
        told.append(_told("rough-scale", "WATCH", text, 100 * rough, 100 * _ROUGH_SCALE, "%"))
    return tuple(told)


def _gaps(views: Sequence[View]) -> tuple[Finding, ...]:
    """Tell of ground that the original shuts in, narrower than slurry likes."""
    narrow = 0
    for view in views:
        inside = view.silhouette.inside
        holes, count = ndimage.label(~inside)
        if count < 2:
            continue
        away = ndimage.distance_transform_edt(~inside)
        widest = ndimage.maximum(away, holes, np.arange(1, count + 1))
        narrow += int((2.0 * np.asarray(widest) * view.scale.size < _LEAST_GAP).sum())
    if not narrow:
        return ()
    text = (
        f"{narrow} gap{'s' if narrow > 1 else ''} between parts "
        f"{'are' if narrow > 1 else 'is'} under 1 mm wide in the picture; slurry may not enter "
        "there, and the parts come out as one."
    )
    return (
        _told("picture-gaps", "WATCH", text, float(narrow), 0.0, "gaps", kind="common practice"),
    )


def _near(camera: si.Metre | None, views: Sequence[View]) -> tuple[Finding, ...]:
    if camera is not None and len(views) > 1:
        return ()
    text = (
        "A pixel has its size in the plane of the mark only: what stands 20 mm nearer to a camera "
        "1 m away reads 2 % too large. Stand the mark beside the stem, and go 1 m away or more."
    )
    return (_told("near-camera", "WATCH", text, 2.0, 0.0, "%", kind="computed"),)


def _listed(names: Sequence[str]) -> str:
    few = list(names[:4])
    if len(names) > 4:
        few.append(f"{len(names) - 4} more")
    return few[0] if len(few) == 1 else f"{', '.join(few[:-1])} and {few[-1]}"


def _told(
    key: str,
    level: Level,
    text: str,
    value: si.Ratio,
    limit: si.Ratio,
    unit: str,
    *,
    kind: Kind = "estimate",
) -> Finding:
    source = {
        "estimate": "our own choice",
        "common practice": "common practice, no source",
        "computed": "pinhole camera, D / (D - y)",
    }[kind]
    return Finding(
        stage="photo",
        key=key,
        level=level,
        part=None,
        text=text,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        kind=kind,
    )
